"""What a tank's gauge tells in time: its leak against its own past, when it is under its floor, what to top up.

The mass of CO2 in the headspace by its real-gas density, so that cooling is no leak. Its limits:

- The headspace is today's, as the tank's own numbers have it. Whatever changes it (a filling, a purge, dry hops)
  breaks the series: no interval lies across it.
- What the beer takes up or gives off is not in the rate. Where the beer's temperature changed, what it could give or
  take at most, were it to come to rest at the new one, is in the ±; so a tank that was chilled tells nothing until
  it stays cold. What beer takes up after a top-up, and what fermentation gives, is not counted at all.
- A temperature that nobody read is the last one known, some degrees off.
- No rate outside the limits of the sum leak-down; none over less than an hour, where a gauge's lines are too coarse.
"""

import math
from datetime import datetime, timedelta
from types import SimpleNamespace

from tankfoot.batches.rules import events as kinds
from tankfoot.calculators import calculators
from tankfoot.physics.gas import co2_density
from tankfoot.physics.headspace import pressure_at_density
from tankfoot.physics.solubility import co2_in_beer
from tankfoot.quantities.propagate import propagate, within_reach
from tankfoot.quantities.text import read_quantity
from tankfoot.quantities.units import offered
from tankfoot.tanks.due import end_of
from tankfoot.usual.median import median

SHORTEST = 3600.0  # s. Common practice, no source
FEWEST_BEFORE = 3  # intervals of its own past. Common practice, no source
FEW = 7  # of them. Common practice, no source
COVERAGE = 2.0  # times the ±, about 95 %: JCGM 100:2008 (GUM), 6.3.3
NORMAL_MAD = 1.4826  # from a median absolute deviation to a standard deviation, of normal scatter: 1 / 0.6745
UNREAD_TEMPERATURE = 3.0  # K. Common practice, no source
BEER_FACTOR = 0.955  # of what water holds, as in physics/solubility.py
TYPED = {"pressure": "gauge_pressure", "temperature": "temperature", "topped_up": "gauge_pressure"}


def points_of(readings, temperature, system):
    """Readings of a tank, entries, as numbers, in time: [{"id", "at", then of each of TYPED its SI value and ±}].

    A ± that nobody typed is None. ``temperature`` (K) is the tank's own, for where none was read before. A bare number
    is in the units of ``system``. Tombstones, and readings without any pressure, are left out.
    """
    there = [entry for entry in readings if not entry["deleted"]]
    points, last = [], temperature
    for entry in sorted(there, key=lambda entry: (entry["body"]["at"], entry["id"])):
        point = {"id": entry["id"], "at": entry["body"]["at"]}
        for name, kind in TYPED.items():
            point[name], point[f"{name}_doubt"] = _typed(entry["body"][name], kind, system)
        if point["temperature"] is None:
            point["temperature"], point["temperature_doubt"] = last, UNREAD_TEMPERATURE
        last = point["temperature"]
        if point["pressure"] is not None or point["topped_up"] is not None:
            points.append(point)
    return points


def _typed(text, kind, system):
    if text is None:
        return None, None
    reading = read_quantity(text, kind, offered(kind, system)[0])
    return reading.si, reading.uncertainty


def breaks_of(purges, events):
    """Instants across which a change of pressure is no leak: a purge, from begin to end; what went in or out."""
    found = [at for purge in purges if not purge["deleted"] for at in (purge["created"], end_of(purge))]
    for event in events:
        kind = kinds()[event["body"]["event"]]
        if not event["deleted"] and (kind["amount"] or kind["empties"]):
            found.append(event["body"]["at"])
    return sorted(found)


def intervals_of(points, breaks, vessel):
    """What was lost between each two ``points`` that nothing breaks: [{"since", "until", "rate", "uncertainty"}], kg/s.

    ``vessel``: {"headspace", "beer"} in m3, {"air_pressure"} in Pa, {"floor"} in Pa gauge or None. An interval begins
    at the pressure after a top-up where there was one.

    >>> def point(at, pressure):
    ...     return {"at": f"2026-03-{at}T08:00:00.000Z", "pressure": pressure, "pressure_doubt": None,
    ...             "topped_up": None, "topped_up_doubt": None, "temperature": 275.15, "temperature_doubt": None}
    >>> vessel = {"headspace": 1.0, "beer": 2.0, "air_pressure": 101325.0, "floor": None}
    >>> [found] = intervals_of([point("01", 80000.0), point("03", 70000.0)], [], vessel)
    >>> round(found["rate"] * 86400.0, 3)  # CoolProp: 10 kPa of a cubic metre are 0.1969 kg here, in two days
    0.098
    """
    found = [_interval(one, next_one, vessel) for one, next_one in zip(points, points[1:], strict=False)
             if not any(one["at"] < at <= next_one["at"] for at in breaks)]
    return [interval for interval in found if interval is not None]


