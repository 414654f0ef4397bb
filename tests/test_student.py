"""Student's t against SciPy, against the forms that need no iteration, and against printed tables."""

import math

import pytest
from scipy import special, stats
from tankfoot.usual.student import half_step, student_chance, student_quantile

FREEDOMS = (1.0, 1.2, 1.999, 2.0, 2.5, 3.0, 3.7, 5.0, 8.0, 11.3, 17.0, 29.6, 60.0, 88.8, 120.0, 199.5, 200.0)
CHANCES = (0.05, 0.1, 0.2, 0.31, 0.45, 0.55, 0.66, 0.8, 0.9, 0.95, 0.975, 0.99, 0.995)


@pytest.mark.parametrize("freedom", FREEDOMS)
def test_the_quantile_is_scipys(freedom):
    for chance in CHANCES:
        # Source: scipy.stats.t.ppf
        assert student_quantile(chance, freedom) == pytest.approx(stats.t.ppf(chance, freedom), rel=1e-9)


@pytest.mark.parametrize("freedom", FREEDOMS)
def test_the_chance_is_scipys_far_out_as_well(freedom):
    for t in (-70.0, -8.0, -2.0, -0.3, -1e-6, 0.0, 0.02, 1.0, 2.6, 12.0, 70.0):
        # Source: scipy.stats.t.cdf
        assert student_chance(t, freedom) == pytest.approx(stats.t.cdf(t, freedom), rel=1e-9)


@pytest.mark.parametrize("chance", CHANCES)
def test_the_quantile_has_a_closed_form_with_one_two_and_four_degrees_of_freedom(chance):
    # Source: Shaw (2006), Journal of Computational Finance 9(4):37, from memory; each is the inverse of the density's
    # integral, which a reader can differentiate.
    alpha = 4.0 * chance * (1.0 - chance)
    four = 2.0 * math.sqrt(math.cos(math.acos(math.sqrt(alpha)) / 3.0) / math.sqrt(alpha) - 1.0)
    assert student_quantile(chance, 1.0) == pytest.approx(math.tan(math.pi * (chance - 0.5)), rel=1e-12)
    assert student_quantile(chance, 2.0) == pytest.approx((2.0 * chance - 1.0) * math.sqrt(2.0 / alpha), rel=1e-12)
    assert student_quantile(chance, 4.0) == pytest.approx(math.copysign(four, chance - 0.5), rel=1e-12)


@pytest.mark.parametrize(("chance", "freedom", "printed"), [
    (0.90, 1, 3.078), (0.90, 2, 1.886), (0.90, 9, 1.383), (0.975, 5, 2.571), (0.95, 30, 1.697), (0.995, 100, 2.626),
])
def test_the_quantile_is_that_of_the_printed_table(chance, freedom, printed):
    # Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, from memory.
    assert student_quantile(chance, freedom) == pytest.approx(printed, abs=0.0005)


def test_half_a_step_of_the_gamma_function():
    for x in (0.5, 0.77, 1.0, 3.25, 24.0, 24.999, 25.0, 60.5, 100.0):
        # Source: math.gamma of the C library
        assert half_step(x) == pytest.approx(math.gamma(x + 0.5) / math.gamma(x), rel=2e-14)
    # Source: scipy.special.poch, the rising factorial, which is this ratio
    assert half_step(5000.0) == pytest.approx(special.poch(5000.0, 0.5), rel=1e-10)


def test_the_middle_is_exact_and_the_sides_are_alike():
    assert student_quantile(0.5, 3.3) == 0.0
    assert student_quantile(0.25, 3.3) == -student_quantile(0.75, 3.3)
    assert student_chance(-1.25, 6.0) == pytest.approx(1.0 - student_chance(1.25, 6.0), rel=1e-14)


@pytest.mark.parametrize(("chance", "freedom"), [(0.0, 5.0), (1.0, 5.0), (-0.1, 5.0), (0.9, 0.5), (0.9, math.nan)])
def test_what_has_no_answer_is_refused(chance, freedom):
    with pytest.raises(ValueError, match="degrees of freedom"):
        student_quantile(chance, freedom)
