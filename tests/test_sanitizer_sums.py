"""Alcohol and peracetic acid to strength, and how much of it the port takes."""

import math

import pytest
from sums import reckoned, refusals, results
from tankfoot.physics.alcohol import WATER_DENSITY, isopropyl_density

FLUID_OUNCE = 29.5735295625e-6  # m3
GALLON = 3.785411784e-3  # m3


def seventy(stock="99 %", target="70 %", batch="1 L"):
    return results("alcohol-dilution", stock_strength=stock, target_strength=target, batch_volume=batch)


# Source: World Health Organization, Guide to Local Production: handrub formulation 2: 7,515 mL of 99.8 %
# isopropyl alcohol made up to 10 L is 75 % by volume.
def test_the_handrub_of_the_world_health_organization_takes_its_7515_millilitres():
    found = seventy(stock="99.8 %", target="75 %", batch="10 L")
    assert found["stock_volume"] * 1e6 == pytest.approx(7515.0, abs=0.5)


# Source: United States Pharmacopeia, isopropyl rubbing alcohol, 68 to 72 % by volume: specific gravity at
# 25/25 °C 0.868 to 0.883 (from memory). At 20 °C the mixture is denser by about 0.004, which the range has
# room for.
def test_seventy_per_cent_weighs_what_the_pharmacopeia_wants():
    assert 0.868 < seventy()["density_check"] / WATER_DENSITY < 0.883


# Source: CDC, Guideline for Disinfection and Sterilization in Healthcare Facilities (2008): 60 to 90 % by
# volume.
@pytest.mark.parametrize(
    ("target", "inside"), [("59 %", False), ("60 %", True), ("70 %", True), ("90 %", True), ("91 %", False)]
)
def test_the_effective_range_is_sixty_to_ninety_per_cent(target, inside):
    outcome = reckoned("alcohol-dilution", stock_strength="99 %", target_strength=target, batch_volume="1 L")
    assert ("outside-effective-range" not in outcome.remarks) == inside


# Source: R. B. Lebo, Journal of the American Chemical Society 43 (1921) 1005: measured at 20/4 °C: % by
# mass, g/mL.
@pytest.mark.parametrize(
    ("mass_percent", "density"),
    [
        (0, 0.99800),
        (9.58, 0.98293),
        (21.39, 0.96847),
        (33.17, 0.94590),
        (43.02, 0.92418),
        (53.07, 0.89868),
        (65.22, 0.87003),
        (74.35, 0.84828),
        (85.09, 0.82282),
        (90.35, 0.80866),
        (100, 0.78556),
    ],
)
def test_the_mixture_has_the_density_that_was_measured(mass_percent, density):
    assert isopropyl_density(mass_percent / 100.0) / 1000.0 == pytest.approx(density, rel=0.0015)


# Source: the densities measured by Lebo (1921), joined by SciPy's PCHIP and balanced by mass apart from
# this project: 1,000 mL of stock, made up to 70 %, take this much water in mL.
@pytest.mark.parametrize(("stock", "batch", "water"), [("99 %", 1414.29, 450.787), ("91 %", 1300.0, 323.020)])
def test_the_water_is_more_than_the_difference_of_the_volumes(stock, batch, water):
    found = seventy(stock=stock, batch=f"{batch} mL")
    assert found["stock_volume"] * 1e6 == pytest.approx(1000.0, abs=0.01)
    assert found["water_volume"] * 1e6 == pytest.approx(water, rel=0.003)
    assert found["water_volume"] * 1e6 > batch - 1000.0 + 20.0


# Source: conservation of mass: the parts weigh what the batch weighs.
@pytest.mark.parametrize(("stock", "target"), [("99 %", "70 %"), ("91 %", "70 %"), ("70 %", "60 %")])
def test_alcohol_and_water_weigh_what_the_batch_weighs(stock, target):
    found = seventy(stock=stock, target=target, batch="2 L")
    assert found["stock_mass"] + found["water_mass"] == pytest.approx(
        found["density_check"] * 0.002, rel=1e-12
    )


def test_water_does_not_make_alcohol_stronger():
    weak = {"stock_strength": "70 %", "target_strength": "75 %", "batch_volume": "1 L"}
    assert refusals("alcohol-dilution", **weak) == [("target_strength", "stronger-than-stock")]


