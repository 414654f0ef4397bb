"""What is due in a tank, and why: from the batch in it, what was done, the rules, the time and the zone."""

from tankfoot.batches.wall_clock import days_after, start_of_day

STATES = ("overdue", "due", "later", "done")
SHOWN_AFTER = 7.0  # days that what was done of a rule that returns is still shown
DAY = 86400.0
OWN = {"name": "every", "asks": "purge", "solids": None, "within": 1.0}  # a tank's own interval between purges
ACTS = {"purge": "purges", "reading": "readings", "look": "purges"}  # what answers what a rule asks


def due_items(stay, rules, now, zone):
    """What is asked in one tank, as items in the order of the ``rules``, at the instant ``now`` in a ``zone``.

    ``stay``: a dict of the ``tank`` and the ``batch`` in it (ids; None: none is known), ``events`` (bodies with their
    ids, as they happened), ``purges`` and ``readings`` (each ``id`` and ``at``, the instant it was done, as they
    happened), ``held``: out of use, nothing is purged; ``postponed``: {key of an item: the instant it was put off to};
    ``every``: s between purges of this tank, whatever is in it, or None, and ``last``: what that counts from.

    An item: ``key``, the same on every phone for as long as it is the same thing to do; ``rule``; ``asks``; ``solids``;
    ``from`` and ``until``, instants; ``state``, one of later, due, overdue, done; ``done_by``, an id; ``why``, a code
    with its facts. What only asks for a look is never overdue.

    >>> rule = {"name": "trub", "asks": "purge", "after": "fermenting", "contact": False, "wait": 0.0, "within": 1.0,
    ...         "every": None, "again": 0, "solids": "trub", "off": False, "title": None}
    >>> going = {"id": "e", "event": "fermenting", "at": "2026-03-02T07:00:00.000Z", "days": None}
    >>> stay = {"tank": "t", "batch": "b", "held": False, "events": [going], "purges": [], "readings": [],
    ...         "postponed": {}, "every": None, "last": None}
    >>> [item] = due_items(stay, [rule], "2026-03-02T09:00:00.000Z", "UTC")
    >>> item["key"], item["state"], item["until"]
    ('trub.e', 'due', '2026-03-03T07:00:00.000Z')
    """
    asked = [rule for rule in rules if not rule["off"] and not (stay["held"] and rule["asks"] != "reading")]
    items = [item for rule in asked for item in (_once if rule["every"] is None else _returning)(stay, rule, now, zone)]
    if stay["every"] is not None and not stay["held"]:
        items.append(_of_tank(stay))
    return [_with_state(_put_off(item, rule_of(item, [*rules, OWN]), stay["postponed"], zone), now) for item in items]


def rule_of(item, rules):
    """The rule among ``rules`` that an ``item`` is asked by; None where it is no more.

    >>> rule_of({"rule": "trub"}, [{"name": "hops"}, {"name": "trub"}])
    {'name': 'trub'}
    """
    return next((rule for rule in rules if rule["name"] == item["rule"]), None)


def in_walking_order(items, tanks):
    """``items`` as a hand walks: what is overdue first, then what is due, then what comes later by its time.

    Within those by the place of the tank in ``tanks``, ids in walking order, and the time; what is done comes last.

    >>> items = [{"state": "due", "tank": "a", "from": "1", "key": "x"},
    ...          {"state": "overdue", "tank": "z", "from": "1", "key": "y"}]
    >>> [item["tank"] for item in in_walking_order(items, ["a", "z"])]
    ['z', 'a']
    """
    places = {tank: place for place, tank in enumerate(tanks)}

    def key(item):
        place = places.get(item["tank"], len(tanks))
        later = item["state"] == "later"
        return STATES.index(item["state"]), item["from"] if later else "", place, item["from"], item["key"]

    return sorted(items, key=key)


def _once(stay, rule, now, zone):
    """For each event of its kind one item, and after that as many more as the rule asks again."""
    for event in stay["events"]:
        if event["event"] == rule["after"]:
            yield from _of_event(stay, rule, event, zone)


def _of_event(stay, rule, event, zone):
    days = rule["wait"] + ((event["days"] or 0.0) if rule["contact"] else 0.0)
    begin = days_after(event["at"], days, zone)
    until = days_after(begin, rule["within"], zone)
    counts = max(event["at"], start_of_day(begin, 0.0, zone))  # done on the same day is done
    why = {"code": rule["after"], "at": event["at"], "days": days}
    for time in range(int(rule["again"]) + 1):
        done = next((act for act in stay[ACTS[rule["asks"]]] if act["at"] >= counts), None)
        key = f"{rule['name']}.{event['id']}" + (f".{time}" if time else "")
        yield _item(stay, rule, key, begin, until, done, why)
        if done is None:
            return
        begin, until = start_of_day(done["at"], 1.0, zone), start_of_day(done["at"], 2.0, zone)
        counts, why = begin, {"code": "again", "at": done["at"], "days": 1.0}


def _returning(stay, rule, now, zone):
    """What was done in the last days, each for its turn, and the next turn."""
    anchors = [event for event in stay["events"] if event["event"] == rule["after"]]
    if not anchors:
        return
    last, shown_since = anchors[-1], days_after(now, -SHOWN_AFTER, zone)
    code = rule["after"]
    acts = [act for act in stay[ACTS[rule["asks"]]] if act["at"] >= last["at"]]
    for act in [*acts, None]:
        if act is None or act["at"] >= shown_since:
            begin = start_of_day(last["at"], rule["every"], zone)
            until = start_of_day(last["at"], rule["every"] + rule["within"], zone)
            why = {"code": code, "at": last["at"], "days": rule["every"]}
            yield _item(stay, rule, f"{rule['name']}.{last['id']}", begin, until, act, why)
        last, code = act, "returns"


def _of_tank(stay):
    last = stay["last"]
    begin = days_after(last["at"], stay["every"] / DAY, "UTC")
    why = {"code": "every", "at": last["at"], "days": stay["every"] / DAY}
    return _item(stay, OWN, f"every.{last['id']}", begin, days_after(begin, OWN["within"], "UTC"), None, why)


def _item(stay, rule, key, begin, until, done, why):
    return {
        "key": key, "tank": stay["tank"], "batch": stay["batch"], "rule": rule["name"], "asks": rule["asks"],
        "solids": rule["solids"], "from": begin, "until": until, "done_by": done and done["id"], "why": why,
    }


def _put_off(item, rule, postponed, zone):
    """An item that was put off begins when that ends, and has its whole time from then."""
    begin = postponed.get(item["key"])
    if begin is None or begin <= item["from"]:
        return item
    return {**item, "from": begin, "until": max(item["until"], days_after(begin, rule["within"], zone))}


def _with_state(item, now):
    if item["done_by"] is not None:
        state = "done"
    elif now < item["from"]:
        state = "later"
    else:
        state = "overdue" if now >= item["until"] and item["asks"] != "look" else "due"
    return {**item, "state": state}


RANGES = {
    "due_items": "stay of a batch",
    "rule_of": [[{"rule": "trub"}, {"rule": "gone"}], [[], [{"name": "hops"}, {"name": "trub"}]]],
    "in_walking_order": ["items of some tanks", [[], ["FV 2", "FV 1"], ["FV 1", "FV 2", "FV 10"]]],
}
