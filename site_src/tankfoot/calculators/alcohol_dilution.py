"""Isopropyl alcohol brought down to the strength that kills best."""

from tankfoot.physics.alcohol import WATER_DENSITY, isopropyl_density, isopropyl_mass_fraction
from tankfoot.quantities.field import Form, Quantity

RESULTS = {
    "stock_volume": "bucket_volume",
    "water_volume": "bucket_volume",
    "stock_mass": "liquid_mass",
    "water_mass": "liquid_mass",
    "density_check": "density",
}
CAUTIONS = {"flammable": "WARNING", "vapour": "CAUTION", "label": "NOTICE"}


class Inputs(Form):
    stock_strength = Quantity("strength", low="50 %", high="100 %", uncertainty="0.5 %", example="99 %")
    target_strength = Quantity("strength", low="1 %", high="100 %", default="70 %")
    batch_volume = Quantity(
        "bucket_volume", low="1 mL", high="1000 L", example={"us": "1 gal", "metric": "5 L", "uk": "5 L"},
    )


def refusals(x):
    if x.target_strength > x.stock_strength:
        yield "target_strength", "stronger-than-stock"


def compute(x):
    stock_volume = x.batch_volume * x.target_strength / x.stock_strength
    stock_mass = stock_volume * isopropyl_density(isopropyl_mass_fraction(x.stock_strength))
    density = isopropyl_density(isopropyl_mass_fraction(x.target_strength))
    water_mass = x.batch_volume * density - stock_mass
    return {
        "stock_volume": stock_volume,
        "water_volume": water_mass / WATER_DENSITY,
        "stock_mass": stock_mass,
        "water_mass": water_mass,
        "density_check": density,
    }


def remarks(x, y):
    if not 0.6 <= x.target_strength <= 0.9:
        yield "outside-effective-range"
