"""What "saved" is counted from, which stands still: how late the port was closed in purges that stay the same."""

from tankfoot.report.facts import is_told
from tankfoot.usual.median import median

FIRST = 10  # purges of a kind, where the owner names no period
LEAST = 5  # purges of a kind in a period that can tell


def baseline_of(facts, since, until):
    """{kind of solids: {"seconds": the median of the seconds past the colour change, "purges": of how many}}.

    Of the purges with a colour change from ``since`` until before ``until`` (instants, None of no end), at least LEAST
    of a kind; where both are None, of the FIRST of each kind, once they are so many. A kind with too few has none: then
    nothing of it is called saved. Later purges never move it, so that what is saved does not shrink as hands improve.
    """
    times = {}
    for at, _, row in sorted((facts["at"][row], facts["id"][row], row) for row in range(len(facts["id"]))):
        past = facts["past"][row]
        if is_told(past) and (since is None or at >= since) and (until is None or at < until):
            times.setdefault(facts["kind"][row], []).append(past)
    is_period = since is not None or until is not None
    kept = {kind: past if is_period else past[:FIRST] for kind, past in times.items()}
    least = LEAST if is_period else FIRST
    return {kind: {"seconds": median(past), "purges": len(past)} for kind, past in kept.items() if len(past) >= least}


RANGES = {"baseline_of": "facts and a period"}
