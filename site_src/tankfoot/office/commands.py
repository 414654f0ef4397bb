"""The commands about exported files, as they are typed: check, merge, what is due, a calendar of it, what it cost."""

from pathlib import Path

from tankfoot.quantities.units import SYSTEMS
from tankfoot.wording import words

COULD_NOT, REFUSED = 1, 2


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


def _run(name):
    def run(options):
        from tankfoot.office.answers import ANSWERS  # it reads content, whose faults are told as those of a command

        return ANSWERS[name](options)

    return run
