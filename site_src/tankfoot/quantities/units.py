"""The units on offer: their symbols, what else people call them, and pint's factor for each."""

from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from pathlib import Path

from tankfoot.quantities.kept import kept

SYSTEMS = {"us": "US", "metric": "Metric", "uk": "UK"}
MONEY_SIGN = "$"  # stands for the site's own currency; the screen puts that in its place


@dataclass(frozen=True)
class Unit:
    """One unit: SI value = value x ``factor`` + ``offset``. ``pint`` is its name for pint."""

    symbol: str
    pint: str
    dimension: str
    factor: float
    offset: float
    aliases: tuple[str, ...]


# What pint has no name for, in its own grammar: a volume of CO2 is a litre of the gas at 0 °C and 101.325 kPa
# (44.0095 g/mol, 22.263 L/mol as a real gas) in a litre of beer.
DEFINITIONS = ("carbonation_volume = 44.0095 / 22.263 * gram / liter",)
IN_STOCK_PINT = {"vol": "g/L"}  # for programs that read an answer with pint's own units

# symbol: pint's name, other spellings. Money has no unit of its own in pint and borrows "dimensionless".
TABLE = {
    "bbl": ("beer_barrel", "usbbl", "barrel", "barrels", "beerbarrel"),
    "gal": ("gallon", "usgal", "gallons"),
    "fl oz": ("fluid_ounce", "usfloz", "floz"),
    "imp bbl": ("imperial_barrel", "ukbbl", "imperialbarrel"),
    "imp gal": ("imperial_gallon", "ukgal", "imperialgallon"),
    "imp fl oz": ("imperial_fluid_ounce", "ukfloz"),
    "hL": ("hectoliter", "hectolitre"),
    "L": ("liter", "litre", "liters", "litres"),
    "mL": ("milliliter", "millilitre"),
    "m³": ("meter ** 3", "m3", "m^3"),
    "µL": ("microliter", "ul", "μl"),
    "nL": ("nanoliter",),
    "ft³": ("foot ** 3", "ft3", "ft^3", "cuft"),
    "psi": ("psi", "psig", "lb/in2", "lbf/in2"),
    "bar": ("bar", "barg"),
    "mbar": ("millibar", "hpa"),
    "kPa": ("kilopascal",),
    "°C": ("degC", "c", "celsius"),
    "°F": ("degF", "f", "fahrenheit"),
    "s": ("second", "sec", "seconds"),
    "min": ("minute", "minutes"),
    "h": ("hour", "hours", "hr"),
    "day": ("day", "days", "d"),
    "L/min": ("liter / minute", "lpm"),
    "L/s": ("liter / second",),
    "hL/h": ("hectoliter / hour",),
    "gal/min": ("gallon / minute", "gpm"),
    "bbl/min": ("beer_barrel / minute",),
    "imp gal/min": ("imperial_gallon / minute",),
    "kg": ("kilogram",),
    "g": ("gram",),
    "lb": ("pound", "lbs", "pounds"),
    "oz": ("ounce",),
    "kg/h": ("kilogram / hour", "kg/hr"),
    "kg/min": ("kilogram / minute",),
    "g/min": ("gram / minute",),
    "lb/h": ("pound / hour", "lb/hr"),
    "lb/min": ("pound / minute",),
    "g/s": ("gram / second",),
    "g/day": ("gram / day", "g/d"),
    "oz/day": ("ounce / day", "oz/d"),
    "m": ("meter", "metre"),
    "cm": ("centimeter", "centimetre"),
    "mm": ("millimeter", "millimetre"),
    "ft": ("foot", "feet"),
    "in": ("inch", "inches", '"'),
    "m/s": ("meter / second",),
    "ft/s": ("foot / second",),
    "kg/m³": ("kilogram / meter ** 3", "kg/m3"),
    "g/mL": ("gram / milliliter", "kg/l", "g/cm3"),
    "g/L": ("gram / liter",),
    "mg/L": ("milligram / liter",),
    "µg/L": ("microgram / liter", "μg/l", "ug/l", "ppb"),
    "vol": ("carbonation_volume", "vols", "volume", "volumes"),
    "changes/h": ("1 / hour", "/h", "ach", "change/h", "perhour"),
    "N": ("newton",),
    "lbf": ("force_pound",),
    "kgf": ("kilogram_force",),
    "%": ("percent", "%v/v"),
    "ppm": ("ppm",),
    "mPa·s": ("millipascal * second", "mpas", "cp", "centipoise"),
    "°": ("degree", "deg", "degrees"),
    "°P": ("dimensionless", "plato"),
    "SG": ("dimensionless",),
    "°P/day": ("1 / day", "plato/day", "°p/d", "plato/d"),
    "points/day": ("permille / day", "point/day", "points/d", "pts/day"),
    "billion/mL": ("1 / picoliter", "bn/ml"),
    "million/mL": ("1 / nanoliter", "mio/ml"),
    "billion/g": ("1 / nanogram", "bn/g"),
    "million/mL/°P": ("nanoliter ** -1", "million/ml/plato"),
    "times": ("dimensionless", "x", "times/year"),
    "$": ("dimensionless",),
    "$/bbl": ("1 / beer_barrel", "/bbl", "perbbl"),
    "$/gal": ("1 / gallon", "/gal"),
    "$/hL": ("1 / hectoliter", "/hl", "perhl"),
    "$/L": ("1 / liter", "/l", "perl"),
    "$/imp bbl": ("1 / imperial_barrel", "/impbbl", "perimpbbl"),
    "$/kg": ("1 / kilogram", "/kg", "perkg"),
    "$/lb": ("1 / pound", "/lb", "perlb"),
    "$/t": ("1 / metric_ton", "/t", "pert"),
    "$/ton": ("1 / short_ton", "/ton", "perton"),
    "$/h": ("hour ** -1",),
}

