"""The commands about files, as they are typed: check, merge, what is due, a watched glass, a rehearsal."""

from argparse import ArgumentTypeError
from importlib import import_module
from pathlib import Path

from tankfoot.quantities.units import SYSTEMS
from tankfoot.wording import words

COULD_NOT, REFUSED = 1, 2
PLACE = "LEFT,TOP,WIDTH,HEIGHT"
ANSWERED_IN = {"calendar": "answer_due"}  # of any other command, in the module of its own name
MIDDLE = (40.0, 40.0, 20.0, 20.0)  # percent of a film's picture


def add_commands(command):
    """Adds them to a parser; ``command``: (name, what runs it) -> the parser of one command, and its words."""
    check, says = command("check", _run("check"))
    check.add_argument("files", nargs="+", type=Path, metavar="FILE")
    check.add_argument("--units", choices=SYSTEMS, default="us", help=says["units"])

    merge, says = command("merge", _run("merge"))
    merge.add_argument("files", nargs="+", type=Path, metavar="EXPORT", help=says["files"])
    merge.add_argument("-o", "--output", type=Path, required=True, metavar="FILE", help=says["output"])

    due, says = command("due", _run("due"))
    _add_what_is_asked(due)
    due.add_argument("--json", action="store_true", help=says["json"])

    calendar, says = command("calendar", _run("calendar"))
    _add_what_is_asked(calendar)
    calendar.add_argument("-o", "--output", type=Path, required=True, metavar="FILE", help=says["output"])

    watch, says = command("watch", _run("watch"))
    watch.add_argument("file", type=Path, metavar="SERIES.csv|FILM", help=says["file"])
    watch.add_argument("--glass", type=_place, default=MIDDLE, metavar=PLACE, help=says["glass"])
    watch.add_argument("--reference", type=_place, metavar=PLACE, help=says["reference"])
    watch.add_argument("--json", action="store_true", help=says["json"])

    rehearse, says = command("rehearse", _run("rehearse"))
    rehearse.add_argument("scenario", metavar="SCENARIO", help=says["scenario"])
    rehearse.add_argument("--acts", type=Path, metavar="FILE", help=says["acts"])
    rehearse.add_argument("--json", action="store_true", help=says["json"])
    rehearse.add_argument("--units", choices=SYSTEMS, default="us", help=says["units"])

    report, says = command("report", _run("report"))
    report.add_argument("files", nargs="+", type=Path, metavar="EXPORT", help=says["files"])
    report.add_argument("-o", "--output", type=Path, metavar="FILE", help=says["output"])
    report.add_argument("--json", action="store_true", help=says["json"])
    report.add_argument("--zone", metavar="NAME", help=words("command")["due"]["zone"])
    report.add_argument("--units", choices=SYSTEMS, default="us", help=says["units"])
    report.add_argument("--demo", action="store_true", help=words("command")["due"]["demo"])

    table, says = command("table", _run("table"))
    table.add_argument("files", nargs="+", type=Path, metavar="EXPORT", help=words("command")["report"]["files"])
    table.add_argument("-o", "--output", type=Path, required=True, metavar="FILE", help=says["output"])
    table.add_argument("--zone", metavar="NAME", help=words("command")["due"]["zone"])
    table.add_argument("--units", choices=SYSTEMS, default="us", help=says["units"])
    table.add_argument("--demo", action="store_true", help=words("command")["due"]["demo"])


def _add_what_is_asked(parser):
    says = words("command")["due"]
    parser.add_argument("files", nargs="+", type=Path, metavar="EXPORT", help=says["files"])
    parser.add_argument("--at", metavar="INSTANT", help=says["at"])
    parser.add_argument("--zone", metavar="NAME", help=says["zone"])
    parser.add_argument("--demo", action="store_true", help=says["demo"])


def _place(text):
    """(left, top, width, height) in percent of a picture."""
    try:
        left, top, width, height = map(float, text.split(","))
    except ValueError:
        left = top = width = height = -1.0
    if not (0.0 <= left < left + width <= 100.0 and 0.0 <= top < top + height <= 100.0):
        raise ArgumentTypeError(words("command")["watch"]["wrong_place"].format(given=text))
    return left, top, width, height


def _run(name):
    def run(options):
        # Read as it runs: then faults of the content are told as those of a command, and no other command is read.
        answers = import_module(f"{__package__}.{ANSWERED_IN.get(name, f'answer_{name}')}")
        return getattr(answers, name)(options)

    return run
