"""What ``tankfoot report`` answers: what purges cost, as one page for a desk or as figures."""

import sys

from tankfoot.office.progress import progress
from tankfoot.office.report import json_of, report_of, told_by
from tankfoot.office.report_page import report_html
from tankfoot.office.taken import Collected, taker
from tankfoot.office.told import Stopped, right_files, say, stopping, written, zone_of


@stopping
def report(options):
    """The exit code."""
    if not options.json and options.output is None:
        raise Stopped(say("report", "no_output"))
    zone = zone_of(options.zone)
    collected, made = Collected(), ""
    for place, read in enumerate(right_files(options.files, taker(options.demo))):
        made = max(made, read.made)
        for part in read.gathered:
            collected.add(part, place)
    with progress("added_up") as tell:
        answer = report_of(told_by(*collected.counting(options.files)), zone, options.units, tell)
    if options.json:
        sys.stdout.writelines(piece.encode("utf-8", "backslashreplace").decode() for piece in json_of(answer))
    if options.output is not None:
        page = report_html(answer, zone, options.units, made)
        written(lambda: options.output.write_bytes(page.encode("utf-8", "backslashreplace")), options.output)
        if not options.json:
            print(options.output)
    return 0
