"""What ``tankfoot report`` does: figures of any number of files, of whose purges facts alone are held, in columns."""

import json
import sys
from array import array
from dataclasses import dataclass, field
from functools import partial

from tankfoot.office.latest import Identifying, Latest
from tankfoot.office.report import as_json, is_finished, report_of, told_of
from tankfoot.office.report_page import report_html
from tankfoot.office.told import Stopped, right_files, say, stopping, written, zone_of
from tankfoot.report.facts import COLUMNS, fact_of
from tankfoot.report.misses import misses_of

NAMED = {"id", "at", "created", "demo", "tank", "tank_name", "kind", "batch", "tool", "assumed"}  # are no numbers
FEW = {"tank", "tank_name", "kind", "tool"}  # texts that come again and again
KEPT = ("tank", "batch", "batch-event", "cost-basis")
TELL_OF_MISSES = ("purge", "list-run")
NO_ROW = -1


@stopping
def report(options):
    """The exit code."""
    if not options.json and options.output is None:
        raise Stopped(say("report", "no_output"))
    zone = zone_of(options.zone)
    told, made_at = told_by_files(options.files, options.demo)
    made = report_of(told, zone, options.units)
    if options.json:
        print(json.dumps(as_json(made), ensure_ascii=False).encode("utf-8", "backslashreplace").decode())
    if options.output is not None:
        page = report_html(made, zone, options.units, made_at).encode("utf-8", "backslashreplace")
        written(lambda: options.output.write_bytes(page), options.output)
        if not options.json:
            print(options.output)
    return 0


def told_by_files(files, demo):
    """(What the ``files`` tell together, by the law of a merge, when the last of them was made)."""
    all_told, latest, made = _Part(), Latest(), ""
    for place, read in enumerate(right_files(files, partial(_taken, demo))):
        made = max(made, read.made)
        for identities, part in read.gathered:
            latest.add(identities, all_told.add(part), place)
    counting = array("q", (number for _, number in latest.numbers(files)))
    del latest
    return all_told.only(counting), made


@dataclass
class _Part:
    """What some entries tell: ``rows``, the row of each in ``facts`` or NO_ROW; misses and other entries by number."""

    rows: array = field(default_factory=lambda: array("q"))
    facts: dict = field(default_factory=lambda: {name: _column(name) for name in COLUMNS})
    misses: dict[int, dict] = field(default_factory=dict)
    kept: dict[int, dict] = field(default_factory=dict)

    def take(self, entry):
        """Adds an entry that counts."""
        number = len(self.rows)
        if is_finished(entry):
            self.rows.append(len(self.facts["id"]))
            for name, value in fact_of(entry, None).items():
                self.facts[name].append(value if name in NAMED else _number(value))
        else:
            self.pass_over()
        if entry["kind"] in KEPT:
            self.kept[number] = entry
        if entry["kind"] in TELL_OF_MISSES and (missed := misses_of(entry)):
            self.misses[number] = missed

    def pass_over(self):
        """Adds an entry that tells nothing."""
        self.rows.append(NO_ROW)

    def add(self, part):
        """Adds another part; the numbers of its entries."""
        first, row = len(self.rows), len(self.facts["id"])
        self.rows.extend(found if found == NO_ROW else row + found for found in part.rows)
        for name, column in self.facts.items():
            column.extend(map(_once, part.facts[name]) if name in FEW else part.facts[name])
        self.misses |= {first + number: missed for number, missed in part.misses.items()}
        self.kept |= {first + number: entry for number, entry in part.kept.items()}
        return range(first, len(self.rows))

    def only(self, numbers):
        """What the entries of these ``numbers`` tell; this part is used up."""
        rows = array("q", (self.rows[number] for number in numbers if self.rows[number] != NO_ROW))
        facts = {}
        for name in COLUMNS:
            column = self.facts.pop(name)
            facts[name] = _column(name)
            facts[name].extend(column[row] for row in rows)
        kept = [self.kept[number] for number in numbers if number in self.kept]
        return told_of(facts, kept, [self.misses[number] for number in numbers if number in self.misses])


def _taken(demo, entries):
    """(Identities, what they tell) of ``entries``; invented ones count with ``demo`` alone, deleted ones never."""
    identifying, part = Identifying(), _Part()
    for entry, text in entries:
        identifying.add(entry, text)
        if entry["deleted"] or (entry["demo"] and not demo):
            part.pass_over()
        else:
            part.take(entry)
    return identifying.made, part


def _column(name):
    return [] if name in NAMED else array("d")


def _number(value):
    return float("nan") if value is None else value


def _once(text):
    """The same text of many purges is held once."""
    return text and sys.intern(text)