def _interval(one, next_one, vessel):
    told = _told_between(one, next_one, vessel)
    if told is None:
        return None
    return {"since": one["at"], "until": next_one["at"], **told["rate"]}


def _told_between(one, next_one, vessel):
    """{"rate", "to_floor"}, each with its ±, of two readings one after the other; None where they tell nothing."""
    start = "pressure" if one["topped_up"] is None else "topped_up"
    elapsed = (datetime.fromisoformat(next_one["at"]) - datetime.fromisoformat(one["at"])) / timedelta(milliseconds=1)
    inputs = {
        "headspace": vessel["headspace"], "pressure_before": one[start], "pressure_after": next_one["pressure"],
        "temperature_before": one["temperature"], "temperature_after": next_one["temperature"],
        "elapsed": elapsed / 1000.0, "topped_up": next_one["topped_up"],
    }
    if not inputs["elapsed"] >= SHORTEST or not _within("leak-down", inputs):
        return None
    given = {
        "pressure_before": one[f"{start}_doubt"], "pressure_after": next_one["pressure_doubt"],
        "temperature_before": one["temperature_doubt"], "temperature_after": next_one["temperature_doubt"],
        "topped_up": next_one["topped_up_doubt"],
    }

    def compute(x):
        return _leak(x, vessel)

    values = within_reach(compute, inputs)
    if values is None:
        return None
    doubts = propagate(compute, inputs, _doubts("leak-down", inputs, given))
    beer = _beer_gives(one, next_one, vessel) / inputs["elapsed"]
    rate, left = values["rate"], values["to_floor"]
    spread = _both(doubts.get("rate", 0.0), beer)
    to_floor = None
    if left is not None and rate > spread:
        to_floor = {"value": left, "uncertainty": _both(doubts.get("to_floor", 0.0), left * beer / rate)}
    return {"rate": {"rate": rate, "uncertainty": spread}, "to_floor": to_floor}


def _leak(x, vessel):
    """The rate by the sum leak-down, kg/s, and how long until the floor, s: None where it is not gone down to."""
    air, floor = vessel["air_pressure"], vessel["floor"]
    leak = calculators()["leak-down"].module.compute
    rate = leak(SimpleNamespace(**x, air_pressure=air, floor_pressure=None))["leak_rate"]
    now = x["pressure_after"] if x["topped_up"] is None else x["topped_up"]
    if floor is None or now <= floor or rate <= 0.0:
        return {"rate": rate, "to_floor": None}
    above = co2_density(now + air, x["temperature_after"]) - co2_density(floor + air, x["temperature_after"])
    return {"rate": rate, "to_floor": x["headspace"] * above / rate}


def _beer_gives(one, next_one, vessel):
    """The CO2 that the beer could give or take at most by the change of its temperature, kg."""
    pressure = next_one["pressure"] + vessel["air_pressure"]
    before, after = (co2_in_beer(pressure, point["temperature"], BEER_FACTOR) for point in (one, next_one))
    return vessel["beer"] * abs(before - after)


def _within(sum_, inputs):
    """Whether each of the ``inputs`` is known, and within what a sum declares for it."""
    fields = calculators()[sum_].fields
    asked = [(fields[name], value) for name, value in inputs.items() if name in fields]
    return all(value is not None and field.low <= value <= field.high for field, value in asked)


def _doubts(sum_, inputs, given):
    """The ± of the ``inputs``: what was ``given``, else what the sum has as usual."""
    fields, found = calculators()[sum_].fields, {}
    like = {"topped_up": "pressure_after"}
    for name, value in inputs.items():
        if value is None:
            continue
        own = given.get(name)
        usual = fields[like.get(name, name)].usual_uncertainty(value)
        if own is not None or usual is not None:
            found[name] = usual if own is None else own
    return found


def _both(one, other):
    return math.sqrt(one * one + other * other)