# Units that pint takes for others of the same dimension, and that must not stand in for each other here.
OWN_DIMENSIONS = {
    "%": "share", "ppm": "share", "°": "angle", "°P": "extract", "SG": "gravity", "million/mL/°P": "pitch",
    "°P/day": "fall of extract", "points/day": "fall of gravity",
}

# What a kind of quantity is offered in, in each system of units; the first is where a bare number falls.
KINDS = {
    "tank_volume": {"us": ("bbl", "gal", "L"), "metric": ("hL", "L"), "uk": ("imp bbl", "hL", "imp gal", "L")},
    "bucket_volume": {"us": ("gal", "fl oz", "L", "mL"), "metric": ("L", "mL"), "uk": ("L", "mL", "imp gal")},
    "gas_volume": {"us": ("gal", "L", "m³"), "metric": ("L", "m³"), "uk": ("L", "m³")},
    "gauge_pressure": {"us": ("psi", "bar", "kPa"), "metric": ("bar", "kPa", "psi"), "uk": ("bar", "psi", "kPa")},
    "absolute_pressure": {
        "us": ("psi", "kPa", "mbar"), "metric": ("kPa", "mbar", "psi"), "uk": ("mbar", "kPa", "psi"),
    },
    "temperature": {"us": ("°F", "°C"), "metric": ("°C", "°F"), "uk": ("°C", "°F")},
    "duration": {"us": ("s", "min"), "metric": ("s", "min"), "uk": ("s", "min")},
    "beer_flow": {
        "us": ("gal/min", "bbl/min", "L/min"),
        "metric": ("L/min", "hL/h", "L/s"),
        "uk": ("L/min", "imp gal/min", "L/s"),
    },
    "gas_mass": {"us": ("lb", "oz", "kg"), "metric": ("kg", "g"), "uk": ("kg", "g", "lb")},
    "liquid_mass": {"us": ("lb", "oz", "g"), "metric": ("kg", "g"), "uk": ("kg", "g")},
    "altitude": {"us": ("ft", "m"), "metric": ("m", "ft"), "uk": ("m", "ft")},
    "head": {"us": ("ft", "in", "m"), "metric": ("m", "cm"), "uk": ("m", "cm", "ft")},
    "bore": {"us": ("in", "mm"), "metric": ("mm", "in"), "uk": ("mm", "in")},
    "room_volume": {"us": ("ft³", "m³"), "metric": ("m³",), "uk": ("m³", "ft³")},
    "clock_time": dict.fromkeys(SYSTEMS, ("h", "min", "day")),
    "stay": dict.fromkeys(SYSTEMS, ("min", "h")),
    "air_changes": dict.fromkeys(SYSTEMS, ("changes/h",)),
    "gas_flow": {
        "us": ("lb/h", "lb/min", "kg/h"),
        "metric": ("kg/h", "kg/min", "g/min"),
        "uk": ("kg/h", "kg/min", "g/min"),
    },
    "leak": {"us": ("oz/day", "g/day"), "metric": ("g/day",), "uk": ("g/day", "oz/day")},
    "carbonation": {"us": ("vol", "g/L"), "metric": ("g/L", "vol"), "uk": ("vol", "g/L")},
    "carbonation_volumes": dict.fromkeys(SYSTEMS, ("vol",)),
    "carbonation_mass": dict.fromkeys(SYSTEMS, ("g/L",)),
    "trace_mass": dict.fromkeys(SYSTEMS, ("µg/L",)),
    "trace_share": dict.fromkeys(SYSTEMS, ("ppm", "%")),
    "ratio": dict.fromkeys(SYSTEMS, ("times",)),
    "speed": {"us": ("ft/s", "m/s"), "metric": ("m/s",), "uk": ("m/s",)},
    "density": {"us": ("g/mL", "kg/m³"), "metric": ("g/mL", "kg/m³"), "uk": ("g/mL", "kg/m³")},
    "force": {"us": ("lbf", "N"), "metric": ("kgf", "N"), "uk": ("kgf", "N")},
    "strength": {"us": ("%",), "metric": ("%",), "uk": ("%",)},
    "share": {"us": ("%",), "metric": ("%",), "uk": ("%",)},
    "count": {"us": ("times",), "metric": ("times",), "uk": ("times",)},
    "money": {"us": ("$",), "metric": ("$",), "uk": ("$",)},
    "length": {"us": ("in", "ft"), "metric": ("cm", "mm", "m"), "uk": ("cm", "mm", "m")},
    "hose_length": {"us": ("ft", "m"), "metric": ("m",), "uk": ("m", "ft")},
    "film": {"us": ("mm",), "metric": ("mm",), "uk": ("mm",)},
    "angle": {"us": ("°",), "metric": ("°",), "uk": ("°",)},
    "viscosity": {"us": ("mPa·s",), "metric": ("mPa·s",), "uk": ("mPa·s",)},
    "dose_volume": {"us": ("fl oz", "mL"), "metric": ("mL", "L"), "uk": ("mL", "L")},
    "chamber_volume": {"us": ("nL", "µL"), "metric": ("nL", "µL"), "uk": ("nL", "µL")},
    "concentration": {"us": ("mg/L", "g/L"), "metric": ("mg/L", "g/L"), "uk": ("mg/L", "g/L")},
    "load_content": {"us": ("g/L", "mg/L"), "metric": ("g/L", "mg/L"), "uk": ("g/L", "mg/L")},
    "solids_mass": {"us": ("lb", "kg"), "metric": ("kg", "g"), "uk": ("kg", "lb")},
    "gas_mass_flow": {"us": ("lb/min", "kg/min"), "metric": ("kg/min", "g/s"), "uk": ("kg/min", "lb/min")},
    "extract": {"us": ("°P",), "metric": ("°P",), "uk": ("°P",)},
    "gravity": {"us": ("SG",), "metric": ("SG",), "uk": ("SG",)},
    "extract_fall": dict.fromkeys(SYSTEMS, ("°P/day",)),
    "gravity_fall": dict.fromkeys(SYSTEMS, ("points/day",)),
    "cell_density": dict.fromkeys(SYSTEMS, ("billion/mL", "million/mL")),
    "cells_by_mass": {"us": ("billion/g",), "metric": ("billion/g",), "uk": ("billion/g",)},
    "pitch_rate": {"us": ("million/mL/°P",), "metric": ("million/mL/°P",), "uk": ("million/mL/°P",)},
    "load_charge": {"us": ("$/lb", "$/kg"), "metric": ("$/kg",), "uk": ("$/kg", "$/lb")},
    "haulage_charge": {"us": ("$/ton", "$/t"), "metric": ("$/t",), "uk": ("$/t",)},
    "gas_price": {"us": ("$/lb", "$/kg"), "metric": ("$/kg",), "uk": ("$/kg", "$/lb")},
    "wage": dict.fromkeys(SYSTEMS, ("$/h",)),
    "beer_value": {"us": ("$/bbl", "$/gal"), "metric": ("$/hL", "$/L"), "uk": ("$/imp bbl", "$/hL", "$/L")},
}


