"""What a camera saw of the purges of a report, in words and pictures: how far it can be trusted, and the strips."""

from tankfoot.batches.wall_clock import wall_text
from tankfoot.quantities.format import format_plain
from tankfoot.quantities.units import offered, units
from tankfoot.report.strips import A_PICTURE, strips
from tankfoot.report.trust import CLOSE
from tankfoot.wording import plural, words

DIGITS = 3


def trust_sentences(trust, system):
    """What is said of a ``trust``, in a ``system`` of units."""
    said = words("screens")["cost"]["trust"]
    yield plural(said["watched"], trust["watched"])
    if not trust["tapped"]:
        return
    yield plural(said["tapped"], trust["tapped"])
    share = _text(trust["close"] / trust["tapped"], "share", system)
    yield said["close"].format(**trust | {"share": share, "limit": _text(CLOSE, "duration", system)})
    if trust["median"] is not None:
        which = "before" if trust["median"] < 0.0 else "after"
        yield said[which].format(seconds=_text(abs(trust["median"]), "duration", system))
    yield said["hears"]


def strip_pictures(runs, zone, system):
    """The pictures of ``runs``, all to one scale."""
    said = words("screens")
    longest = max((run["run"] for run in runs), default=1.0)
    rows = [
        run | {"text": _beer(run, said["strip"], system),
               "label": said["cost"]["trust"]["run"].format(tank=run["tank_name"], day=wall_text(run["at"], zone)[:10])}
        for run in runs
    ]
    for first in range(0, len(rows), A_PICTURE):
        some = rows[first : first + A_PICTURE]
        says = "; ".join(f"{row['label']}: {row['text']}" for row in some)
        yield strips(some, longest, {"title": said["strip"]["title"], "says": says})


def _beer(run, said, system):
    if run["change"] is None:
        return said["no_change"]
    return said["beer"].format(seconds=_text(run["run"] - run["change"], "duration", system))


def _text(si, kind, system):
    unit = offered(kind, system)[0]
    return f"{format_plain(si / units()[unit].factor, DIGITS)} {unit}"
