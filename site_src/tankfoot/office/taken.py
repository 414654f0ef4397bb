"""What a report takes of the entries of any number of files: a million purges in columns, and little of all else."""

from array import array
from functools import partial

from tankfoot.office import events
from tankfoot.office.columns import Ids, Instants, Numbers, taken
from tankfoot.office.latest import Identifying, Latest
from tankfoot.purge.machine import LAST
from tankfoot.report.facts import COLUMNS, fact_of
from tankfoot.report.misses import misses_of
from tankfoot.report.strips import run_of

FACTS = dict.fromkeys(COLUMNS, Numbers)
FACTS |= dict.fromkeys(("tank", "tank_name", "kind", "tool", "assumed", "watched"), list)
FACTS |= {"id": Ids, "at": Instants, "created": Instants}
del FACTS["batch"], FACTS["demo"]  # the one is known once all files are read, the other never asked for
NAMED = {"tank": "name", "batch": "beer"}
MISSES = ("purge", "list-run")
STRIPS = 50  # watched runs that a report shows: the last ones
SPARE = 10  # times as many are kept meanwhile: some are of versions of a purge that will not count


class Table:
    """Rows of some entries, in columns; ``numbers``: which entry each row is of."""

    def __init__(self, columns):
        self.columns, self.numbers = {name: column() for name, column in columns.items()}, array("q")

    def fill(self, rows, known):
        """``rows``: pairs of a number and a dict. ``known``: texts that are there already: each is kept once."""
        self.numbers.extend(number for number, _ in rows)
        for name, column in self.columns.items():
            values = [row[name] for _, row in rows]
            if type(column) is list:
                column.extend(map(known.setdefault, values, values))
            else:
                column.put(values)

    def extend(self, table, first, known):
        """``first``: the number of the first entry of the other ``table``'s part."""
        self.numbers.extend(first + number for number in table.numbers)
        for name, column in self.columns.items():
            told = table.columns[name]
            column.extend(map(known.setdefault, told, told) if type(column) is list else told)

    def of(self, order, count, by=None):
        """The columns of the rows of entries in ``order``, of ``count`` entries in all; this table is used up.

        ``by``: a column in whose order they stand; those of one value of it in that of ``order``.
        """
        rows = array("q", [-1]) * count
        for row, number in enumerate(self.numbers):
            rows[number] = row
        kept = array("q", (rows[number] for number in order if rows[number] >= 0))
        kept = array("q", sorted(kept, key=self.columns[by].__getitem__)) if by else kept
        return {name: taken(self.columns.pop(name), kept) for name in [*self.columns]}


class Part:
    """Of a part of a file: who its entries are, its purges and events of batches; by places ``runs`` and ``others``."""

    def __init__(self):
        self.identities, self.runs, self.others = None, {}, {}
        self.facts, self.events = Table(FACTS), Table(events.COLUMNS)


def taker(demo):
    """What makes a Part of pairs of an entry and its text; of invented ones it takes something with ``demo`` alone."""
    return partial(_take, demo)


def _take(demo, entries):
    part, identifying, facts, happened, known = Part(), Identifying(), [], [], {}
    for place, (entry, text) in enumerate(entries):
        identifying.add(entry, text)
        if entry["deleted"] or (entry["demo"] and not demo):
            continue
        kind, body = entry["kind"], entry["body"]
        if kind == "purge" and body["state"] == LAST:
            facts.append((place, fact_of(entry, None)))
            if run := run_of(body):
                part.runs[place] = run | {"at": facts[-1][1]["at"], "tank_name": body["tank_name"]}
        if kind == "batch-event" and events.tells(body["event"]):
            happened.append((place, events.row_of(entry)))
        elif other := _other(kind, body, entry):
            part.others[place] = other
    part.runs = _latest(part.runs)
    part.facts.fill(facts, known)
    part.events.fill(happened, known)
    part.identities = identifying.made
    return part


def _latest(runs):
    """The last of ``runs`` by their places, so that those of a million purges take little room."""
    kept = sorted(runs, key=lambda place: runs[place]["at"])[-STRIPS * SPARE :]
    return {place: runs[place] for place in kept}


def _other(kind, body, entry):
    """(what it is, what is taken of it); None of what tells nothing."""
    if kind in MISSES:
        told = misses_of(entry)
        return told and ("misses", told)
    if kind in NAMED:
        return kind, (entry["id"], body[NAMED[kind]])
    return (kind, entry | {"history": []}) if kind == "cost-basis" else None


class Collected:
    """Parts of files put together, by the law of merging."""

    def __init__(self):
        self._latest, self._count, self._known, self._runs = Latest(), 0, {}, {}
        self._facts, self._events, self._others = Table(FACTS), Table(events.COLUMNS), {}

    def add(self, part, file):
        """``file``: the place of the part's file among all."""
        first, size = self._count, len(part.identities.ids)
        self._count += size
        self._latest.add(part.identities, range(first, first + size), file)
        self._facts.extend(part.facts, first, self._known)
        self._events.extend(part.events, first, self._known)
        self._runs = _latest(self._runs | {first + place: run for place, run in part.runs.items()})
        self._others.update((first + place, other) for place, other in part.others.items())

    def counting(self, paths):
        """(columns of purges, columns of events, {what it is: what is taken} of all else) of entries that count.

        In the order of their ids, so that no order of files is told from another; purges by their instruments first,
        which is how figures add up (figures.py).
        """
        order = self._latest.numbers(paths)
        self._latest = None
        others = {}
        for number in order:
            if number in self._others:
                kind, told = self._others[number]
                others.setdefault(kind, []).append(told)
        runs = sorted((self._runs[number] for number in order if number in self._runs), key=lambda run: run["at"])
        others["run"] = runs[: -STRIPS - 1 : -1]
        return self._facts.of(order, self._count, "tool"), self._events.of(order, self._count), others
