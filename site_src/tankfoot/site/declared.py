"""What the browser is told of the Python side: for each room one module, js/<room>/declared.js."""

import json
from dataclasses import asdict

from tankfoot.batches.rules import default_rules, events
from tankfoot.calculators import calculators
from tankfoot.checklists import regions, standards
from tankfoot.checklists.practice import stacks
from tankfoot.office.csv_export import COLUMNS
from tankfoot.office.transfer import LARGEST, PART
from tankfoot.purge.machine import LATEST, begins, rows, sums, tables
from tankfoot.purge.stack import typical
from tankfoot.quantities.units import KINDS, SYSTEMS, dimension, symbols_by_name, units
from tankfoot.record.bodies import BODIES
from tankfoot.record.entry import ENTRY, EXPORT_FILE, FORMAT, SCHEMA_VERSION
from tankfoot.rehearsal.scenarios import FACTS, WANTED, happened, scenarios
from tankfoot.wording import of_language, words
from tankfoot.wording.languages import LANGUAGE
from tankfoot.wording.numerals import numerals

PURGE_WORDS = ("title", "solids", "tank_state", "ways", "no_volume")


def declared_js(room):
    """The text of ``js/<room>/declared.js``; KeyError for a room that declares nothing."""
    lines = [f"/** What {room}/ declares in Python. Written by the build. */"]
    lines += [f"export const {name} = {literal(value)};" for name, value in DECLARED[room]().items()]
    return "\n".join(lines) + "\n"


def _quantities():
    return {
        "systems": SYSTEMS,
        "units": {unit.symbol: _unit(unit) for unit in units().values()},
        "kinds": KINDS,
        "dimensions": {kind: dimension(kind) for kind in KINDS},
        "symbolsByName": symbols_by_name(),
        "language": LANGUAGE,
        "usualLocale": of_language(LANGUAGE)["locale"],
        "numerals": numerals(LANGUAGE),
    }


def _unit(unit):
    return {"symbol": unit.symbol, "dimension": unit.dimension, "factor": unit.factor, "offset": unit.offset}


def _calculators():
    """All sums; a page is sent those that it works out, and their words: see tables.py."""
    return {"calculators": {
        calculator.id: {
            "fields": {name: _field(quantity) for name, quantity in calculator.fields.items()},
            "results": calculator.results,
        }
        for calculator in calculators().values()
    }}


def _field(quantity):
    return {
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


def _record():
    return {
        "FORMAT": FORMAT,
        "SCHEMA_VERSION": SCHEMA_VERSION,
        "exportFile": EXPORT_FILE.described(),
        "entry": ENTRY.described(),
        "bodies": {kind: shape.described() for kind, shape in BODIES.items()},
    }


def _purge():
    return {
        "typical": typical(),
        "begins": begins(),
        "rows": {name: {"steps": [_row(row) for row in file["steps"]], "changes": file.get("changes", {}),
                        "short": file.get("short", [])} for name, file in rows().items()},
        "readings": {name: like.split(".") for name, like in sums()["readings"].items()},
        "sums": sums()["sums"],
        "instruments": sums()["instruments"],
        "readOnce": sums()["read_once"],
        "buckets": sums()["buckets"],
        "stepBy": sums()["step_by"],
        "bucketHolds": sums()["bucket_holds"],
    }


def _row(row):
    """What the browser needs of a step beside its page."""
    return {key: value for key, value in row.items() if key not in ("shows", "lines", "has", "aside")}


def _batches():
    return {"events": events(), "defaultRules": default_rules()}


def _checklists():
    """Emergency numbers by region: [number, a second one that works there, what the region is called]; whose limits
    hold there, and the limits. How many answers are a whole practice.
    """
    return {
        "regions": {name: [region.number, region.also, region.shown or name] for name, region in regions().items()},
        "standardOf": {region.name: region.standard for region in regions().values()},
        "standards": {name: asdict(standard) for name, standard in standards().items()},
        "wholePractice": len(stacks()),
    }


def _wording():
    return {
        "calculatorWords": {id: _calculator_words(words(id)) for id in calculators()},
        "problemTemplates": words("app")["problems"],
        "fileWords": {key: words("files")[key] for key in ("problems", "shapes", "units")},
        "dueWords": words("due"),
        "screens": {},  # each table comes with whoever asks for it: see tables.py
    }


def screens():
    """The words that scripts ask for: a table a screen, and those that the pages use too."""
    own, purge, steps = words("screens"), words("purge"), words("purge_steps")
    stops = {step.state: steps[step.state]["title"] for step in tables()[LATEST].values() if step.stop}
    of_purge = {key: purge[key] for key in PURGE_WORDS} | {"stops": stops} | own["purge"]
    titles = {name: said["title"] for name, said in words("rehearsal")["scenarios"].items()}
    of_rehearsal = own["rehearsal"] | {"titles": titles, "wrong": words("rehearsal")["wrong"]}
    return own | {"purge": of_purge, "rehearsal": of_rehearsal, "signals": words("app")["signals"]}


def _calculator_words(own):
    return {
        "labels": {name: field["label"] for name, field in own["fields"].items()},
        "results": own["results"],
        "refusals": own.get("refusals", {}),
        "remarks": own.get("remarks", {}),
    }


def _office():
    return {"LARGEST": LARGEST, "PART": PART, "columns": COLUMNS}


def _rehearsal():
    """The scenarios without the acts that the tests play, what can happen in them, and what kinds their numbers are."""
    played = {name: {key: value for key, value in scenario.items() if key not in ("order", "right", "wrong")}
              for name, scenario in scenarios().items()}
    return {"scenarios": played, "happened": happened(), "facts": FACTS, "wanted": WANTED}


DECLARED = {
    "quantities": _quantities,
    "calculators": _calculators,
    "record": _record,
    "purge": _purge,
    "batches": _batches,
    "rehearsal": _rehearsal,
    "checklists": _checklists,
    "wording": _wording,
    "office": _office,
}


def literal(value):
    """``value`` as JavaScript has it."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))
