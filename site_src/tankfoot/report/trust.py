"""How far a camera beside the sight glass can be trusted: what it saw, held against what the hand tapped.

Never by person: a fact has no initials.
"""

from tankfoot.report.facts import is_told
from tankfoot.usual.median import median

CLOSE = 2.0  # s between the seen and the tapped instant that still count as the same. Common practice, no source
FEWEST = 3  # seen instants that tell what is usual. Common practice, no source


def trust_of(facts, rows):
    """Of the watched purges of ``rows``: {"watched", "tapped", "close", "missed", "early", "late", "median"}.

    "tapped": those whose colour change the hand tapped, the only ones that tell; of these it saw so many within CLOSE,
    "missed" so many, saw the others "early" or "late". "median": of the seen less the tapped instant, s, None of fewer
    than FEWEST. None where nothing was watched.

    >>> facts = {"watched": [True, True, True], "tapped": [40.0, 50.0, None], "seen": [41.0, None, 9.0]}
    >>> trust_of(facts, range(3))
    {'watched': 3, 'tapped': 2, 'close': 1, 'missed': 1, 'early': 0, 'late': 0, 'median': None}
    """
    watched = [row for row in rows if facts["watched"][row]]
    tapped = [row for row in watched if is_told(facts["tapped"][row])]
    if not watched:
        return None
    seen = [row for row in tapped if is_told(facts["seen"][row])]
    later = [facts["seen"][row] - facts["tapped"][row] for row in seen]
    return {
        "watched": len(watched), "tapped": len(tapped), "close": sum(abs(each) <= CLOSE for each in later),
        "missed": len(tapped) - len(seen), "early": sum(each < -CLOSE for each in later),
        "late": sum(each > CLOSE for each in later), "median": median(later) if len(later) >= FEWEST else None,
    }


RANGES = {"trust_of": "facts and rows"}
