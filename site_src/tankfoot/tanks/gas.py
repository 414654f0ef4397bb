"""The gas above a tank's beer."""

from tankfoot.physics.gas import co2_density
from tankfoot.tanks.shape import tank_shape


def last_pressure(body):
    """Pressure of a tank's ``body``, Pa gauge: as it was read last, else as it is held; None where neither is known.

    >>> last_pressure({"pressure": None, "hold_pressure": 80000.0})
    80000.0
    """
    return body["hold_pressure"] if body["pressure"] is None else body["pressure"]


def vented_gas(body, air_pressure):
    """CO2 that leaves when a tank's headspace is let down to zero gauge, kg; None where there is none to leave.

    m = V (rho(pa + p) - rho(pa)), V the headspace (m3), p the last pressure (Pa gauge), pa the ``air_pressure`` (Pa).

    >>> body = {"diameter": 1.2, "straight_height": 1.5, "cone_angle": 1.0471975511965976, "head_depth": 0.0,
    ...         "head_volume": 0.2, "beer_volume": 1.5, "pressure": 1e5, "hold_pressure": None, "temperature": 275.0}
    >>> round(vented_gas(body, 101325.0), 2)  # about 0.788 m3 of a gas of 1.96 kg/m3
    1.55
    """
    pressure = last_pressure(body)
    if pressure is None or pressure <= 0.0:
        return None
    full, empty = (co2_density(air_pressure + above, body["temperature"]) for above in (pressure, 0.0))
    return tank_shape(body)["headspace"] * (full - empty)


RANGES = {
    "last_pressure": ["tank"],
    "vented_gas": ["tank", (6e4, 1.1e5)],
}
