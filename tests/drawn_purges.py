"""Purges drawn at random, for the twins of the rooms that know them."""

from datetime import UTC, datetime, timedelta

from cases import ODD_TEXTS
from tankfoot.purge.machine import AGED, FIRST, HAND, SKIP, TROUBLE, UNDO, WrongEvent, state_after, tables
from tankfoot.purge.margin import draw_limit
from tankfoot.purge.stack import typical
from tankfoot.quantities.format import format_in
from tankfoot.quantities.units import KINDS, SYSTEMS


def events(seconds, overrun=None):
    """A port opened for ``seconds``, the last ``overrun`` of them past the colour change."""
    opened = datetime(2026, 3, 2, 7, tzinfo=UTC)
    at = {"opened": 0.0, **({} if overrun is None else {"colour-change": seconds - overrun}), "closed": seconds}
    return [{"state": "run", "event": name, "at": instant(opened + timedelta(seconds=s))} for name, s in at.items()]


def instant(moment):
    return moment.strftime("%Y-%m-%dT%H:%M:%S.") + f"{moment.microsecond // 1000:03d}Z"


def body(readings, *, seconds=60.0, overrun=None, gas_shut=True):
    return {"events": events(seconds, overrun), "readings": readings, "gas_shut": gas_shut}


def seen(rng):
    """What a camera may have seen of a run, as a member of a purge's body; of most runs there is nothing."""
    told = {"turning_at": None, "beer_at": rng.choice((None, 0.0, 29.75, 70.0, round(rng.uniform(1.0, 300.0), 3))),
            "unseen": [], "taken": rng.random() < 0.6}
    return rng.choice(({}, {"watched": told}))


def watched_purge(rng):
    """The events of a purge, all its own or some of its run alone, and what a camera saw of that."""
    run = events(rng.choice((70.0, -5.0, round(rng.uniform(1.0, 300.0), 3))), rng.choice((None, 0.0, 9.5, 400.0)))
    run = rng.sample(run, rng.choice((len(run), len(run), 1)))
    return {"events": rng.choice((run, run, purge_by_its_table(rng)[0])), **seen(rng)}


PARTS = ("volume_lost", "solids", "beer_in_solids", "overrun", "money_lost")


def told_purge(rng):
    """The body of a purge with some results, whether or not a share of beer in the solids was typed."""
    results = {name: {"value": rng.uniform(0.0, 0.2), "uncertainty": rng.choice((None, rng.uniform(0.0, 0.1)))}
               for name in PARTS if rng.random() < 0.7}
    return {"readings": rng.choice(({}, {"beer_share": ""}, {"beer_share": "40 %"})), "result": results}


TYPED = {
    "headspace": ("bbl", 0.5, 40.0), "temperature": ("°F", 30.0, 70.0), "air_pressure": ("kPa", 75.0, 103.0),
    "pressure_before": ("psi", 5.0, 20.0), "pressure_after": ("psi", 0.0, 10.0), "target_pressure": ("psi", 5.0, 16.0),
    "rated_pressure": ("psi", 14.0, 30.0), "flow": ("gal/min", 0.5, 30.0), "collected_volume": ("gal", 0.5, 60.0),
    "collected_mass": ("lb", 5.0, 500.0), "beer_share": ("%", 0.0, 100.0), "usual_overrun": ("gal", 0.0, 9.0),
    "beer_value": ("$/bbl", 50.0, 300.0),
}


def purge(rng):
    """A purge's body and a system of units: most of it plausible, some of it not."""
    readings = {name: typed(rng, *row) for name, row in TYPED.items() if rng.random() < 0.75}
    if rng.random() < 0.2:
        readings[rng.choice(list(TYPED))] = rng.choice(ODD_TEXTS)
    seconds = rng.choice((round(rng.uniform(1.0, 300.0), 3), 0.0, 45.0))
    made = body(readings, seconds=seconds, overrun=rng.choice((None, 0.0, round(seconds * rng.random(), 3))),
                gas_shut=rng.choice((True, True, False, None)))
    if rng.random() < 0.1:
        made["events"].pop(rng.randrange(len(made["events"])))
    elif rng.random() < 0.2:
        made["events"].insert(rng.randrange(len(made["events"])), {**made["events"][0], "event": "undo"})
    return made | seen(rng), rng.choice(list(SYSTEMS))


