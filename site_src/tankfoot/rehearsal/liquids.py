"""What runs: beer, solids and water, each a volume in m3, in this order. Nothing of it comes or goes, it only moves."""

import math

NOTHING = [0.0, 0.0, 0.0]
BEER, SOLIDS, WATER = 0, 1, 2


def added(one, other):
    """Both together."""
    return [a + b for a, b in zip(one, other, strict=True)]


def taken(whole, part):
    """``whole`` less a ``part`` of it; what rounding would leave below nothing is nothing."""
    return [max(0.0, a - b) for a, b in zip(whole, part, strict=True)]


def volume_of(liquids):
    """All of it, m3."""
    return liquids[BEER] + liquids[SOLIDS] + liquids[WATER]


def share_of(liquids, which):
    """What share of it is ``which`` of the three; 0 of nothing.

    >>> share_of([3.0, 1.0, 0.0], SOLIDS), share_of(NOTHING, SOLIDS)
    (0.25, 0.0)
    """
    volume = volume_of(liquids)
    return liquids[which] / volume if volume > 0.0 else 0.0


def drawn_of(tank, volume, solids_share):
    """What a draw of ``volume`` takes of a ``tank``'s liquids: ``solids_share`` of it solids while both are there.

    >>> drawn_of([1.0, 0.25, 0.0], 0.5, 0.75), drawn_of([0.125, 1.0, 0.0], 0.5, 0.0)
    ([0.25, 0.25, 0.0], [0.125, 0.375, 0.0])
    """
    volume = min(volume, volume_of(tank))
    clear = tank[BEER] + tank[WATER]
    solids = min(tank[SOLIDS], max(solids_share * volume, volume - clear))
    thinned = max(0.0, volume - solids) / clear if clear > 0.0 else 0.0
    return [tank[BEER] * thinned, solids, tank[WATER] * thinned]


def passed(holds, content, inflow):
    """(content, outflow) of a length of pipe that ``holds`` so much (m3), once ``inflow`` came in at its upper end.

    It fills first; from then on what comes in mixes with what is in it and the mixture leaves: c = ci + (c0 - ci)
    exp(-v / V), exact for any v.

    >>> passed(1.0, [0.5, 0.0, 0.0], [0.0, 0.25, 0.0])
    ([0.5, 0.25, 0.0], [0.0, 0.0, 0.0])
    >>> [round(v, 4) for v in passed(1.0, [1.0, 0.0, 0.0], [0.0, 1.0, 0.0])[1]]
    [0.6321, 0.3679, 0.0]
    """
    comes = volume_of(inflow)
    if comes <= 0.0:
        return content, NOTHING
    room = max(0.0, holds - volume_of(content))
    if comes <= room:
        return added(content, inflow), NOTHING
    filled = [c + i * (room / comes) for c, i in zip(content, inflow, strict=True)]
    stays = math.exp((room - comes) / holds)
    mixed = [i / comes * holds + (f - i / comes * holds) * stays for f, i in zip(filled, inflow, strict=True)]
    return mixed, taken(added(content, inflow), mixed)


RANGES = {
    "added": ["liquids", "liquids"],
    "taken": ["liquids", "liquids"],
    "volume_of": ["liquids"],
    "share_of": ["liquids", [BEER, SOLIDS, WATER]],
    "drawn_of": ["liquids", (0.0, 2.0), (0.0, 1.0)],
    "passed": "liquids that pass",
}
