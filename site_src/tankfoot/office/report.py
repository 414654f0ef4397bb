"""What purges cost, for a desk: the figures of a whole record, of any number of phones."""

from collections import Counter
from dataclasses import dataclass, field

from tankfoot.batches.life import batch_in, changes_of
from tankfoot.purge.machine import LAST
from tankfoot.report.baseline import baseline_of
from tankfoot.report.basis import basis_of, prices_of
from tankfoot.report.figures import figures_of
from tankfoot.report.groups import groups_of
from tankfoot.report.misses import misses_by_month
from tankfoot.report.shares import share_of, volumes_of

NO_BASIS = {"beer_value": None, "gas_price": None, "wage": None, "currency": "$", "since": None, "until": None}


@dataclass(frozen=True)
class Told:
    """What a report takes of a record: ``facts`` in columns, and what is said of tanks, batches and costs.

    ``tanks`` and ``beers``: names by id. ``events``: entries of what happened to batches. ``misses``: of purges and
    lists. ``basis``: the body of what costs are held against.
    """

    facts: dict[str, list]
    tanks: dict[str, str] = field(default_factory=dict)
    beers: dict[str, str] = field(default_factory=dict)
    events: list[dict] = field(default_factory=list)
    misses: list[dict] = field(default_factory=list)
    basis: dict = field(default_factory=lambda: NO_BASIS)


@dataclass(frozen=True)
class Report:
    """``figures`` of all purges; ``groups``: {by what: [(name, figures)]}; a ``share`` of the beer that was brewed.

    ``overruns``: rows of purges that tell it, in the order of time. ``misses``: by month.
    """

    told: Told
    figures: dict
    groups: dict[str, list]
    baseline: dict
    share: dict | None
    misses: list


def is_finished(entry):
    """Whether an ``entry`` is a purge that a report counts."""
    return entry["kind"] == "purge" and entry["body"]["state"] == LAST


def told_of(facts, kept, misses):
    """What a record tells: the ``facts`` of its purges, the ``kept`` tanks, batches, events, bases, its ``misses``."""
    kinds = {}
    for entry in kept:
        kinds.setdefault(entry["kind"], []).append(entry)
    basis = basis_of(kinds.get("cost-basis", []))
    return Told(
        facts=facts, tanks={tank["id"]: tank["body"]["name"] for tank in kinds.get("tank", [])},
        beers={batch["id"]: batch["body"]["beer"] for batch in kinds.get("batch", [])},
        events=kinds.get("batch-event", []), misses=misses, basis=basis["body"] if basis else NO_BASIS,
    )


def report_of(told, zone, system):
    """The Report of what a record ``told``; months are those of ``zone``, bare numbers in the units of ``system``."""
    facts = told.facts | {"batch": _batches(told)}
    basis = told.basis
    baseline = baseline_of(facts, basis["since"], basis["until"])
    by = groups_of(facts, told.tanks, zone)
    by["batches"].sort(key=lambda group: min(facts["at"][row] for row in group[1]))
    by["batches"] = list(zip(_names(told, by["batches"]), (rows for _, rows in by["batches"]), strict=True))
    every = list(range(len(facts["id"])))
    flat = [("all", every), *(group for groups in by.values() for group in groups)]
    made = iter(figures_of(facts, flat, prices_of(basis, system), baseline))
    _, figures = next(made)
    return Report(
        told=told, figures=figures, groups={name: [next(made) for _ in groups] for name, groups in by.items()},
        baseline=baseline, share=share_of(facts, every, volumes_of([event["body"] for event in told.events], system)),
        misses=misses_by_month(told.misses, zone),
    )


def as_json(report):
    """The figures as they are printed: m3, kg, s, and the site's own money."""
    return {"all": report.figures, **{name: dict(groups) for name, groups in report.groups.items()},
            "baseline": report.baseline, "misses": dict(report.misses)}


def _batches(told):
    stories = {}
    for event in told.events:
        stories.setdefault(event["body"]["tank"], []).append(event)
    changes = {tank: changes_of(story) for tank, story in stories.items()}
    held = zip(told.facts["tank"], told.facts["created"], strict=True)
    return [batch_in(changes.get(tank, []), created) for tank, created in held]


def _names(told, groups):
    """Of each batch the name of its beer; where several have one name, with the day of its first event."""
    names = [told.beers.get(batch, batch) for batch, _ in groups]
    counts = Counter(names)
    first = {}
    for event in told.events:
        at, batch = event["body"]["at"], event["body"]["batch"]
        first[batch] = min(first.get(batch, at), at)
    return [name if counts[name] == 1 else f"{name}, {first[batch][:10]}, {batch[:4]}"
            for name, (batch, _) in zip(names, groups, strict=True)]