def typed(rng, unit, low, high):
    number = f"{rng.uniform(low, high):.{rng.randrange(4)}f}"
    spread = rng.choice(("", "", f" ± {0.05 * low + 0.1:.2f}", " ± 0", " ± 1e-200"))
    return number + spread + rng.choice(("", f" {unit}", f" {unit}"))


def planned_draw(rng):
    """Readings of a purge before a planned draw, and a system of units."""
    texts = {
        "headspace": f"{rng.uniform(1.0, 20.0):.2f}{rng.choice(('', ' bbl', ' ± 5 %'))}",
        "temperature": f"{rng.uniform(30.0, 60.0):.1f} °F",
        "pressure_before": f"{rng.choice((0.0, rng.uniform(0.5, 18.0))):.1f} psi",
        "planned_draw": f"{10 ** rng.uniform(-2.0, 1.0):.3f}{rng.choice(('', ' bbl', ' hL', ' ± 60 %'))}",
    }
    if rng.random() < 0.5:
        texts["floor_pressure"] = f"{rng.uniform(0.0, 12.0):.1f} psi"
    if rng.random() < 0.2:  # a plan that is the limit itself
        texts["planned_draw"] = format_in(draw_limit(texts, "us", "hL")[0], "hL", 3)
    if rng.random() < 0.2:
        texts[rng.choice(list(texts))] = rng.choice(ODD_TEXTS)
    return texts, rng.choice(list(SYSTEMS))


def planned_draw_in_a_unit(rng):
    return [*planned_draw(rng), rng.choice([symbol for offer in KINDS["tank_volume"].values() for symbol in offer])]


def purge_by_its_table(rng):
    """The events of a purge in the order of the work, some taken back, at times one that does not belong; its table."""
    name = rng.choice(list(tables()))
    state, made, moment = FIRST, [], datetime(2026, 3, 2, 7, tzinfo=UTC)
    for _ in range(rng.randint(0, 40)):
        onward = list(tables()[name][state].events)
        event = rng.choice((*onward, *onward, *onward, TROUBLE, SKIP, UNDO, AGED, HAND, "opened"))
        moment += timedelta(seconds=rng.choice((1, 40, 1799, 1800)))
        said = rng.choice(({"by": rng.choice(("AB", "CD", ""))}, {"pace": "short"}, {"pace": "short"}))
        data = {"data": said} if rng.random() < 0.3 else {}
        made.append({"state": state, "event": event, "at": instant(moment), **data})
        try:
            state = state_after(made, name)
        except WrongEvent:
            if rng.random() < 0.95:
                made.pop()
            else:
                break
    return [made, name]


def purge_at_an_instant(rng):
    made, name = purge_by_its_table(rng)
    last = datetime.fromisoformat(made[-1]["at"]) if made else datetime(2026, 3, 2, 7, tzinfo=UTC)
    now = last + timedelta(seconds=rng.choice((-5, 0, 1799.999, 1800, 9000)))
    return [made, instant(now), rng.choice((None, "AB", "CD")), name]


def step_of_a_purge(rng):
    name = rng.choice(list(tables()))
    states = tables()[name]
    state = rng.choice(list(states))
    events = [SKIP, TROUBLE, AGED, HAND, "no-such-event", "constructor"]
    events += [event for step in states.values() for event in step.events]
    event = rng.choice((rng.choice(events), *states[state].events))
    return [rng.choice((state, state, state, "nowhere")), event, names_of_events(rng), name]


def names_of_events(rng):
    known = ("begin", "begin-open", "begin-bubbling", "begin-spunding", "closed", "opened", "x")
    return rng.sample(known, rng.randint(0, 4))


def step_on_a_way(rng):
    """A step at which a purge of some kind of tank is, and a table."""
    name = rng.choice(list(tables()))
    begun = rng.choice((["begin"], ["begin"], ["begin-open"], ["begin-spunding", "closed"], ["begin", "closed"], []))
    return [rng.choice(list(tables()[name])), begun, name]


