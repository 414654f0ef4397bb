"""Air driven out of a closed space by filling it with gas and venting it, again and again."""

from tankfoot.physics.gas import GAS_CONSTANT

OXYGEN_IN_AIR = 0.2095  # mole fraction in dry air
OXYGEN_MOLAR_MASS = 0.0319988  # kg/mol
MOST_POPS = 200


def oxygen_after_pop(share, gas_share, low, high):
    """Share of oxygen once a space at ``low`` is filled to ``high``: x_gas + (x - x_gas) low / high.

    ``share`` and ``gas_share`` are mole fractions in the space and in the gas; pressures absolute, ideal gas,
    one temperature. Venting afterwards does not change the share.

    >>> round(oxygen_after_pop(0.2095, 0.0, 1.013, 2.026), 5)
    0.10475
    """
    return gas_share + (share - gas_share) * low / high


def pops_to_reach(target, gas_share, outside, vent, top):
    """Pops (fill and vent) until the share of oxygen is at or under ``target``, and the share then.

    A pair (number of pops, mole fraction). The first pop starts from air at the pressure ``outside``, the
    others from ``vent``; each fills to ``top``, all absolute. ValueError after 200 pops.

    >>> pops, share = pops_to_reach(0.001, 0.0, 1.013, 1.013, 2.0)
    >>> pops, round(share * 1e6, 1)
    (8, 907.4)
    """
    share, low = OXYGEN_IN_AIR, outside
    for pops in range(1, MOST_POPS + 1):
        share = oxygen_after_pop(share, gas_share, low, top)
        if share <= target:
            return pops, share
        low = vent
    raise ValueError(f"{MOST_POPS} pops do not reach {target}: fill higher or allow more oxygen")


def oxygen_mass(share, pressure, volume, temperature):
    """Oxygen in a ``volume`` (m3) of gas, kg: x p V M / (R T).

    ``share`` x is the mole fraction, ``pressure`` absolute in Pa, ``temperature`` in K.

    >>> round(oxygen_mass(0.2095, 101325.0, 0.001, 293.15) * 1e6)  # mg in a litre of air
    279
    """
    return share * pressure * volume * OXYGEN_MOLAR_MASS / (GAS_CONSTANT * temperature)


RANGES = {
    "oxygen_after_pop": [(0.0, 0.2095), (0.0, 0.001), (8e4, 2e5), (1e5, 4e5)],
    "pops_to_reach": "pops",
    "oxygen_mass": [(0.0, 0.2095), (8e4, 4e5), (0.001, 50.0), (273.15, 310.0)],
}