def by_pint():
    """{symbol: (dimension, factor, offset)} from pint, worked out in fractions so that they are exact to a float."""
    from fractions import Fraction

    import pint  # here, since it takes longer than most commands and is asked once: see units

    registry = pint.UnitRegistry(non_int_type=Fraction)
    for definition in DEFINITIONS:
        registry.define(definition)

    def measured(symbol, name):
        def in_si(value):
            return registry.Quantity(Fraction(value), name).to_base_units().magnitude

        offset = in_si(0)
        powers = registry.Quantity(1, name).dimensionality
        dimension = " ".join(f"{base}{int(power):+d}" for base, power in sorted(powers.items()))
        if symbol.startswith(MONEY_SIGN):
            dimension = "money" + dimension
        return OWN_DIMENSIONS.get(symbol, dimension), float(in_si(1) - offset), float(offset)

    return {symbol: measured(symbol, name) for symbol, (name, *_) in TABLE.items()}


@cache
def units():
    """All units by symbol. What pint says of them is kept for as long as neither pint nor this module is another."""
    from importlib.metadata import version

    told = sha256(version("pint").encode() + Path(__file__).read_bytes()).hexdigest()
    measured = kept(f"units-{told[:16]}.json", by_pint)
    return {symbol: Unit(symbol, name, *measured[symbol], tuple(aliases))
            for symbol, (name, *aliases) in TABLE.items()}


