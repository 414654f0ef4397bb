"""What purges cost, for a desk: the figures of a whole record, of any number of phones."""

import json
from collections import Counter
from dataclasses import dataclass, field

import orjson

from tankfoot.office.events import batches_of, bodies_of, first_instants
from tankfoot.office.figured import figured
from tankfoot.office.progress import silent
from tankfoot.report.baseline import baseline_of
from tankfoot.report.basis import basis_of, prices_of
from tankfoot.report.figures import by_instrument
from tankfoot.report.groups import groups_of
from tankfoot.report.misses import misses_by_month
from tankfoot.report.shares import share_of, volumes_of
from tankfoot.report.trust import trust_of

NO_BASIS = {"beer_value": None, "gas_price": None, "wage": None, "currency": "$", "since": None, "until": None}


@dataclass(frozen=True)
class Told:
    """What a report takes of a record: ``facts`` in columns, and what is said of tanks, batches and costs.

    ``tanks`` and ``beers``: names by id. ``events``: what happened to batches, in columns. ``misses``: of purges and
    lists. ``basis``: the body of what costs are held against. ``runs``: that a camera watched, see strips.py.
    """

    facts: dict
    events: dict
    tanks: dict[str, str] = field(default_factory=dict)
    beers: dict[str, str] = field(default_factory=dict)
    misses: list[dict] = field(default_factory=list)
    basis: dict = field(default_factory=lambda: NO_BASIS)
    runs: list[dict] = field(default_factory=list)


@dataclass(frozen=True)
class Report:
    """``figures`` of all purges; ``groups``: {by what: [(name, figures)]}; a ``share`` of the beer that was brewed.

    ``baseline``: what "saved" is counted from. ``misses``: by month. ``trust``: how far a camera saw what hands tapped.
    """

    told: Told
    figures: dict
    groups: dict[str, list]
    baseline: dict
    share: dict | None
    misses: list
    trust: dict | None


def told_by(facts, events, others):
    """What a record tells, by what is taken of it: see taken.py."""
    basis = basis_of(others.get("cost-basis", []))
    return Told(
        facts | {"batch": batches_of(facts, events)}, events, dict(others.get("tank", [])),
        dict(others.get("batch", [])), others.get("misses", []), basis["body"] if basis else NO_BASIS,
        others.get("run", []),
    )


def report_of(told, zone, system, tell=silent):
    """The Report of what a record ``told``; months are those of ``zone``, bare numbers in the units of ``system``.

    ``tell`` is told how many of how many figures are added up.
    """
    facts, basis = told.facts, told.basis
    baseline = baseline_of(facts, basis["since"], basis["until"])
    groups = groups_of(facts, told.tanks, zone)
    groups["batches"] = _named(told, groups["batches"])
    every = range(len(facts["id"]))
    groups = {"all": [("all", every)], **groups}
    for what in groups:  # one after the other: lists and arrays of all of them would take much memory
        groups[what] = by_instrument(facts, groups[what])
    made = figured(facts, groups, prices_of(basis, system), baseline, tell)
    (_, figures), = made.pop("all")
    return Report(
        told=told, figures=figures, groups=made, baseline=baseline,
        share=share_of(facts, every, volumes_of(bodies_of(told.events), system)),
        misses=misses_by_month(told.misses, zone), trust=trust_of(facts, every),
    )


def json_of(report):
    """The figures as they are printed, piece by piece: m3, kg, s, and the site's own money."""
    yield f'{{"all":{_numbers(report.figures)}'
    for what, groups in report.groups.items():
        yield f',"{what}":{{'
        for place, (name, figures) in enumerate(groups):
            yield f"{',' if place else ''}{_json(name)}:{_numbers(figures)}"
        yield "}"
    yield f',"baseline":{_json(report.baseline)},"misses":{_json(dict(report.misses))},'
    yield f'"trust":{_json(report.trust)}}}\n'


def _numbers(figures):
    """``figures`` as JSON: of very many groups, so by the quick library, which writes every number and no text here."""
    return orjson.dumps(figures).decode()


def _json(value):
    """A ``value`` with texts in it, which may be half a surrogate pair."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def _named(told, groups):
    """Of each batch the name of its beer; where several have one name, with the day of its first event.

    In the order of their first purges.
    """
    at = told.facts["at"].numbers  # in the order of the instants, whose texts nobody needs here
    groups = sorted(groups, key=lambda group: (min(map(at.__getitem__, group[1])), group[0]))
    names = [told.beers.get(batch, batch) for batch, _ in groups]
    counts = Counter(names)
    first = first_instants(told.events, {batch for batch, _ in groups})
    return [(name if counts[name] == 1 else f"{name}, {first[batch][:10]}, {batch[:4]}", rows)
            for name, (batch, rows) in zip(names, groups, strict=True)]