def told_by(points, breaks, vessel):
    """What the latest of the ``points`` tells, with those before it; see intervals_of for the ``vessel``.

    ``rate``: kg/s, {"value", "uncertainty"}, None where the latest interval is broken or tells nothing. ``usual``: the
    middle of the intervals before it, kg/s, None of none, and ``count`` of them. ``faster``: whether it loses faster
    than its own past says; None where that is too short. ``to_floor``: s until it is under its floor at this rate,
    None where the rate is not larger than its ±.

    ``limit``: the rate above which it is faster, kg/s: twice the ± of both above the median of its past. The ± of the
    past is 1.4826 times its median absolute deviation, or the median ± of its intervals where that is larger: a few
    that agree by chance are no steady past. A past that gained counts as one that lost nothing. Of fewer than FEW
    intervals it is also the largest and the latest's own ± above that: the deviation of three passes over one of them.
    """
    intervals = intervals_of(points, breaks, vessel)
    is_latest = bool(intervals) and intervals[-1]["until"] == points[-1]["at"]
    latest, past = (intervals[-1], intervals[:-1]) if is_latest else (None, intervals)
    rates = [interval["rate"] for interval in past]
    told = {"rate": None, "usual": median(rates), "count": len(past), "limit": None, "faster": None, "to_floor": None}
    if latest is None:
        return told
    told["rate"] = {"value": latest["rate"], "uncertainty": latest["uncertainty"]}
    told["to_floor"] = _told_between(points[-2], points[-1], vessel)["to_floor"]
    if len(past) >= FEWEST_BEFORE:
        usual = told["usual"]
        scatter = NORMAL_MAD * median([abs(rate - usual) for rate in rates])
        spread = max(scatter, median([interval["uncertainty"] for interval in past]))
        limit = max(0.0, usual) + COVERAGE * _both(latest["uncertainty"], spread)
        told["limit"] = limit if len(past) >= FEW else max(limit, max(rates) + latest["uncertainty"])
        told["faster"] = latest["rate"] > told["limit"]
    return told


def top_up(point, tank, headspace, air_pressure, cylinder):
    """CO2 from the last pressure of a ``point`` to the hold pressure of a ``tank`` (a body), by the sum co2-top-up.

    {"value", "uncertainty"} in kg and ``share``, of a ``cylinder`` (kg). None where no hold pressure is said, where the
    tank is at it as near as the gauge tells (the mass is no larger than its ±), and where it is above the plate.

    >>> point = {"pressure": 55158.0, "pressure_doubt": None, "topped_up": None, "topped_up_doubt": None,
    ...          "temperature": 275.15, "temperature_doubt": None}
    >>> found = top_up(point, {"hold_pressure": 68948.0, "rated_pressure": None}, 0.352, 101325.0, 30.0)
    >>> round(found["value"], 4), round(found["share"], 4)  # by hand: 0.352 m3 x 13790 Pa x M / (Z^2 R T)
    (0.0954, 0.0032)
    """
    now = "pressure" if point["topped_up"] is None else "topped_up"
    inputs = {
        "headspace": headspace, "pressure_before": point[now], "pressure_after": tank["hold_pressure"],
        "temperature": point["temperature"], "air_pressure": air_pressure,
    }
    if not _within("co2-top-up", inputs):
        return None
    module = calculators()["co2-top-up"].module
    whole = {"rated_pressure": tank["rated_pressure"], "cylinder_mass": cylinder}
    if list(module.refusals(SimpleNamespace(**inputs, **whole))):
        return None

    def compute(x):
        return {"mass": module.compute(SimpleNamespace(**x, **whole))["co2_mass"]}

    given = {"pressure_before": point[f"{now}_doubt"], "temperature": point["temperature_doubt"]}
    mass = compute(inputs)["mass"]
    spread = propagate(compute, inputs, _doubts("co2-top-up", inputs, given))["mass"]
    return None if mass <= spread else {"value": mass, "uncertainty": spread, "share": mass / cylinder}


def at_one_temperature(point, temperature, air_pressure):
    """What the gauge of a ``point`` would read were its gas at a ``temperature`` (K): its value and ±, Pa gauge.

    None where the sum leak-down has no answer.

    >>> point = {"pressure": 80000.0, "pressure_doubt": 1000.0, "temperature": 275.15, "temperature_doubt": 0.0}
    >>> round(at_one_temperature(point, 275.15, 101325.0)["value"])
    80000
    """
    inputs = {"pressure_before": point["pressure"], "temperature_before": point["temperature"]}
    if not _within("leak-down", {**inputs, "temperature_after": temperature}):
        return None

    def compute(x):
        density = co2_density(x["pressure_before"] + air_pressure, x["temperature_before"])
        return {"value": pressure_at_density(density, temperature) - air_pressure}

    given = {"pressure_before": point["pressure_doubt"], "temperature_before": point["temperature_doubt"]}
    doubts = propagate(compute, inputs, _doubts("leak-down", inputs, given))
    return {"value": compute(inputs)["value"], "uncertainty": doubts.get("value", 0.0)}


RANGES = {
    "points_of": ["readings of a tank", (270.0, 300.0), "system"],
    "breaks_of": ["purges of a tank", "events of a tank"],
    "intervals_of": "points, breaks and a vessel",
    "told_by": "points, breaks and a vessel",
    "top_up": ["gauge point", "tank with its pressures", (0.01, 20.0, -0.1), (6e4, 1.1e5), (5.0, 50.0)],
    "at_one_temperature": ["gauge point", (265.0, 310.0), (6e4, 1.1e5)],
}
