"""Student's t: the chance of less, and what is not passed with a chance."""

import math

SHIFTED = 25.0  # from here on the first terms of the series below leave less than 1e-14
TERMS = (1.0, -1 / 8, 1 / 128, 5 / 1024, -21 / 32768, -399 / 262144, 869 / 4194304, 39325 / 33554432)
FRACTION_CLOSE = 3e-16
MOST_FRACTIONS = 500
MOST_STEPS = 60
STEP_CLOSE = 1e-15


def half_step(x):
    """Gamma(x + 1/2) / Gamma(x), for x > 0.

    At x it is that at x + 1 times x / (x + 1/2); for a large x it is sqrt(x) (1 - 1 / (8 x) + 1 / (128 x^2) + ...).

    Source: NIST Digital Library of Mathematical Functions, 5.5.1 and 5.11.13.

    >>> round(half_step(0.5) * math.sqrt(math.pi), 14)  # Gamma(1) / Gamma(1/2)
    1.0
    """
    ratio = 1.0
    while x < SHIFTED:
        ratio *= x / (x + 0.5)
        x += 1.0
    series = 0.0
    for term in reversed(TERMS):
        series = series / x + term
    return ratio * math.sqrt(x) * series


def student_chance(t, freedom):
    """The chance that Student's t with ``freedom`` degrees of freedom (>= 1, whole or not) is less than ``t``.

    With s = freedom / (freedom + t^2), the chance of more than t > 0 is half the regularized incomplete beta function
    of s with freedom / 2 and 1/2, reckoned by its continued fraction where that is quick, else by its mirror image.

    Source: NIST Digital Library of Mathematical Functions, 8.17.4 and 8.17.22; the fraction by the modified Lentz
    method (Thompson and Barnett 1986).

    >>> round(student_chance(1.0, 1.0), 14), student_chance(0.0, 7.0)  # 1/2 + arctan(1) / pi; the middle
    (0.75, 0.5)
    """
    between, beyond = _parted(abs(t), freedom)
    return 0.5 + between if t >= 0.0 else beyond


def _parted(t, freedom):
    """The chance between 0 and t >= 0, and of more than t, each right in its last digits however small it is."""
    share, left = t * t / (freedom + t * t), freedom / (freedom + t * t)
    a, b = 0.5, 0.5 * freedom
    front = 0.5 * half_step(b) * math.sqrt(share / math.pi) * math.pow(left, b)
    if share < (a + 1.0) / (a + b + 2.0):
        between = front * _fraction(share, a, b) / a
        return between, 0.5 - between
    beyond = front * _fraction(left, b, a) / b
    return 0.5 - beyond, beyond


def _fraction(x, a, b):
    d = 1.0 / (1.0 - (a + b) * x / (a + 1.0))
    c, found = 1.0, d
    for m in range(1, MOST_FRACTIONS):
        even = m * (b - m) * x / ((a + 2 * m - 1.0) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1.0))
        before = found
        for term in (even, odd):
            d, c = 1.0 / (1.0 + term * d), 1.0 + term / c
            found *= c * d
        if abs(found - before) < FRACTION_CLOSE * found:
            break
    return found


def student_quantile(chance, freedom):
    """What Student's t with ``freedom`` degrees of freedom (>= 1) is less than with a ``chance``, 0 < chance < 1.

    By Newton's steps in the angle of which t = sqrt(freedom) tan(angle): there the density is a power of the cosine
    that falls away from the middle, so that steps from the middle never pass the root.

    >>> round(student_quantile(0.975, 10.0), 3), round(student_quantile(0.1, 4.0), 3)  # the printed tables
    (2.228, -1.533)
    """
    if not 0.0 < chance < 1.0 or not freedom >= 1.0:
        raise ValueError(f"{chance} with {freedom} degrees of freedom: give a chance between 0 and 1, and at least 1")
    height = half_step(0.5 * freedom) / math.sqrt(math.pi)
    root, angle = math.sqrt(freedom), 0.0
    for _ in range(MOST_STEPS):
        missing = abs(chance - 0.5) - _parted(root * math.tan(angle), freedom)[0]
        step = missing / (height * math.pow(math.cos(angle), freedom - 1.0))
        angle += step
        if abs(step) <= STEP_CLOSE * angle:
            break
    return math.copysign(root * math.tan(angle), chance - 0.5)


RANGES = {
    "half_step": [(0.5, 300.0, 24.5, 25.0)],
    "student_chance": [(-70.0, 70.0, 0.0, 0.05, 1.0), (1.0, 300.0, 2.0)],
    "student_quantile": [(0.05, 0.995, 0.0, 0.5, 0.9, 1.0, 1.05), (1.0, 300.0, 0.9, 1.05)],
}