# Source: V = C V0 / (w rho), worked apart from this project for 20 L: % by weight, g/mL, mg/L, mL of
# concentrate.
@pytest.mark.parametrize(
    ("percent", "density", "target", "millilitres"),
    [
        (5, 1.11, 80, 28.8288),
        (5, 1.11, 150, 54.0541),
        (5, 1.11, 200, 72.0721),
        (5, 1.13, 150, 53.0973),
        (15, 1.15, 80, 9.27536),
        (15, 1.15, 200, 23.1884),
        (15, 1.12, 150, 17.8571),
    ],
)
def test_twenty_litres_of_peracetic_take_the_hand_worked_millilitres(percent, density, target, millilitres):
    found = results(
        "peracetic-dilution",
        concentrate=f"{percent} %",
        density=f"{density} g/mL",
        target=f"{target} mg/L",
        batch_volume="20 L",
    )
    assert found["concentrate_volume"] * 1e6 == pytest.approx(millilitres, rel=1e-5)
    assert found["concentrate_mass"] == pytest.approx(millilitres * density / 1000.0, rel=1e-5)


# Source: the sheet of a 5.6 % product: 1 to 2.4 US fluid ounces in 6 US gallons give 82 to 197 mg/L. Its
# density is not on the sheet; products of 5 to 6 % have 1.10 to 1.13 g/mL.
@pytest.mark.parametrize(("ounces", "strength"), [(1.0, 82.0), (2.4, 197.0)])
def test_a_product_sheet_measures_the_same_ounces(ounces, strength):
    found = results(
        "peracetic-dilution",
        concentrate="5.6 %",
        density="1.12 g/mL",
        target=f"{strength} mg/L",
        batch_volume="6 gal",
    )
    assert found["concentrate_volume"] / FLUID_OUNCE == pytest.approx(ounces, rel=0.01)


# Source: definition of parts: 1 g of acid in 1,000 L is 1 mg/L; pure water of 1 g/mL with 10 % acid holds
# 100 g a litre.
def test_ten_millilitres_of_ten_per_cent_make_ten_litres_of_a_hundred():
    found = results(
        "peracetic-dilution",
        concentrate="10 %",
        density="1 g/mL",
        target="100 mg/L",
        batch_volume="10 L",
    )
    assert found["concentrate_volume"] * 1e6 == pytest.approx(10.0, rel=1e-12)


# Source: 5 % by weight of 1.11 g/mL are 55.5 g/L: no dilution is stronger.
def test_a_dilution_is_not_stronger_than_the_concentrate():
    weak = {"concentrate": "0.5 %", "density": "1 g/mL", "batch_volume": "1 L"}
    assert refusals("peracetic-dilution", target="5 g/L", **weak) == [("target", "stronger-than-concentrate")]
    assert refusals("peracetic-dilution", target="4.9 g/L", **weak) == []


# Source: product labels: about 80 to 200 mg/L without a rinse (from memory).
@pytest.mark.parametrize(
    ("target", "said"), [("50 mg/L", ["weak"]), ("150 mg/L", []), ("300 mg/L", ["strong"])]
)
def test_a_strength_off_the_usual_labels_is_told(target, said):
    given = {"concentrate": "5 %", "batch_volume": "5 gal", "target": target}
    assert reckoned("peracetic-dilution", **given).remarks == said


# Source: solid geometry by hand: a 2 inch bore 12 inches long holds 37.70 cubic inches, and a US gallon is
# 231 of them.
def test_a_port_filled_once_holds_its_cubic_inches():
    found = results("contact-volume", bore="2 in", length="12 in", rounds="1")
    assert found["flush_volume"] / GALLON == pytest.approx(math.pi * 12.0 / 231.0, rel=1e-12)


# Source: solid geometry by hand: a wall of pi x 50 mm x 100 mm is 15,708 mm2; 0.1 mm on it is 1.571 mL, of
# a spray that lands by half 3.142 mL, and twice that for two rounds.
def test_a_wall_is_wetted_with_its_area_times_the_film():
    found = results(
        "contact-volume",
        bore="50 mm",
        length="100 mm",
        rounds="2",
        film="0.1 mm",
        landing_share="50 %",
    )
    assert found["spray_volume"] * 1e6 == pytest.approx(6.283185, rel=1e-6)
