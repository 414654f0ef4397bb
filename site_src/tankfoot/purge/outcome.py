"""What a purge tells: the volume by every way it was measured, one best value, and what that volume was.

An amount is {"value": SI float, "uncertainty": SI float or None}.
"""

from dataclasses import dataclass, field
from functools import cache

from marshmallow import ValidationError

from tankfoot.calculators import calculators
from tankfoot.calculators.reckon import reckon
from tankfoot.physics.combine import agree, inverse_variance_mean
from tankfoot.purge.machine import sums
from tankfoot.purge.times import run_times
from tankfoot.quantities.format import TWELVE
from tankfoot.record.canonical import number

RESULTS = ("volume_lost", *calculators()["purge-split"].results, "top_up_mass")
PARTS = {"solids": True, "beer_in_solids": True, "overrun": False}  # whether it rests on the share of beer
LEAST = 1e-9  # of a volume: a smaller ± counts as this, or the other ways would weigh nothing


class UnreadReading(Exception):
    """A reading that is no quantity. ``name`` is the reading's, ``code`` a stable word shared with the browser."""

    def __init__(self, name, code):
        super().__init__(f"{name}: {code}")
        self.name, self.code = name, code


@dataclass(frozen=True)
class PurgeOutcome:
    """What a purge tells: the volume by each way, whether the ways ``agree`` (None of one), all results."""

    ways: dict[str, dict] = field(default_factory=dict)
    agree: bool | None = None
    result: dict[str, dict] = field(default_factory=dict)


def work_out(name, texts, system):
    """The Outcome of one sum of the purge table; its inputs are the purge's readings."""
    row = sums()["sums"][name]
    given = {into: texts[reading] for into, reading in row["inputs"].items() if texts.get(reading)}
    return reckon(calculators()[row["calculator"]], given, system)


def outcome_of(body, system):
    """What the ``body`` of a purge tells; its bare numbers are in the units of ``system``. Raises UnreadReading."""
    run, overrun = run_times(body)
    texts = dict(body["readings"])
    if run is not None:
        texts |= {"run_time": f"{run} s", "overrun_time": f"{overrun} s"}
    ways = _volumes(body, texts, system)
    if not ways:
        return PurgeOutcome()
    values = [way["value"] for way in ways.values()]
    uncertainties = [way["uncertainty"] for way in ways.values()]
    value, uncertainty = inverse_variance_mean(values, uncertainties)
    texts["volume_lost"] = f"{in_litres(value)} ± {in_litres(uncertainty)}"
    split = work_out("split", texts, system).results
    result = {"volume_lost": _amount(value, uncertainty), **_amounts(split)}
    result["top_up_mass"] = _top_up(texts, value, system)
    return PurgeOutcome(ways, agree(values, uncertainties) if len(ways) > 1 else None, _without_empty(result))


def parts_of(body):
    """What the volume of a purge's ``body`` was, in the order in which it left; [] where nothing tells it apart.

    Solids and the beer in them are ``assumed`` until somebody has let a sample settle and typed its share of beer.

    >>> overrun = {"value": 0.004, "uncertainty": 0.001}
    >>> parts_of({"readings": {}, "result": {"overrun": overrun, "volume_lost": {"value": 0.03, "uncertainty": 0.002}}})
    [{'part': 'overrun', 'value': 0.004, 'uncertainty': 0.001, 'assumed': False}]
    """
    is_assumed = not body["readings"].get("beer_share")
    told = body["result"]
    return [{"part": part, **told[part], "assumed": rests_on_share and is_assumed}
            for part, rests_on_share in PARTS.items() if part in told]


def _volumes(body, texts, system):
    """Every way that this purge was measured: {way: amount}. Pressure counts only when the gas was shut."""
    ways = {}
    if body["gas_shut"] and texts.get("pressure_after"):
        ways["by_pressure"] = _lost("by_pressure", texts, system)
    if texts.get("flow") and texts.get("run_time"):
        ways["by_time"] = _lost("by_time", texts, system)
    if texts.get("collected_mass"):
        ways["by_weight"] = _lost("by_weight", texts, system)
    if texts.get("collected_volume"):
        ways["by_bucket"] = _bucket(texts["collected_volume"], system)
    return _without_empty(ways)


def _lost(sum_, texts, system):
    found = work_out(sum_, texts, system).results.get("volume_lost")
    return _measured(found.value, found.uncertainty) if found and found.uncertainty else None


def _bucket(text, system):
    declared, reading = read("collected_volume", text, system)
    return _measured(reading.si, reading.uncertainty or declared.relative * reading.si)


def _measured(value, uncertainty):
    return _amount(value, max(uncertainty, LEAST * value))


def _top_up(texts, volume_lost, system):
    """The CO2 that brings the tank, its headspace grown by what left, back to the pressure wanted."""
    if not texts.get("headspace") or not texts.get("pressure_after"):
        return None
    _, headspace = read("headspace", texts["headspace"], system)
    grown = {**texts, "headspace_after": in_litres(headspace.si + volume_lost)}
    return _amounts(work_out("top_up_last", grown, system).results).get("co2_mass")


def read(name, text, system):
    """A reading's declared quantity, and its text read and held against the limits."""
    declared = _declared(name, system)
    try:
        return declared, declared.remembered(text, system) or declared.deserialize(text)
    except ValidationError as refused:
        raise UnreadReading(name, refused.messages[0].code) from refused


@cache
def _declared(name, system):
    calculator, like = sums()["readings"][name].split(".")
    return calculators()[calculator].forms[system].fields[like]


def _amounts(results):
    return {name: found and _amount(found.value, found.uncertainty) for name, found in results.items()}


def _amount(value, uncertainty):
    return {"value": value, "uncertainty": uncertainty}


def _without_empty(amounts):
    return {name: found for name, found in amounts.items() if found}


def in_litres(si):
    """As a text the sums can read; grammar and digits are those of both languages.

    >>> in_litres(0.0314)
    '31.4 L'
    """
    return f"{number(float(TWELVE.create_decimal(si * 1000.0)))} L"


RANGES = {
    "outcome_of": ["purge", "system"],
    "parts_of": ["told purge"],
    "in_litres": [(0.0, 100.0)],
}
