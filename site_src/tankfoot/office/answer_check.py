"""What ``tankfoot check`` answers: whether each file is right, and whether its purges tell what is stored."""

import sys
from collections import Counter
from dataclasses import replace
from functools import partial

from tankfoot.office.check import counted, differences, summary_of
from tankfoot.office.progress import megabytes, progress
from tankfoot.office.streamed import read_files
from tankfoot.office.told import Stopped, right, say


def check(options):
    """The exit code: that of the file that is most wrong."""
    codes, several = [], len(options.files) > 1
    with progress("read") as tell:
        for read in read_files(options.files, partial(_looked_at, options.units), megabytes(tell)):
            codes.append(_checked(read, several))
    return max(codes)


def _checked(read, several):
    try:
        right(read, several, list(_placed(read)))
    except Stopped as stopped:
        print(stopped, file=sys.stderr)
        return stopped.code
    kinds = sum((kinds for kinds, _ in read.gathered), Counter())
    print(say("check", "right", file=read.path, summary=summary_of(kinds)))
    return 0


def _looked_at(units, entries):
    """(What they are, counted; the contradictions in them, by their places among ``entries``)."""
    kinds, found = Counter(), []
    for place, (entry, _) in enumerate(entries):
        kinds[counted(entry)] += 1
        found += [(place, problem) for problem in differences(entry, units)]
    return kinds, found


def _placed(read):
    for start, (_, found) in zip(read.starts, read.gathered, strict=True):
        for place, problem in found:
            yield replace(problem, where=f"entries[{start + place}].{problem.where}")
