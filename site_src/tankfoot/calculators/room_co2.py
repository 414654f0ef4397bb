"""What CO2 let out or leaked does to the air of the cellar."""

from tankfoot.calculators.plot import Plot
from tankfoot.calculators.readings import AIR_PRESSURE, CELLAR_TEMPERATURE
from tankfoot.physics.room import Release, peak_share, released_volume, share_at, time_above, worst_mean_share
from tankfoot.quantities.field import Form, Quantity

RESULTS = {
    "peak": "trace_share",
    "eight_hour_mean": "trace_share",
    "time_above_40000": "stay",
    "time_above_30000": "stay",
    "time_above_5000": "stay",
}
MORE = ("release_rate",)
CAUTIONS = {"no-gas-monitor": "DANGER", "pools-low": "DANGER"}
SHIFT_LIMIT, SHORT_TERM_LIMIT, DANGEROUS = 0.005, 0.03, 0.04
SHIFT = 8.0 * 3600.0  # s
PLOT = Plot(
    "release_time", "peak", {"time_above_5000": 1.25, "release_time": 1.5}, at_least=3600.0,
    marks=(("shift", "up", SHIFT_LIMIT), ("short", "up", SHORT_TERM_LIMIT), ("dangerous", "up", DANGEROUS)),
)


class Inputs(Form):
    released_mass = Quantity(
        "gas_mass", low="1 g", high="5000 kg", uncertainty="10 %", optional=True,
        example={"us": "10 lb", "metric": "5 kg", "uk": "5 kg"},
    )
    release_rate = Quantity("gas_flow", low="0.1 g/min", high="1000 kg/h", uncertainty="10 %", optional=True)
    release_time = Quantity("stay", low="0 min", high="7 day", default="0 min")
    room_volume = Quantity(
        "room_volume", low="1 m³", high="100000 m³", uncertainty="5 %",
        example={"us": "5000 ft³", "metric": "150 m³", "uk": "150 m³"},
    )
    air_changes = Quantity(
        "air_changes", low="0.05 changes/h", high="60 changes/h", uncertainty="20 %", example="1 changes/h",
    )
    temperature = CELLAR_TEMPERATURE
    air_pressure = AIR_PRESSURE
    # Its ± is what an ordinary meter is out by (common practice, no source): a small release is known no better.
    outdoor_co2 = Quantity(
        "trace_share", low="300 ppm", high="1500 ppm", uncertainty="30 ppm", default="420 ppm",
    )


def refusals(x):
    if x.released_mass is None and x.release_rate is None:
        yield "released_mass", "mass-or-rate"
    elif x.released_mass is not None and x.release_rate is not None:
        yield "release_rate", "mass-or-rate"
    elif x.release_rate is not None and x.release_time <= 0.0:
        yield "release_time", "rate-without-time"


def _release(x):
    mass = x.release_rate * x.release_time if x.released_mass is None else x.released_mass
    gas = released_volume(mass, x.temperature, x.air_pressure)
    return Release(x.outdoor_co2, gas / x.room_volume, x.release_time, x.air_changes)


def compute(x):
    release = _release(x)
    return {
        "peak": peak_share(release),
        "eight_hour_mean": worst_mean_share(release, SHIFT),
        "time_above_40000": time_above(release, DANGEROUS),
        "time_above_30000": time_above(release, SHORT_TERM_LIMIT),
        "time_above_5000": time_above(release, SHIFT_LIMIT),
    }


def curve(x, at):
    return share_at(_release(x), at)


def remarks(x, y):
    if y["peak"] > DANGEROUS:
        yield "immediately-dangerous"
    elif y["peak"] > SHORT_TERM_LIMIT:
        yield "above-short-term-limit"
    if y["eight_hour_mean"] > SHIFT_LIMIT:
        yield "above-shift-limit"
