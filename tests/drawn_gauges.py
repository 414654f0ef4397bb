"""Readings at a tank's gauge, what breaks their series, and tanks with pressures, drawn at random."""

from datetime import UTC, datetime, timedelta

START = datetime(2026, 3, 1, 7, tzinfo=UTC)
PRESSURES = (None, "12 psi", "0,9 bar", "11", "10.5 ± 0.2 psi", "-0.1 bar", "300 kPa")
TEMPERATURES = (None, None, "36 °F", "2", "2.5 °C ± 0.2", "68 °F")


def written(at):
    return at.strftime("%Y-%m-%dT%H:%M:%S.") + f"{at.microsecond // 1000:03d}Z"


def readings(rng):
    """Entries of one tank, none of them in order, some at one instant."""
    days = [rng.choice((0.0, 2.0, rng.uniform(0.0, 30.0))) for _ in range(rng.randint(0, 6))]
    return [{
        "id": f"{rng.randrange(99)}", "deleted": rng.random() < 0.2, "body": {
            "at": written(START + timedelta(days=day)), "pressure": rng.choice(PRESSURES),
            "temperature": rng.choice(TEMPERATURES), "topped_up": rng.choice((None, None, None, *PRESSURES)),
        },
    } for day in days]


def purges(rng):
    return [{
        "created": written(START + timedelta(days=day)), "deleted": rng.random() < 0.2,
        "body": {"events": [{"at": written(START + timedelta(days=day + 0.01))}] * rng.randint(0, 1)},
    } for day in range(rng.randint(0, 3))]


def point(rng, at=START):
    pressure = rng.uniform(0.0, 150e3)
    return {
        "id": "r", "at": written(at), "pressure": rng.choice((pressure, pressure, pressure, None, -2000.0, 0.0)),
        "pressure_doubt": rng.choice((None, 0.0, rng.uniform(100.0, 3000.0))),
        "temperature": rng.choice((275.15, rng.uniform(273.0, 300.0))),
        "temperature_doubt": rng.choice((None, 3.0, 0.2, 0.0)),
        "topped_up": rng.choice((None, None, None, pressure + 5000.0)), "topped_up_doubt": rng.choice((None, 800.0)),
    }


def steady(rng):
    """Points of a tank that leaks about as it always did, at about one temperature, until its last interval."""
    at, pressure, lost = START, rng.uniform(60e3, 150e3), rng.choice((0.0, rng.uniform(0.0, 4e3)))
    doubt, warmer = rng.choice(((0.0, 0.0), (100.0, 0.1), (500.0, 0.1))), rng.choice((0.0, 0.0, 0.05))
    points = []
    for place in range(rng.choice((2, 4, 5, 6, 9, 9, 10))):
        points.append(point(rng, at) | {
            "pressure": pressure, "temperature": 275.15 + rng.choice((0.0, warmer)), "pressure_doubt": doubt[0],
            "temperature_doubt": doubt[1], "topped_up": None,
        })
        at += timedelta(seconds=rng.choice((172800.0, 172800.0, 172800.0, 86400.0, 3600.0, 3599.999)))
        pressure -= lost * rng.choice((1.0, 1.0, 1.05, 0.9, 0.0, rng.choice((3.0, -1.0)) if place > 3 else 1.0))
    return points


def points_and_vessel(rng):
    """[points in time, breaks, what is known of the tank]: mostly steady, now and then anything."""
    days = sorted(rng.uniform(0.0, 20.0) for _ in range(rng.randint(1, 6)))
    points = steady(rng) if rng.random() < 0.7 else [point(rng, START + timedelta(days=day)) for day in days]
    instants = [one["at"] for one in points]
    breaks = sorted(rng.choice((rng.choice(instants), written(START + timedelta(days=rng.uniform(0.0, 20.0)))))
                    for _ in range(rng.choice((0, 0, 0, 1, 2))))
    return [points, breaks, {
        "headspace": rng.choice((rng.uniform(0.1, 8.0), rng.uniform(0.1, 8.0), -0.2)), "beer": rng.uniform(0.0, 12.0),
        "air_pressure": rng.uniform(7e4, 1.05e5),
        "floor": rng.choice((None, 20e3, 20e3, rng.uniform(0.0, 150e3), points[-1]["pressure"])),
    }]


def tank(rng):
    hold = rng.uniform(20e3, 180e3)
    return {"hold_pressure": rng.choice((None, hold, hold, hold)),
            "rated_pressure": rng.choice((None, 103e3, hold, hold + 1e4))}


DRAWN = {
    "readings of a tank": readings, "purges of a tank": purges, "gauge point": point, "tank with its pressures": tank,
}
ARGUMENTS = {"points, breaks and a vessel": points_and_vessel}
