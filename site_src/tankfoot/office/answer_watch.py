"""What ``tankfoot watch`` answers: when solids turned to beer, by a series of a glass's colours or by a film of it."""

import json

from tankfoot.office.commands import COULD_NOT
from tankfoot.office.series import SeriesError, samples_of
from tankfoot.office.told import Stopped, say, stopping
from tankfoot.watch.seen import answer, watched
from tankfoot.wording import words


@stopping
def watch(options):
    """The exit code."""
    try:
        told = answer(watched(samples_of(options.file, options.glass, options.reference)))
    except SeriesError as wrong:
        raise Stopped(say("watch", wrong.key, file=options.file, **wrong.facts)) from wrong
    except OSError as error:
        raise Stopped(say("check", "cannot_read", file=options.file, reason=error.strerror), COULD_NOT) from error
    if options.json:
        print(json.dumps(told))
        return 0
    says = words("command")["watch"]
    for name, none in (("turning_at", "no_turning_at"), ("beer_at", "no_beer_at")):
        print(says[none] if told[name] is None else says[name].format(seconds=f"{told[name]:.1f}"))
    for start, end, why in told["unseen"]:
        print(says["unseen"].format(start=f"{start:.1f}", end=f"{end:.1f}", why=says["why"][why]))
    return 0
