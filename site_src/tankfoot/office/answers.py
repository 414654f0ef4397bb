"""What the commands about files answer: whether they are right, one of several, what is due, what a glass shows."""

import json
import sys

from tankfoot import __version__
from tankfoot.batches.cellar import cellar_of, known_at
from tankfoot.batches.due import rule_of
from tankfoot.batches.wall_clock import wall_text
from tankfoot.office.calendar import calendar_file
from tankfoot.office.check import check_file, contradictions, summary
from tankfoot.office.commands import COULD_NOT, REFUSED
from tankfoot.office.merge import merge_entries
from tankfoot.office.series import SeriesError, samples_of
from tankfoot.office.transfer import export_file, in_parts
from tankfoot.office.when import instant_of, is_zone, own_zone, present, with_offset
from tankfoot.watch.seen import answer, watched
from tankfoot.wording import due_sentence, due_title, file_sentence, plural, words


class Stopped(Exception):
    """Why a command goes no further: sentences, and the exit ``code``."""

    def __init__(self, says, code=REFUSED):
        super().__init__(says)
        self.code = code


def _say(command, key, **facts):
    return words("command")[command][key].format(**facts)


def _stopping(run):
    def run_or_say_why_not(options):
        try:
            return run(options)
        except Stopped as stopped:
            print(stopped, file=sys.stderr)
            return stopped.code

    return run_or_say_why_not


def _due(options):
    zone, _, cellar, items = _asked(options)
    names = cellar.beers | cellar.names
    rows = [_row(item, names, zone) for item in items]
    if options.json:
        text = json.dumps({"due": rows}, ensure_ascii=False)
        print(text.encode("utf-8", "backslashreplace").decode())  # half a surrogate pair as JSON's escape of it
    else:
        print(_as_table(rows, items, cellar, zone))
    return 0


def _calendar(options):
    zone, now, cellar, items = _asked(options)
    count = sum(item["state"] != "done" for item in items)
    if not count:
        raise Stopped(_say("calendar", "nothing"), COULD_NOT)
    names = cellar.beers | cellar.names
    try:
        options.output.write_bytes(calendar_file(items, cellar.rules, names, now, zone).encode())
    except OSError as error:
        why_not = _say("calendar", "cannot_write", file=options.output, reason=error.strerror)
        raise Stopped(why_not, COULD_NOT) from error
    print(plural(words("command")["calendar"]["done"], count), options.output)
    return 0


def _merge(options):
    """One record of several files, the same to the byte in whatever order they are named."""
    entries, made = _one_record(options.files)
    parts = in_parts(entries)
    stem, end = options.output.stem, options.output.suffix
    paths = [options.output] if len(parts) == 1 else [
        options.output.with_name(f"{stem}-{number}{end}") for number in range(1, len(parts) + 1)
    ]
    for path, part in zip(paths, parts, strict=True):
        try:
            path.write_text(export_file(part, __version__, made), encoding="utf-8", errors="surrogatepass")
        except OSError as error:
            why_not = _say("calendar", "cannot_write", file=path, reason=error.strerror)
            raise Stopped(why_not, COULD_NOT) from error
    print(_say("check", "right", file=", ".join(map(str, paths)), summary=summary(entries)))
    return 0


def _asked(options):
    """(zone, instant, Cellar, items) of what is asked for."""
    zone = _zone(options.zone)
    at = options.at and instant_of(options.at, zone)
    if options.at is not None and not at:
        raise Stopped(_say("due", "wrong_instant", given=options.at))
    entries = _merged(options.files, at)
    cellar = cellar_of(entries, options.demo)
    now = at or present()
    return zone, now, cellar, cellar.due(now, zone)


def _zone(given):
    if given is not None and not is_zone(given):
        raise Stopped(_say("due", "wrong_zone", given=given))
    zone = given or own_zone()
    if zone is None:
        print(_say("due", "no_zone"), file=sys.stderr)
    return zone or "UTC"


def _merged(files, at):
    """The entries of all ``files``; of a time ``at`` before the last was made, as they stood then.

    What a file holds was told before it was made, also where a clock that was set back says that it comes later.
    """
    entries, made = _one_record(files)
    return known_at(entries, at) if at and at < made else entries


def _one_record(files):
    """(the entries of all ``files``, when the last of them was made)."""
    entries, made = [], ""
    for file in files:
        contents = _right(file, len(files) > 1)
        entries, made = merge_entries(entries, contents.entries).entries, max(made, contents.made)
    return entries, made


def _row(item, names, zone):
    return {
        "tank": names[item["tank"]], "batch": names.get(item["batch"]), "rule": item["rule"],
        "from": with_offset(item["from"], zone), "until": with_offset(item["until"], zone), "state": item["state"],
        "why": due_sentence(item, wall_text(item["why"]["at"], zone)),
    }


def _as_table(rows, items, cellar, zone):
    if not rows:
        return _say("due", "nothing")
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


def _check(options):
    several = len(options.files) > 1
    return max([_check_one(file, options.units, several) for file in options.files])


def _check_one(file, units, several):
    try:
        contents = _right(file, several, units)
    except Stopped as stopped:
        print(stopped, file=sys.stderr)
        return stopped.code
    print(_say("check", "right", file=file, summary=summary(contents.entries)))
    return 0


def _right(file, several, units=None):
    """The Contents of a ``file`` that is right; with ``units`` its purges are reckoned again too."""
    try:
        contents = check_file(file)
    except OSError as error:
        raise Stopped(_say("check", "cannot_read", file=file, reason=error.strerror), COULD_NOT) from error
    problems = contents.problems or (contradictions(contents.entries, units) if units else [])
    if problems:
        lines = map(_problem_line, problems)
        if several:
            lines = (_say("check", "in_file", problem=line, file=file) for line in lines)
        raise Stopped("\n".join(lines))
    return contents


def _problem_line(problem):
    line = file_sentence(problem)
    return _say("check", "in_entry", problem=line, id=problem.id) if problem.id else line


def _watch(options):
    try:
        told = answer(watched(samples_of(options.file, options.glass, options.reference)))
    except SeriesError as wrong:
        raise Stopped(_say("watch", wrong.key, file=options.file, **wrong.facts)) from wrong
    except OSError as error:
        raise Stopped(_say("check", "cannot_read", file=options.file, reason=error.strerror), COULD_NOT) from error
    if options.json:
        print(json.dumps(told))
        return 0
    says = words("command")["watch"]
    for name, none in (("turning_at", "no_turning_at"), ("beer_at", "no_beer_at")):
        print(says[none] if told[name] is None else says[name].format(seconds=f"{told[name]:.1f}"))
    for start, end, why in told["unseen"]:
        print(says["unseen"].format(start=f"{start:.1f}", end=f"{end:.1f}", why=says["why"][why]))
    return 0


ANSWERS = {
    "check": _check, "merge": _stopping(_merge), "due": _stopping(_due), "calendar": _stopping(_calendar),
    "watch": _stopping(_watch),
}
