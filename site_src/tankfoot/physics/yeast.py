"""Yeast: the extract it lives on, how many cells a batch wants, and how many a counting chamber saw."""


def plato_from_gravity(gravity):
    """Extract of wort in degrees Plato from its specific ``gravity`` at 20/20 °C.

    P = -616.868 + 1111.14 s - 630.272 s^2 + 135.997 s^3 for s from 1.00 to 1.17, within 0.05 °P of the
    sucrose tables.

    Source: cubic fit to the tables of the American Society of Brewing Chemists (from memory).

    >>> round(plato_from_gravity(1.04003), 2)
    10.0
    """
    return -616.868 + gravity * (1111.14 + gravity * (-630.272 + gravity * 135.997))


def plato_per_gravity(gravity):
    """Degrees Plato for a unit of specific ``gravity``, at that gravity: the slope of plato_from_gravity.

    dP/ds = 1111.14 - 1260.544 s + 407.991 s^2, s from 0.99 to 1.17; a thousandth of it is one point.

    >>> round(plato_per_gravity(1.040) / 1000, 3)
    0.241
    """
    return 1111.14 + gravity * (-1260.544 + gravity * 407.991)


def cells_to_pitch(pitch_rate, volume, plato):
    """Live cells a batch wants: rate x volume x degrees Plato.

    ``pitch_rate`` in cells per m3 and degree Plato, ``volume`` of the wort in m3, ``plato`` its extract.

    >>> f"{cells_to_pitch(1.0e12, 1.17348, 12.0):.3e}"
    '1.408e+13'
    """
    return pitch_rate * volume * plato


def slurry_volume(cells, density, viability):
    """Volume of slurry, m3, that holds a number of live ``cells``.

    ``density`` in cells, live and dead, per m3; ``viability`` the live share, above 0 to 1.

    >>> round(slurry_volume(1.4e13, 1.4e15, 0.5) * 1000)
    20
    """
    return cells / (density * viability)


def cell_density(cells, squares, square_volume, dilution):
    """Cells per m3 of the undiluted sample: n / (squares x volume of one) x dilution.

    ``cells`` counted in a number of ``squares`` of ``square_volume`` m3 each; ``dilution`` 100 for 1 part in
    100.

    >>> f"{cell_density(250.0, 25.0, 4e-12, 100.0):.2e}"
    '2.50e+14'
    """
    return cells / (squares * square_volume) * dilution


def live_share(live, dead):
    """Viability: ``live`` cells over all, from 0 to 1.

    With the square root of each count as its ±, the first-order rule gives sqrt(v (1 - v) / n), the binomial
    one.

    >>> live_share(190.0, 10.0)
    0.95
    """
    return live / (live + dead)


RANGES = {
    "plato_from_gravity": [(1.0, 1.17)],
    "plato_per_gravity": [(0.99, 1.17)],
    "cells_to_pitch": [(1e11, 2e12), (0.1, 50.0), (5.0, 30.0)],
    "slurry_volume": [(1e11, 1e15), (1e14, 5e15), (0.05, 1.0)],
    "cell_density": [(1.0, 2000.0), (1.0, 400.0), (1e-13, 1e-9), (1.0, 1000.0)],
    "live_share": [(0.0, 500.0), (1.0, 500.0)],
}
