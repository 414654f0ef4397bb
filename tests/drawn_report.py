"""What a report is made of, drawn at random: purges with results and gaps, facts, parts, near misses."""

from datetime import date, timedelta

import drawn_batches
import drawn_purges
from tankfoot.batches.wall_clock import ZONES
from tankfoot.purge.machine import SKIP, TROUBLE, tables
from tankfoot.record.bodies import SOLIDS
from tankfoot.report.facts import AMOUNTS, as_columns, fact_of
from tankfoot.report.measures import MEASURES
from tankfoot.report.misses import misses_of
from tankfoot.report.trust import CLOSE

TANKS = ("t", "u", "tank 10", "2")


def values(rng):
    """Numbers of which small ones come after large ones, and some cancel."""
    drawn = [rng.uniform(-1.0, 1.0) * 10 ** rng.choice((-300, -8, 0, 0, 3, 16, 100)) for _ in range(rng.randint(0, 12))]
    return rng.sample(both := [*drawn, *(-value for value in drawn[: rng.randint(0, 3)]), 0.0], len(both))


def purge(rng):
    """A finished purge: of some the clock was set back, some have no colour change, some no amounts."""
    run = rng.choice((0.0, 12.0, round(rng.uniform(1.0, 200.0), 3)))
    past = rng.choice((None, 0.0, round(run * rng.random(), 3), run + 5.0))
    results = {
        name: {"value": rng.uniform(0.0, 0.2) * rng.choice((0.0, 1.0, 1.0, 1.0)),
               "uncertainty": rng.choice((None, 0.0, rng.uniform(0.0, 0.1)))}
        for name in AMOUNTS.values() if rng.random() < 0.8
    }
    readings = {name: rng.choice(("", "5", "40 %")) for name in ("flow", "collected_mass", "beer_share")
                if rng.random() < 0.3}
    return {
        "id": f"{rng.randrange(10**6):06d}", "kind": "purge", "created": drawn_batches.instant(rng),
        "demo": rng.random() < 0.2,
        "body": {
            "tank": rng.choice((None, *TANKS)), "tank_name": rng.choice(drawn_batches.NAMES),
            "solids": rng.choice(SOLIDS),
            "events": drawn_purges.events(run, past) if rng.random() < 0.9 else [], "readings": readings,
            "result": results, "state": "saved", "table": "2", **drawn_purges.seen(rng),
        },
    }


def facts(rng):
    return [fact_of(purge(rng), rng.choice((None, "a", "b"))) for _ in range(rng.randint(0, 14))]


def prices(rng):
    return {name: rng.choice((None, 0.0, rng.uniform(0.0, 2000.0))) for name in ("beer_value", "gas_price", "wage")}


def baseline(rng):
    return {kind: {"seconds": rng.uniform(0.0, 40.0), "purges": 10} for kind in SOLIDS if rng.random() < 0.6}


def measure(rng):
    return [as_columns(facts(rng)), rng.choice(MEASURES), prices(rng), baseline(rng)]


def groups(rng):
    columns = as_columns(facts(rng))
    rows = range(len(columns["id"]))
    named = [[name, [row for row in rows if rng.random() < 0.6]] for name in ("all", "2", "1", "")]
    return [columns, named, prices(rng), baseline(rng)]


def parts(rng):
    return [[rng.choice(("", *TANKS)), *(rng.uniform(0.0, 3.0) for _ in range(4))] for _ in range(rng.randint(0, 9))]


def period(rng):
    columns = as_columns([fact for _ in range(rng.choice((1, 9))) for fact in facts(rng)])
    return [columns, *(rng.choice((None, drawn_batches.instant(rng))) for _ in range(2))]


def named_in_a_zone(rng):
    return [as_columns(facts(rng)), {tank: f"{tank} now" for tank in TANKS if rng.random() < 0.5}, rng.choice(ZONES)]


def day(rng):
    return (date(2024, 12, 25) + timedelta(days=rng.randint(0, 3000))).isoformat()


def telling_entry(rng):
    """A purge or the run of a list, with what goes nearly wrong; words of a reason at times the same."""
    if rng.random() < 0.3:
        more = ({}, {"reason": "hose"}, {"reason": ""}, {"aged": "card"})
        events = [{"done": rng.random() < 0.5} | rng.choice(more)
                  for _ in range(rng.randint(0, 5))]
        return {"kind": "list-run", "created": drawn_batches.instant(rng), "body": {"events": events}}
    made, table = drawn_purges.purge_by_its_table(rng)
    states = list(tables()[table])
    more = [{"state": rng.choice(states), "event": rng.choice(("tank-side", "other", TROUBLE, SKIP, "again", "undo")),
             "at": drawn_batches.instant(rng), **rng.choice(({}, {"data": {"reason": rng.choice(("no hose", "ä"))}}))}
            for _ in range(rng.randint(0, 4))]
    body = {"table": rng.choice((table, table, "constructor")), "state": rng.choice(states), "events": made + more}
    return {"kind": "purge", "created": drawn_batches.instant(rng), "body": body}


def misses(rng):
    told = [misses_of(telling_entry(rng)) for _ in range(rng.randint(0, 9))]
    return [[each for each in told if each], rng.choice(ZONES)]


def bodies_of_events(rng):
    return [event["body"] for _ in range(2) for event in drawn_batches.of_a_tank(rng)]


def rows_and_volumes(rng):
    columns = as_columns(facts(rng))
    rows = [row for row in range(len(columns["id"])) if rng.random() < 0.7]
    return [columns, rows, {batch: {"filled": rng.uniform(0.5, 3.0), "off": rng.uniform(0.0, 0.1)}
                            for batch in "abc" if rng.random() < 0.7}]


def bases(rng):
    return [{"id": f"{rng.randrange(4)}", "edited": drawn_batches.of_a_month(rng), "deleted": rng.random() < 0.3,
             "body": basis(rng)} for _ in range(rng.randint(0, 5))]


def basis(rng):
    texts = {"beer_value": ("150 $/bbl", "200"), "gas_price": ("0,45 $/lb", "1.2 $/kg ± 5 %"), "wage": ("24 $/h", "24")}
    return {name: rng.choice((None, *given)) for name, given in texts.items()}


def facts_and_rows(rng):
    """Watched runs, some of which were seen just as far from the tap as still counts as the same."""
    columns = as_columns(facts(rng))
    for row, tapped in enumerate(columns["tapped"]):
        if tapped is not None and columns["watched"][row] and rng.random() < 0.5:
            columns["tapped"][row], columns["seen"][row] = 40.0, 40.0 + rng.choice((-CLOSE, CLOSE))
    return [columns, [row for row in range(len(columns["id"])) if rng.random() < 0.7]]


DRAWN = {
    "fact": lambda rng: fact_of(purge(rng), None), "bases": bases, "basis": basis,
    "bodies of events": bodies_of_events,
    "values of any size": values, "purge to report": purge, "facts": facts, "parts of purges": parts, "day": day,
    "entry that tells of misses": telling_entry,
}
ARGUMENTS = {
    "facts, rows and volumes of batches": rows_and_volumes,
    "facts and what they are held against": measure, "facts and groups of them": groups,
    "facts and rows": facts_and_rows, "facts and a period": period,
    "facts, names and a zone": named_in_a_zone, "misses and a zone": misses,
}