def hand_and_its_past(rng):
    """Initials, purges and practices of a few hands, an instant, how many answers make a practice, the site's wish."""
    purges = []
    for _ in range(rng.choice((0, 1, 4, 5, 6))):
        data = rng.choice(({}, {"data": {"by": "AB"}}, {"data": {"pace": rng.choice(("short", "every"))}}))
        made = [{"state": "choose", "event": rng.choice(("begin", "begin-open")), "at": _days_on(rng), **data}]
        made += [{"state": "finish", "event": "save", "at": _days_on(rng)}] * rng.randint(0, 1)
        state = rng.choice(("saved", "saved", "saved", "saved", "rinse"))
        purges.append({"initials": rng.choice(("AB", "AB", "AB", "CD", None)), "state": state, "events": made})
    practices = [{"exercise": rng.choice(("which-clamp", "rehearsal")),
                  "answers": [{"right": rng.random() < 0.9, "at": _days_on(rng)} for _ in range(rng.randint(0, 4))],
                  **rng.choice(({}, {"initials": "AB"}, {"initials": "AB"}))} for _ in range(rng.randint(0, 3))]
    initials, now = rng.choice(("AB", "AB", "AB", "CD", "", None)), "2026-05-01T07:00:00.000Z"
    return [initials, purges, practices, now, rng.choice((1, 3)), rng.random() < 0.1]


def _days_on(rng):
    days = rng.choice((0, 29, 30, 31, 32, 60))  # thirty days before the instant is the first of April
    return instant(datetime(2026, 3, 1, 7, tzinfo=UTC) + timedelta(days=days, milliseconds=rng.choice((0, 0, 1))))


def parts(rng):
    """Parts of a stack, right or wrong."""
    made = list(rng.choice(list(typical().values())))
    for _ in range(rng.choice((0, 1, 2))):
        place = rng.randrange(len(made))
        other = rng.choice(("clamp", "butterfly", "diaphragm", "hose", "cap", "tee"))
        made[place : place + rng.choice((0, 1))] = [other]
    return made


def pressures_of_a_purge(rng):
    names = ("pressure_found", "target_pressure", "pressure_before", "pressure_after")
    readings = {name: typed(rng, "psi", -2.0, 50.0) for name in (*names, "rated_pressure") if rng.random() < 0.8}
    if rng.random() < 0.3:
        readings["pressure_found"] = readings.get("rated_pressure", "15 psi")
    if rng.random() < 0.1:
        readings["pressure_before"] = rng.choice(ODD_TEXTS)
    return [rng.sample(names, rng.randint(0, 4)), readings, rng.choice(list(SYSTEMS))]


def purge_of_a_round(rng):
    """A purge's body as a round looks at it: any state, wet or not, under way, saved or left; or none."""
    if rng.random() < 0.1:
        return None
    events, state = purge_by_its_table(rng)[0], rng.choice((*tables()["2"], *["contact"] * 9, "nowhere"))
    if rng.random() < 0.7:
        at = instant(datetime(2026, 3, 2, rng.randrange(24), tzinfo=UTC))
        events.append({"event": "wet", "state": "sanitise", "at": at})
    return {"state": state, "events": events} | ({"open": 1} if rng.random() < 0.8 else {})


DRAWN = {
    "names of events": names_of_events,
    "purge of a round": purge_of_a_round,
    "events of a purge": lambda rng: purge_by_its_table(rng)[0],
    "parts": parts,
    "stack": lambda rng: rng.choice(list(typical().values())),
    "purge": lambda rng: purge(rng)[0],
    "told purge": told_purge,
    "watched purge": watched_purge,
}
ARGUMENTS = {
    "planned draw": lambda rng: list(planned_draw(rng)),
    "planned draw in a unit": planned_draw_in_a_unit,
    "purge by its table": purge_by_its_table,
    "purge at an instant": purge_at_an_instant,
    "step of a purge": step_of_a_purge,
    "step on a way": step_on_a_way,
    "hand and its past": hand_and_its_past,
    "pressures of a purge": pressures_of_a_purge,
}
