"""What the commands about exported files have in common: files that are right, or sentences that say why not."""

import sys

from tankfoot.office.commands import COULD_NOT, REFUSED
from tankfoot.office.progress import megabytes, progress
from tankfoot.office.streamed import read_files
from tankfoot.office.when import is_zone, own_zone
from tankfoot.wording import file_sentence, words


class Stopped(Exception):
    """Why a command goes no further: sentences, and the exit ``code``."""

    def __init__(self, says, code=REFUSED):
        super().__init__(says)
        self.code = code


def say(command, key, **facts):
    """A sentence of a ``command``."""
    return words("command")[command][key].format(**facts)


def stopping(run):
    """``run``, a command, with what stops it told and made its exit code."""
    def run_or_say_why_not(options):
        try:
            return run(options)
        except Stopped as stopped:
            print(stopped, file=sys.stderr)
            return stopped.code

    return run_or_say_why_not


def right_files(paths, gather):
    """A FileRead of each of ``paths``, all of them right. Raises Stopped at the first that is not."""
    with progress("read") as tell:
        for read in read_files(paths, gather, megabytes(tell)):
            yield right(read, len(paths) > 1)


def right(read, several, problems=()):
    """A FileRead that is right; raises Stopped where it is not, or where there are ``problems`` besides."""
    if read.error:
        raise Stopped(say("check", "cannot_read", file=read.path, reason=read.error.strerror), COULD_NOT)
    lines = [_problem_line(problem) for problem in read.problems or problems]
    if lines:
        within = (say("check", "in_file", problem=line, file=read.path) if several else line for line in lines)
        raise Stopped("\n".join(within))
    return read


def _problem_line(problem):
    line = file_sentence(problem)
    return say("check", "in_entry", problem=line, id=problem.id) if problem.id else line


def written(write, path):
    """Calls ``write``, which writes the file at ``path``; raises Stopped where it cannot."""
    try:
        write()
    except OSError as error:
        raise Stopped(say("calendar", "cannot_write", file=path, reason=error.strerror), COULD_NOT) from error


def zone_of(given):
    """The name of the zone that is ``given``, else this machine's; raises Stopped where there is none of it."""
    if given is not None and not is_zone(given):
        raise Stopped(say("due", "wrong_zone", given=given))
    zone = given or own_zone()
    if zone is None:
        print(say("due", "no_zone"), file=sys.stderr)
    return zone or "UTC"
