"""What ``tankfoot rehearse`` answers: the course of a scripted purge on a simulated tank."""

import json
import tomllib

from tankfoot.office.commands import COULD_NOT
from tankfoot.office.told import Stopped, say, stopping
from tankfoot.quantities.format import format_in
from tankfoot.quantities.units import KINDS
from tankfoot.rehearsal.play import play
from tankfoot.rehearsal.scenarios import FACTS, WANTED, ScenarioError, rows_of_acts, scenarios
from tankfoot.rehearsal.seen import done
from tankfoot.wording import words

# {a place in the sentence about the end: (column of the course, kind of quantity)}
END = {
    "t": ("t", "duration"), "pressure": ("pressure", "gauge_pressure"), "beer": ("beer_lost", "bucket_volume"),
    "solids": ("solids_out", "bucket_volume"), "co2": ("co2_lost", "gas_mass"),
}


@stopping
def rehearse(options):
    """The exit code."""
    scenario = scenarios().get(options.scenario)
    if scenario is None:
        raise Stopped(say("rehearse", "none", given=options.scenario, known=", ".join(scenarios())))
    acts = scenario["right"] if options.acts is None else _acts(options.acts)
    played = play(scenario, scenario["name"], acts, None)
    if options.json:
        print(json.dumps({"scenario": scenario["name"], "events": played["events"], "course": played["course"]}))
    else:
        print("\n".join(_told(scenario, played, options.units)))
    return 0


def _acts(file):
    """The rows of acts in a file: a JSON list, or TOML with a table ``acts`` a row."""
    try:
        text = file.read_text(encoding="utf-8")
        rows = tomllib.loads(text).get("acts") if file.suffix == ".toml" else json.loads(text)
        return rows_of_acts(rows, file.name)
    except OSError as error:
        raise Stopped(say("check", "cannot_read", file=file, reason=error.strerror), COULD_NOT) from error
    except ValueError as wrong:
        raise Stopped(say("rehearse", "no_acts", file=file.name, reason=wrong)) from wrong
    except ScenarioError as wrong:
        raise Stopped(str(wrong)) from wrong


def _told(scenario, played, system):
    own, end = words("rehearsal"), played["course"][-1]
    yield own["scenarios"][scenario["name"]]["title"]
    yield say("rehearse", "picture")
    for event in played["events"]:
        yield from _event(event, own, system)
        if event.get("happened") in scenario["done"]["no-mistake"]:
            yield say("rehearse", "instead", instead=own["happened"][event["happened"]]["instead"])
    yield say("rehearse", "end", **{name: _shown(end[column], kind, system) for name, (column, kind) in END.items()})
    for each in done(played["state"], scenario["done"]):
        says = _wanted(each["done"], scenario["done"][each["done"]], own["done"], system)
        yield from (say("rehearse", "met" if each["met"] else "not_met", says=text) for text in says)


def _event(event, own, system):
    at = f"{event['t']:7.2f}"
    if "act" in event:
        yield say("rehearse", "act", t=at, act=event["act"], to=event["to"])
        return
    facts = {name: _shown(value, FACTS[name], system) if name in FACTS else own["reasons"].get(value, value)
             for name, value in event["facts"].items()}
    yield say("rehearse", "happened", t=at, says=own["happened"][event["happened"]]["says"].format(**facts))


def _wanted(code, limit, own, system):
    """What counts as done, in words: a sentence, or one for each of several."""
    if isinstance(own[code], dict):
        return [own[code][each] for each in (limit if isinstance(limit, list) else [limit])]
    return [own[code].format(limit=_shown(limit, WANTED[code], system) if code in WANTED else "")]


def _shown(si, kind, system):
    return format_in(si, KINDS[kind][system][0], 3)
