"""A tank as a purge leaves it."""

from tankfoot.purge.machine import standing
from tankfoot.purge.outcome import read


def tank_after(tank, purge, system):
    """The body of a ``tank`` as the body of a finished ``purge`` leaves it: less beer, another pressure.

    The pressure is the one that was topped up to, else the one read after the purge, else the tank's own as before;
    a reading's bare number is in the units of ``system``. Raises UnreadReading.

    >>> tank = {"name": "FV 1", "beer_volume": 1.5, "pressure": 80000.0}
    >>> purge = {"events": [{"event": "topped-up"}], "readings": {"target_pressure": "0.9 bar"},
    ...          "result": {"volume_lost": {"value": 0.25, "uncertainty": None}}}
    >>> tank_after(tank, purge, "metric")
    {'name': 'FV 1', 'beer_volume': 1.25, 'pressure': 90000.0}
    """
    topped_up = any(event["event"] == "topped-up" for event in standing(purge["events"]))
    name = "target_pressure" if topped_up else "pressure_after"
    text, pressure = purge["readings"].get(name), tank["pressure"]
    if text:
        _, reading = read(name, text, system)
        pressure = reading.si
    lost = purge["result"].get("volume_lost")
    left = tank["beer_volume"] - max(0.0, lost["value"]) if lost else tank["beer_volume"]
    return {**tank, "beer_volume": max(0.0, left), "pressure": pressure}


RANGES = {
    "tank_after": ["tank", "finished purge", "system"],
}
