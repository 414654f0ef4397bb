"""Two paces of one table: every step on a screen of its own, or, for a trained hand, steps that share one.

Both show the same lines and save the same events. The pace stands in the data of the event that begins a purge,
{"pace": "short"}; one without it was made at every step, as all were before there were two.
"""

from tankfoot.purge.machine import LAST, LATEST, begins, kind_of, next_state, rows, standing, tables
from tankfoot.record.age import seconds_between

SHORT = "short"
REHEARSAL = "rehearsal"  # the exercise that a rehearsal stands under among practices
TRAINED = 5  # purges finished at every step. Common practice, no source
AWAY = 2_592_000.0  # s, 30 days; what was not done for so long is begun anew. Common practice, no source


def pace_of(events):
    """The pace that a purge was begun at: "short", or "every" step.

    >>> pace_of([{"event": "begin", "data": {"pace": "short"}}]), pace_of([{"event": "begin"}])
    ('short', 'every')
    """
    begun = next((event for event in standing(events) if event["event"] in begins()), {})
    return SHORT if begun.get("data", {}).get("pace") == SHORT else "every"


def why_every_step(initials, purges, practices, now, whole, is_always=False):
    """Why a hand gets every step on a screen of its own, one of a few words; None where it is trained for the other.

    ``initials`` of the hand, None or "" where nobody said. ``purges``, ``practices``: bodies of the record's purges and
    practices, rehearsals among them, of whomever; ``whole``: so many answers are a whole practice. ``is_always``: the
    site wants it so.

    "site", "nobody", "new" (fewer than five finished at every step; one finished at the short pace tells that there
    were five), "away" (30 days without a purge), "practice" (none, and no rehearsal, without a mistake in the last 30
    days). What went wrong in a purge, or that a card was opened, is not looked at: nobody is punished for telling.

    >>> why_every_step("AB", [], [], "2026-03-01T07:00:00.000Z", 12), why_every_step("", [], [], "", 12)
    ('new', 'nobody')
    """
    if is_always or not initials:
        return "site" if is_always else "nobody"
    finished = [body for body in purges if body["initials"] == initials and body["state"] == LAST and body["events"]]
    made_short = [body for body in finished if pace_of(body["events"]) == SHORT]
    if not made_short and len(finished) < TRAINED:
        return "new"
    if not any(_is_recent(body["events"], now) for body in finished):
        return "away"
    without_mistake = [body for body in practices if body.get("initials") == initials and _is_right(body, whole)]
    return None if any(_is_recent(body["answers"], now) for body in without_mistake) else "practice"


def _is_right(body, whole):
    least = 1 if body.get("exercise") == REHEARSAL else whole
    return len(body["answers"]) >= least and all(answer["right"] for answer in body["answers"])


def _is_recent(instants, now):
    return seconds_between(instants[-1]["at"], now) < AWAY


def screen(state, before=(), table=LATEST):
    """What shares a screen at the short pace once a purge is at ``state``: {"steps", "shows"}, states in their order.

    ``before``: the names of the events that stand before it. A state that shares with none is alone in both.

    >>> screen("takedown", ["begin", "closed"])
    {'steps': ['takedown', 'rinse', 'cap'], 'shows': ['takedown', 'rinse', 'cap']}
    >>> screen("gate-clamp"), screen("contact")["shows"]
    ({'steps': ['gate-clamp'], 'shows': ['gate-clamp']}, ['contact', 'pressure', 'gas', 'margin'])
    """
    row = _row(state, before, table)
    steps, names = [state], list(before)
    while row and (passing := _passing(steps[-1], row, names, table)):
        steps.append(next_state(steps[-1], passing, names, table))
        names.append(passing)
    told, also = ((row or {}).get(key, []) for key in ("told", "also"))
    return {"steps": steps, "shows": [each for each in steps if each not in told] + also}


def answers(state, before=(), table=LATEST):
    """Every answer on a shared screen: [{"state", "event", "saves"}], the events that one tap saves, in their order.

    What only leads on within the screen is no answer; what stops the work is one, at the step that first can say it.
    A step that was told before has no answers of its own: what can be said at it can be said at a later one.

    >>> [(each["event"], each["saves"]) for each in answers("rinse", ["begin", "closed"])]
    [('rinsed', ['rinsed'])]
    >>> [each["saves"] for each in answers("takedown", ["begin", "closed"])]
    [['hisses'], ['apart', 'rinsed', 'capped'], ['apart', 'rinsed', 'drips']]
    """
    row, steps = _row(state, before, table), screen(state, before, table)["steps"]
    found, saved, seen = [], [], set()
    for step in steps:
        onward = _passing(step, row, [*before, *saved], table) if row else None
        for event in () if row and step in row.get("told", []) else tables()[table][step].events:
            target = next_state(step, event, [*before, *saved], table)
            if row and (event in row.get("without", []) or target in steps or (event, target) in seen):
                continue
            found.append({"state": step, "event": event, "saves": [*saved, event]})
            seen.add((event, target))
        saved.append(onward)
    return found


def _row(state, before, table):
    shared, kind = rows()[LATEST]["short"], kind_of(before)
    is_new = table in (LATEST, *rows()[LATEST]["changes"])
    return next((row for row in shared if is_new and row["steps"][0] == state and table in row.get("tables", [table])
                 and kind in row.get("kinds", [kind])), None)


def _passing(state, row, before, table):
    """The event that leads from a step of a shared screen to the next one on it, None at its last."""
    ahead = row["steps"][row["steps"].index(state) + 1 :][:1]
    events = tables()[table][state].events
    return next((event for event in events if next_state(state, event, before, table) in ahead), None)


RANGES = {
    "pace_of": ["events of a purge"],
    "why_every_step": "hand and its past",
    "screen": "step on a way",
    "answers": "step on a way",
}
