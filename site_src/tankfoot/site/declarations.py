"""What the browser is told of the Python side: units, kinds, calculators and sentences, as one JavaScript module."""

import json

from tankfoot.calculators import calculators
from tankfoot.checklists import regions
from tankfoot.purge.machine import table
from tankfoot.quantities.units import KINDS, SYSTEMS, dimension, symbols_by_name, units
from tankfoot.wording import words


def declarations_js():
    """The text of ``js/calculators/declarations.js``."""
    exports = {
        "systems": SYSTEMS,
        "units": {unit.symbol: _unit(unit) for unit in units().values()},
        "kinds": KINDS,
        "dimensions": {kind: dimension(kind) for kind in KINDS},
        "calculators": {calculator.id: _calculator(calculator) for calculator in calculators().values()},
        "problemTemplates": words("app")["problems"],
    }
    lines = ["/** Units, kinds and calculators as declared in Python. Written by the build. */"]
    lines += [f"export const {name} = {_literal(value)};" for name, value in exports.items()]
    lines.append(f"export const symbolsByName = new Map(Object.entries({_literal(symbols_by_name())}));")
    return "\n".join(lines) + "\n"


def purge_table_js():
    """The text of ``js/purge/table.js``: the purge's steps, readings and sums, and the few words its screen makes."""
    said = words("purge")
    exports = {
        "steps": {row["state"]: {"events": row["events"], "skip": row.get("skip")} for row in table()["steps"]},
        "readings": {name: like.split(".") for name, like in table()["readings"].items()},
        "sums": table()["sums"],
        "purgeWords": {key: said[key] for key in ("solids", "ways", "only_time", "no_volume", "leave_why", "saved_at")},
    }
    lines = ["/** The guided purge as declared in purge/table.toml. Written by the build. */"]
    return "\n".join(lines + [f"export const {name} = {_literal(value)};" for name, value in exports.items()]) + "\n"


def regions_js():
    """The text of ``js/checklists/regions.js``: the emergency numbers by region."""
    numbers = {region.name: [region.number, region.also] for region in regions().values()}
    doc = "/** Emergency numbers as in checklists/regions.toml: [number, a second one that works there]. */"
    return f"{doc}\nexport const regions = {_literal(numbers)};\n"


def _literal(value):
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def _unit(unit):
    return {"symbol": unit.symbol, "dimension": unit.dimension, "factor": unit.factor, "offset": unit.offset}


def _calculator(calculator):
    own = words(calculator.id)
    return {
        "fields": {name: _field(own, name, quantity) for name, quantity in calculator.fields.items()},
        "results": calculator.results,
        "refusals": own.get("refusals", {}),
        "remarks": own.get("remarks", {}),
        "resultLabels": own["results"],
    }


def _field(own, name, quantity):
    return {
        "label": own["fields"][name]["label"],
        "kind": quantity.kind,
        "low": quantity.low,
        "high": quantity.high,
        "defaults": quantity.defaults,
        "examples": quantity.examples,
        "optional": quantity.optional,
        "relative": quantity.relative,
        "absolute": quantity.absolute,
        "counted": quantity.counted,
    }
