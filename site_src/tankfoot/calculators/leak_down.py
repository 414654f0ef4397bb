"""Did a shut tank leak, or did its gas only cool?"""

from tankfoot.calculators.readings import AIR_PRESSURE, gauge
from tankfoot.physics.gas import co2_density
from tankfoot.physics.headspace import pressure_at_density
from tankfoot.quantities.field import Form, Quantity

RESULTS = {
    "pressure_at_same_temperature": "gauge_pressure",
    "leak_rate": "leak",
    "time_to_floor": "clock_time",
}
MORE = ("floor_pressure",)
CAUTIONS = {"asphyxiation": "WARNING", "vacuum": "WARNING", "beer-takes-some": "NOTICE"}
FINE_GAUGE = "0.25 psi"


def _gas_temperature(us, metric):
    examples = {"us": us, "metric": metric, "uk": metric}
    return Quantity("temperature", low="-2 °C", high="35 °C", uncertainty="0.5 °C", example=examples)


class Inputs(Form):
    headspace = Quantity(
        "tank_volume", low="0.01 bbl", high="4000 bbl", uncertainty="5 %",
        example={"us": "18 bbl", "metric": "20 hL", "uk": "12 imp bbl"},
    )
    pressure_before = gauge("12 psi", "0.8 bar", FINE_GAUGE)
    temperature_before = _gas_temperature("68 °F", "20 °C")
    pressure_after = gauge("9.5 psi", "0.63 bar", FINE_GAUGE)
    temperature_after = _gas_temperature("59 °F", "15 °C")
    elapsed = Quantity("clock_time", low="1 min", high="60 day", example="12 h")
    floor_pressure = Quantity("gauge_pressure", low="0 psi", high="40 psi", optional=True)
    air_pressure = AIR_PRESSURE


def _densities(x):
    before = co2_density(x.pressure_before + x.air_pressure, x.temperature_before)
    return before, co2_density(x.pressure_after + x.air_pressure, x.temperature_after)


def refusals(x):
    before, after = _densities(x)
    if x.floor_pressure is None:
        return
    if x.floor_pressure >= x.pressure_after:
        yield "floor_pressure", "at-the-floor"
    elif after >= before:
        yield "floor_pressure", "nothing-to-time"


def compute(x):
    before, after = _densities(x)
    rate = x.headspace * (before - after) / x.elapsed
    left = None
    if x.floor_pressure is not None:
        floor = co2_density(x.floor_pressure + x.air_pressure, x.temperature_after)
        left = x.headspace * (after - floor) / rate
    return {
        "pressure_at_same_temperature": pressure_at_density(after, x.temperature_before) - x.air_pressure,
        "leak_rate": rate,
        "time_to_floor": left,
    }


def remarks(x, y):
    fell = x.pressure_after < x.pressure_before
    if y["leak_rate"] <= 0.0:
        yield "cooling-explains-it" if fell else "nothing-lost"
    elif not fell:
        yield "warming-hides-it"