def normalized(name):
    """A unit's name as it is looked up: ASCII letters small, no spaces, no degree sign.

    >>> normalized("Imp BBL"), normalized("°C")
    ('impbbl', 'c')
    """
    return "".join(c.lower() if c.isascii() else c for c in name if c not in " °º*").replace("³", "3")


@cache
def symbols_by_name():
    """Every accepted spelling, normalized, and the symbol it stands for.

    >>> symbols_by_name()["beer_barrel"]
    'bbl'
    """
    names = {}
    for unit in units().values():
        spellings = [unit.symbol, *unit.aliases]
        if unit.pint != "dimensionless":
            spellings.append(unit.pint)
        for name in spellings:
            if names.setdefault(normalized(name), unit.symbol) != unit.symbol:
                raise ValueError(f"the unit name {name!r} stands for two units")
    names["dimensionless"] = "times"
    return names


def stock_unit(symbol):
    """The unit of that ``symbol``, or of its stand-in where pint by itself does not know it.

    >>> stock_unit("vol").pint, stock_unit("psi").pint
    ('gram / liter', 'psi')
    """
    return units()[IN_STOCK_PINT.get(symbol, symbol)]


def offered(kind, system):
    """The units (symbols) a ``kind`` of quantity is offered in within a ``system``."""
    return KINDS[kind][system]


def dimension(kind):
    """The dimension all units of a ``kind`` share."""
    return units()[KINDS[kind]["us"][0]].dimension
