"""The solids in the cone: they follow a slow draw, a fast one cores them. A picture for learning, no prediction.

A core is a hole through the layer above the port, 0 to 1: what share of a draw is beer from above. It grows while the
speed in the port is above what these solids follow, and the layer slumps back into it while it is below.
"""

import math

from tankfoot.purge.shuffle import next_draw

TAIL = 0.08  # of the solids there were: below it a draw takes beer with them, more and more
GROWS = 0.12  # 1/s, for each time that the speed is over the one they follow
MOST_OVER = 4.0
SLUMPS = 0.004  # 1/s
WORD = 4294967296.0


def solids_share(core, solids, at_first):
    """Share of solids in what a draw takes, 0 to 1: all but the core, and less once few are left.

    >>> solids_share(0.25, 0.02, 0.02), solids_share(0.0, 0.0008, 0.02), solids_share(0.0, 0.0, 0.0)
    (0.75, 0.5, 0.0)
    """
    if at_first <= 0.0:
        return 0.0
    return (1.0 - core) * min(1.0, solids / (TAIL * at_first))


def core_after(core, speed, follows, seconds):
    """The core after some ``seconds`` at a ``speed`` in the port (m/s), for solids that follow up to ``follows``.

    >>> round(core_after(0.0, 3.0, 1.0, 1.0), 6), round(core_after(0.5, 0.0, 1.0, 5.0), 6)
    (0.24, 0.48)
    """
    over = min(MOST_OVER, speed / follows - 1.0)
    grown = core + seconds * (GROWS * over if over > 0.0 else -SLUMPS if speed < follows else 0.0)
    return min(1.0, max(0.0, grown))


def plug_begins(chance, solids, often):
    """(next chance, whether a plug forms) as ``solids`` (m3) are drawn that plug ``often`` times a m3.

    Only what can plug draws a number; p = 1 - exp(-often x solids).
    """
    if often <= 0.0 or solids <= 0.0:
        return chance, False
    chance = next_draw(chance)
    return chance, chance / WORD < -math.expm1(-often * solids)


def plug_lasts(chance, usual):
    """(next chance, s) until a plug lets go: half to twice the ``usual`` time.

    >>> 10.0 <= plug_lasts(12345, 20.0)[1] <= 40.0
    True
    """
    chance = next_draw(chance)
    return chance, usual * math.pow(2.0, 2.0 * chance / WORD - 1.0)


RANGES = {
    "solids_share": [(0.0, 1.0), (0.0, 0.2), (0.0, 0.2)],
    "core_after": [(0.0, 1.0), (0.0, 12.0), (0.3, 2.0), (0.0, 0.5, 0.05)],
    "plug_begins": [(1, 4294967295), (0.0, 0.01), (0.0, 300.0)],
    "plug_lasts": [(1, 4294967295), (5.0, 60.0)],
}
