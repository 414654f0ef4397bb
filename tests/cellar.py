"""A cellar's entries for tests, as the app keeps them: tanks, purges, holds."""

import json
import uuid
from datetime import UTC, datetime, timedelta

from tankfoot.purge.machine import FIRST, LATEST, next_state

MADE = "2026-03-01T12:00:00.000Z"
USUAL = ["clamp", "butterfly", "clamp", "diaphragm", "clamp", "sight-glass", "clamp", "hose"]
KEEP = 'async ([url, entries]) => (await import(url)).take("browser/storage/record.js").put(...JSON.parse(entries))'
KEPT = """async ([url, kind]) => {
  const entries = await (await import(url)).take("browser/storage/record.js").ofKind(kind);
  return entries.map(({ body }) => body);
}"""
REMEMBER = """async ([url, settings]) => {
  await (await import(url)).take("browser/storage/settings.js").saveSettings(settings);
}"""
HELD = """async (url) => {
  const entries = await (await import(url)).take("browser/storage/record.js").ofKind("tank-hold");
  return entries.map(({ body }) => body);
}"""


def id_of(what):
    return str(uuid.uuid5(uuid.NAMESPACE_OID, what))


def entry(kind, id, created, body, edited=None):
    head = {"id": id, "kind": kind, "created": created, "edited": edited or created, "deleted": False, "demo": False}
    return head | {"body": body, "history": []}


def tank(name, **more):
    body = {
        "name": name, "stack": None, "cap_way": None, "diameter": 1.2, "straight_height": 1.5, "cone_angle": 1.2,
        "head_depth": 0.2, "head_volume": None, "bore": 0.05, "arm_height": None, "rated_pressure": 103000.0,
        "hold_pressure": 69000.0, "floor_pressure": None, "beer_volume": 1.5, "temperature": 275.0, "pressure": None,
        "purge_every": None,
    }
    return entry("tank", id_of(name), MADE, body | more)


def unfinished(of, state, names, at="2026-03-10T11:00:00.000Z"):
    """An unfinished purge of the tank named ``of``: the events of these ``names`` led to ``state``."""
    body = {
        "tank": id_of(of), "tank_name": of, "solids": "trub", "table": "2", "initials": None, "state": state, "open": 1,
        "events": [{"at": at, "state": "choose", "event": name} for name in names], "readings": {}, "gas_shut": None,
        "result": {}, "agree": None, "notes": "", "photo": None,
    }
    return entry("purge", id_of(f"{of} {state}"), at, body)


def hold(of, why="valve-leaks", *, created=MADE, edited=None, **more):
    body = {
        "tank": id_of(of), "why": why, "note": "", "by": "AB", "purge": None, "lifted": None, "lifted_by": None,
        "lifted_why": None,
    }
    return entry("tank-hold", id_of(f"{of} {why} {created}"), created, body | more, edited)


def keep(page, served, *entries):
    """Writes entries as the app does."""
    page.evaluate(KEEP, [served.script, json.dumps(entries)])


def remember(page, served, **settings):
    """Changes settings as the app does."""
    page.evaluate(REMEMBER, [served.script, settings])


def held(page, served):
    """The bodies of all holds on the phone."""
    return page.evaluate(HELD, served.script)


def walked(names, of=None, table=LATEST, now=None, gap=5, **more):
    """An unfinished purge that came along these events just now, ``gap`` seconds apart, each in its own state."""
    now = now or datetime.now(UTC)
    events, state = [], FIRST
    for place, name in enumerate(names):
        at = now - timedelta(seconds=gap * (len(names) - 1 - place))
        events.append({"at": instant(at), "state": state, "event": name})
        state = next_state(state, name, names[:place], table)
    body = {
        "tank": of and id_of(of), "tank_name": of or "", "solids": "trub", "table": table, "initials": None,
        "state": state, "open": 1, "events": events, "readings": {}, "gas_shut": True, "result": {}, "agree": None,
        "notes": "", "photo": None,
    }
    return entry("purge", str(uuid.uuid4()), instant(now), body | more)


def moment(ms):
    """The moment that a page's Date.now() tells."""
    return datetime.fromtimestamp(ms / 1000, UTC)


def instant(moment):
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.") + f"{moment.microsecond // 1000:03d}Z"


def kept(page, served, kind="purge"):
    """The bodies of all entries of a kind on the phone."""
    return page.evaluate(KEPT, [served.script, kind])
