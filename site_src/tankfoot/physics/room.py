"""CO2 let out in a room: how its share of the air rises, and how it falls again."""

import math
from dataclasses import dataclass

from tankfoot.physics.gas import CO2_MOLAR_MASS, GAS_CONSTANT
from tankfoot.physics.roots import brent_root


def released_volume(mass, temperature, pressure):
    """Volume that a ``mass`` (kg) of CO2 takes up once mixed into air, m3: m R T / (p M).

    ``temperature`` in K, ``pressure`` of the air in Pa. Ideal gas: at its small partial pressure it is one.

    >>> round(released_volume(1.0, 293.15, 101325.0), 4)
    0.5466
    """
    return mass * GAS_CONSTANT * temperature / (pressure * CO2_MOLAR_MASS)


@dataclass(frozen=True)
class Release:
    """One release into one room, the air mixed all the time.

    ``outdoor``: mole fraction of CO2 in fresh air and in the room before; ``ratio``: volume of the gas over
    volume of the room; ``duration`` of the release in s, 0 for all at once; ``air_rate``: changes of air a
    second, above 0.
    """

    outdoor: float
    ratio: float
    duration: float
    air_rate: float

    @property
    def rate(self):
        """How fast the share nears ``level`` meanwhile, 1/s: air changes plus room volumes of gas."""
        return self.air_rate + self.ratio / self.duration

    @property
    def level(self):
        """The share that a release without end comes to."""
        return (self.air_rate * self.outdoor + self.ratio / self.duration) / self.rate


def share_during(release, time):
    """Share of CO2 a ``time`` (s) after the release began, while it lasts: mole fraction.

    x = x_end + (x_out - x_end) exp(-k t), k = n + g, x_end = (n x_out + g) / k with n changes of air a second
    and g room volumes of gas a second; the room stays at one pressure, so that gas coming in pushes mixed air
    out.

    Source: mass balance of a mixed room, dx/dt = n (x_out - x) + g (1 - x), solved in closed form.

    >>> round(share_during(Release(0.00042, 0.1, 3600.0, 1.0 / 3600.0), 3600.0) * 1e6)
    61043
    """
    return release.level + (release.outdoor - release.level) * math.exp(-release.rate * time)


def peak_share(release):
    """The highest share of CO2, when the release ends: mole fraction.

    All at once: x = 1 - (1 - x_out) exp(-v / V).

    >>> round(peak_share(Release(0.00042, 0.5466 / 100.0, 0.0, 1.0 / 3600.0)) * 1e6)
    5869
    """
    if release.duration > 0.0:
        return share_during(release, release.duration)
    return 1.0 - (1.0 - release.outdoor) * math.exp(-release.ratio)


def share_at(release, time):
    """Share of CO2 a ``time`` (s) after the release began: up as in share_during, then down with fresh air.

    x = x_out + (x_peak - x_out) exp(-n t) with t from the end of the release.

    >>> release = Release(0.00042, 0.01, 0.0, 1.0 / 3600.0)
    >>> share_at(release, 0.0) == peak_share(release), round(share_at(release, 36000.0) * 1e6)
    (True, 420)
    """
    if time < release.duration:
        return share_during(release, time)
    fading = math.exp(-release.air_rate * (time - release.duration))
    return release.outdoor + (peak_share(release) - release.outdoor) * fading


def time_above(release, limit):
    """How long the share stays above a ``limit`` (mole fraction, above the outdoor share), s.

    From the closed forms of share_during and share_at, turned round for the time.

    >>> round(time_above(Release(0.00042, 0.5466 / 100.0, 0.0, 1.0 / 3600.0), 0.005) / 60.0, 1)
    10.4
    """
    peak = peak_share(release)
    if peak <= limit:
        return 0.0
    falling = math.log((peak - release.outdoor) / (limit - release.outdoor)) / release.air_rate
    if not release.duration > 0.0:
        return falling
    rising = math.log((release.level - release.outdoor) / (release.level - limit)) / release.rate
    return release.duration - rising + falling


def mean_share(release, start, window):
    """Mean share of CO2 over a ``window`` (s) that begins at ``start`` (s) and ends after the release.

    The integrals of share_during and share_at in closed form, over the window.

    >>> round(mean_share(Release(0.00042, 0.01, 0.0, 1.0 / 3600.0), 0.0, 28800.0) * 1e6)
    1663
    """
    total = 0.0
    if release.duration > start:
        rate, duration = release.rate, release.duration
        swing = (math.exp(-rate * start) - math.exp(-rate * duration)) / rate
        total = release.level * (duration - start) + (release.outdoor - release.level) * swing
    rest = start + window - max(release.duration, 0.0)
    faded = (1.0 - math.exp(-release.air_rate * rest)) / release.air_rate
    return (total + release.outdoor * rest + (peak_share(release) - release.outdoor) * faded) / window


def worst_mean_share(release, window):
    """The highest mean share of CO2 over any ``window`` (s): the window that begins and ends at one share.

    >>> release = Release(0.00042, 0.01, 3600.0, 1.0 / 3600.0)
    >>> worst_mean_share(release, 28800.0) > mean_share(release, 0.0, 28800.0)
    True
    """
    def difference(start):
        return share_at(release, start) - share_at(release, start + window)

    earliest = max(0.0, release.duration - window)
    if difference(earliest) >= 0.0:  # all at once, or levelled off to the last digit
        return mean_share(release, earliest, window)
    return mean_share(release, brent_root(difference, earliest, release.duration), window)


RANGES = {
    "released_volume": [(0.0, 900.0), (263.15, 313.15), (7e4, 1.1e5)],
    "share_during": "release and a time while it lasts",
    "peak_share": ["release"],
    "share_at": ["release", (0.0, 1e5, 600.0)],
    "time_above": ["release", (0.0005, 0.3, 0.005, 0.03)],
    "mean_share": "release and a window past its end",
    "worst_mean_share": ["release", (600.0, 28800.0, 900.0)],
}
