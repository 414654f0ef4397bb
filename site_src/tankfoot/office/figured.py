"""The figures of very many groups in columns: as dicts, those of a thousand breweries' batches fill the memory."""

from array import array
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor

from tankfoot.office.cores import context, cores, is_forked
from tankfoot.office.progress import silent
from tankfoot.report.figures import SAID_APART, figures_of_measure
from tankfoot.report.measures import MEASURES

MANY = 50_000  # purges from which on all cores reckon
PARTS = ("sum", "median", "uncertainty", "told", "assumed")
_asked = []  # what forked processes find there: it need not go from one to another


class Groups(Sequence):
    """Pairs of the name of a group and its figures, which are made when somebody looks."""

    def __init__(self, names, counts, columns, start=0):
        self.names, self.counts, self.columns, self.start = names, counts, columns, start

    def __len__(self):
        return len(self.names)

    def __getitem__(self, place):
        if isinstance(place, slice):
            return [self[each] for each in range(len(self))[place]]
        row = self.start + range(len(self))[place]
        figures = {name: _figure(name, columns, row) for name, columns in self.columns.items()}
        return self.names[place], {"purges": self.counts[row], **figures}


def _figure(name, columns, row):
    told = int(columns["told"][row])
    made = {part: columns[part][row] for part in PARTS} | {"told": told}
    made["median"] = made["median"] if told else None
    if name not in SAID_APART:
        del made["assumed"]
    return made


def figured(facts, groups, prices, baseline, tell=silent):
    """{what: Groups} of ``groups``, {what: [(name, rows, ends)]}, by figures_of_measure of each measure.

    ``tell`` is told how many of how many measures are done.
    """
    flat = [group for of in groups.values() for group in of]
    columns = dict(zip(MEASURES, _reckoned(facts, flat, prices, baseline, tell), strict=True))
    counts, start, made = array("q", (len(rows) for _, rows, _ in flat)), 0, {}
    for what, of in groups.items():
        made[what] = Groups([name for name, *_ in of], counts, columns, start)
        start += len(of)
    return made


def _reckoned(facts, groups, prices, baseline, tell):
    tell(0, len(MEASURES))
    _asked[:] = facts, groups, prices, baseline
    try:
        if len(facts["id"]) < MANY or cores() == 1 or not is_forked():
            yield from _counted(map(_of_measure, MEASURES), tell)
            return
        with ProcessPoolExecutor(cores(), context()) as workers:
            yield from _counted(workers.map(_of_measure, MEASURES), tell)
    finally:
        _asked.clear()


def _counted(columns, tell):
    for done, made in enumerate(columns, 1):
        tell(done, len(MEASURES))
        yield made


def _of_measure(name):
    facts, groups, prices, baseline = _asked
    columns = {part: array("d") for part in PARTS}
    for made in figures_of_measure(facts, groups, name, prices, baseline):
        for part, column in columns.items():
            column.append(float("nan") if made.get(part) is None else made[part])
    return columns
