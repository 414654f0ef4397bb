"""What "saved" is counted from, which stands still: how late the port was closed in purges that stay the same."""

from heapq import nsmallest

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
    rows, is_period = {}, since is not None or until is not None
    for row, past in enumerate(facts["past"]):
        if is_told(past) and (not is_period or _is_within(facts["at"][row], since, until)):
            rows.setdefault(facts["kind"][row], []).append(row)

    def when(row):
        return facts["at"][row], facts["id"][row]

    kept = [(kind, nsmallest(len(of) if is_period else FIRST, of, when)) for kind, of in rows.items()]
    kept.sort(key=lambda of_kind: when(of_kind[1][0]))
    times = {kind: [facts["past"][row] for row in of] for kind, of in kept}
    least = LEAST if is_period else FIRST
    return {kind: {"seconds": median(past), "purges": len(past)} for kind, past in times.items() if len(past) >= least}


def _is_within(at, since, until):
    return (since is None or at >= since) and (until is None or at < until)


RANGES = {"baseline_of": "facts and a period"}
