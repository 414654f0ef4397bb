"""What ``tankfoot due`` and ``tankfoot calendar`` answer: what is due by exported files."""

import json

from tankfoot.batches.cellar import cellar_of, known_at
from tankfoot.batches.due import rule_of
from tankfoot.batches.wall_clock import wall_text
from tankfoot.office.calendar import calendar_file
from tankfoot.office.commands import COULD_NOT
from tankfoot.office.merge import merge_entries
from tankfoot.office.told import Stopped, right_files, say, stopping, written, zone_of
from tankfoot.office.when import instant_of, present, with_offset
from tankfoot.wording import due_sentence, due_title, plural, words


@stopping
def due(options):
    """The exit code."""
    zone, _, cellar, items = _asked(options)
    names = cellar.beers | cellar.names
    rows = [_row(item, names, zone) for item in items]
    if options.json:
        text = json.dumps({"due": rows}, ensure_ascii=False)
        print(text.encode("utf-8", "backslashreplace").decode())  # half a surrogate pair as JSON's escape of it
    else:
        print(_as_table(rows, items, cellar, zone))
    return 0


@stopping
def calendar(options):
    """The exit code."""
    zone, now, cellar, items = _asked(options)
    count = sum(item["state"] != "done" for item in items)
    if not count:
        raise Stopped(say("calendar", "nothing"), COULD_NOT)
    names = cellar.beers | cellar.names
    text = calendar_file(items, cellar.rules, names, now, zone)
    written(lambda: options.output.write_bytes(text.encode()), options.output)
    print(plural(words("command")["calendar"]["done"], count), options.output)
    return 0


def _asked(options):
    """(zone, instant, Cellar, items) of what is asked for."""
    zone = zone_of(options.zone)
    at = options.at and instant_of(options.at, zone)
    if options.at is not None and not at:
        raise Stopped(say("due", "wrong_instant", given=options.at))
    entries = _merged(options.files, at)
    cellar = cellar_of(entries, options.demo)
    now = at or present()
    return zone, now, cellar, cellar.due(now, zone)


def _merged(files, at):
    """The entries of all ``files``; of a time ``at`` before the last was made, as they stood then.

    What a file holds was told before it was made, also where a clock that was set back says that it comes later.
    """
    entries, made = _one_record(files)
    return known_at(entries, at) if at and at < made else entries


def _one_record(files):
    """(the entries of all ``files``, when the last of them was made)."""
    reads = list(right_files(files, _entries))
    entries = [entry for read in reads for part in read.gathered for entry in part]
    return merge_entries([], entries).entries, max(read.made for read in reads)


def _entries(pairs):
    return [entry for entry, _ in pairs]


def _row(item, names, zone):
    return {
        "tank": names[item["tank"]], "batch": names.get(item["batch"]), "rule": item["rule"],
        "from": with_offset(item["from"], zone), "until": with_offset(item["until"], zone), "state": item["state"],
        "why": due_sentence(item, wall_text(item["why"]["at"], zone)),
    }


def _as_table(rows, items, cellar, zone):
    if not rows:
        return say("due", "nothing")
    states = words("due")["states"]
    table = [words("command")["due"]["columns"]]
    table += [
        [states[row["state"]], row["tank"], row["batch"] or "", due_title(item, rule_of(item, cellar.rules)),
         wall_text(item["from"], zone), wall_text(item["until"], zone)]
        for row, item in zip(rows, items, strict=True)
    ]
    table = [list(map(_printable, line)) for line in table]
    widths = [max(map(len, column)) for column in zip(*table, strict=True)]
    lines = ["  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip() for line in table]
    return "\n".join([lines[0], *(f"{line}\n    {row['why']}" for line, row in zip(lines[1:], rows, strict=True))])


def _printable(text):
    """A name may hold what a terminal takes for a command."""
    return "".join(letter if letter.isprintable() else "\ufffd" for letter in text)
