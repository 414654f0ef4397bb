"""What must fit together before anything is built: sums, their twins and words, lists, the purge's table.

A fault is one sentence: which file (below ``site_src/tankfoot/``), what is wrong, what to do.
"""

import ast
import inspect
import posixpath
import tomllib
from dataclasses import asdict, fields
from difflib import get_close_matches
from itertools import chain
from string import Formatter

from tankfoot.calculators import SIGNALS, calculators
from tankfoot.calculators.reckon import reckon
from tankfoot.checklists import cards, checklists, regions
from tankfoot.checklists.practice import stacks
from tankfoot.checklists.shown import NAMES, unfilled
from tankfoot.purge.machine import LATEST, Step, rows, sums
from tankfoot.quantities.units import KINDS, SYSTEMS
from tankfoot.rehearsal.scenarios import FACTS, happened, scenarios
from tankfoot.site.declared import DECLARED, declared_js
from tankfoot.site.faults import ContentError
from tankfoot.site.joined import EXPORT, IMPORT
from tankfoot.site.sources import PACKAGE, modules
from tankfoot.site.step_signs import TABLE, step_sign_faults
from tankfoot.wording import problem_sentence, words
from tankfoot.wording.languages import FIRST, LANGUAGE

OF_A_SUM = ("RESULTS", "CAUTIONS", "refusals", "compute", "remarks")
OF_A_TWIN = ("refusals", "compute", "remarks")
SUMS = "purge/sums.toml"


def check_content():
    """Raises one of FAULTS for the first fault there is."""
    if fault := next(_faults(), None):
        raise ContentError(fault)


def _faults():
    tables = sorted((PACKAGE / "purge" / "tables").iterdir())
    for file in (*sorted((PACKAGE / "wording" / LANGUAGE).iterdir()), *tables, PACKAGE / SUMS, TABLE):
        yield from _unread(file)
    for calculator in calculators().values():
        for check in (_module_faults, _twin_faults, _word_faults, _example_faults):
            yield from check(calculator, f"calculators/{calculator.id.replace('-', '_')}.py")
    for checklist in checklists().values():
        yield from _number_faults(checklist, f"lists/{checklist.id}.toml")
        yield from _place_faults(f"lists/{checklist.id}.toml", asdict(checklist))
    for card in cards().values():
        yield from _place_faults(f"cards/{card.id}.toml", asdict(card))
        yield from _undrawn(f"cards/{card.id}.toml", f"site/templates/pictures/card-{card.id}.svg")
    regions()
    stacks()
    for check in (_reading_faults, _sum_faults, _step_faults, step_sign_faults, _scenario_faults, _link_faults):
        yield from check()


def _place_faults(file, said):
    """Faults of places in {braces} anywhere in what a list or card says."""
    if isinstance(said, str):
        for place in unfilled(said):
            yield f"{file}: nothing fills in {{{place}}}: use {' or '.join(NAMES)}, or a quantity such as {{15 psi}}."
    elif isinstance(said, dict | tuple):
        for inner in said.values() if isinstance(said, dict) else said:
            yield from _place_faults(file, inner)


def _unread(file):
    try:
        tomllib.loads(file.read_bytes().decode("utf-8"))
    except ValueError as wrong:
        yield f"{file.name} is not TOML in UTF-8 ({wrong}): correct it there."


def _unknown(names, known, what):
    for name in names:
        if name not in known:
            yield f"{what} cannot be {name!r}: use {' or '.join(get_close_matches(name, known) or known)}."


def _unsaid(file, said, wanted, place=""):
    """Faults of the words ``said`` in a file, where nested keys are ``wanted``."""
    for key, inner in wanted.items():
        found = said.get(key)
        if inner:
            yield from _unsaid(file, found if isinstance(found, dict) else {}, inner, f"{place}{key}.")
        elif inner is None and not isinstance(found, str):
            yield f"{file} has no {place}{key}: write the words."


def _each(names, inner=None):
    return dict.fromkeys(names, inner)


def _module_faults(calculator, file):
    module = calculator.module
    missing = [name for name in OF_A_SUM if not hasattr(module, name)]
    if missing:
        yield f"{file} has no {missing[0]}: add it, as the head of calculators/__init__.py says."
    for name, kind in module.RESULTS.items():
        yield from _unknown([kind], KINDS, f"{file}: the kind of the result {name}")
    for name, signal in module.CAUTIONS.items():
        yield from _unknown([signal], SIGNALS, f"{file}: the signal word of the caution {name}")
    yield from _unknown(getattr(module, "MORE", ()), calculator.fields, f"{file}: a name in MORE")
    yield from _unknown(getattr(module, "STEPPED", ()), module.RESULTS, f"{file}: a name in STEPPED")
    if plot := getattr(module, "PLOT", None):
        known = {**calculator.fields, **module.RESULTS}
        yield from _unknown((plot.across, plot.up, *plot.to), known, f"{file}: a name in PLOT")


def _twin_faults(calculator, file):
    twin = file.replace(".py", ".js")
    if not (PACKAGE / twin).is_file():
        yield f"{file} has no JavaScript twin, so that its page would answer nothing: write {twin}."
    exported = {name for _, name in EXPORT.findall((PACKAGE / twin).read_text(encoding="utf-8"))}
    for name in OF_A_TWIN:
        if name not in exported:
            yield f"{twin} exports no {name}, so that its page would answer nothing: add it."


def _word_faults(calculator, declared_in):
    file = f"wording/{FIRST}/{calculator.id}.toml"
    if not (PACKAGE / file).is_file():
        yield f"{declared_in} has no words: write them in {file}."
    said, wanted = words(calculator.id), _wanted(calculator)
    yield from _unsaid(file, said, wanted)
    for part in ("fields", "results", "cautions"):
        for name in said.get(part, {}).keys() - wanted[part].keys():
            yield f"{file} has {part}.{name}, which {declared_in} does not declare: rename it or take it out."
    yield from _unknown([said["group"]], words("app")["groups"], f"{file}: group")


def _wanted(calculator):
    """The words that a sum needs, as nested keys."""
    module = calculator.module
    refusals, remarks = codes(module)
    plot = getattr(module, "PLOT", None)
    marks = _each(name for name, _, _ in plot.marks) if plot else {}
    return {
        **_each(("title", "short", "question", "group", "intro")),
        "fields": _each(calculator.fields, _each(("label", "help"))),
        "results": _each(module.RESULTS),
        "refusals": _each(refusals),
        "remarks": _each(remarks),
        "cautions": _each(module.CAUTIONS, _each(["hazard"])),
        "method": _each(("equation", "text", "limits")),  # its sources are a list, which the page asks for
        "plot": {**_each(("across", "up", "says")), "marks": marks} if plot else {},
    }


def codes(module):
    """The codes of refusals and the names of remarks that a sum's ``module`` yields in so many words.

    They are read from its text, since no run of it is sure to come by each of them. What a table holds is not seen.
    """
    refusals, remarks = [], []
    for found in ast.walk(ast.parse(inspect.getsource(module))):
        if isinstance(found, ast.Yield) and isinstance(found.value, ast.Tuple):
            refusals += _texts(found.value.elts[-1])
        elif isinstance(found, ast.Yield):
            remarks += _texts(found.value)
    return refusals, remarks


def _texts(node):
    if isinstance(node, ast.IfExp):
        return _texts(node.body) + _texts(node.orelse)
    return [node.value] if isinstance(node, ast.Constant) else []


def _example_faults(calculator, file):
    for system in SYSTEMS:
        examples = {name: field.examples[system] or "" for name, field in calculator.fields.items()}
        for field, problem in reckon(calculator, examples, system).problems:
            said = problem_sentence(calculator.id, field, problem)
            yield f"{file} refuses its own examples ({system}), so change them: {said}"


def _undrawn(file, picture):
    if not (PACKAGE / picture).is_file():
        yield f"{file} has no picture, by which the card is found: draw {picture}."


def _number_faults(checklist, file):
    for id, (results, inputs) in checklist.sums.items():
        yield from _unknown([id], calculators(), f"{file}: a sum in numbers")
        yield from _unknown(results, calculators()[id].results, f"{file}: a result of {id}")
        yield from _unknown(inputs, calculators()[id].fields, f"{file}: an input of {id}")
        yield from _unsaid(f"wording/{LANGUAGE}/numbers.toml", words("numbers"), {"when": _each([id])})


def _step_faults():
    said = words("purge_steps")
    for name, file in rows().items():
        states = [row["state"] for row in file["steps"]]
        for row in file["steps"]:
            yield from _row_faults(f"purge/tables/{name}.toml: the step {row['state']}", row, states, said)
        for changes in file.get("changes", {}).values():
            targets = [target for change in changes.values() for target in _targets(change)]
            yield from _unknown(targets, states, f"purge/tables/{name}.toml: where a change leads")
        for row in file.get("short", []):
            yield from _shared_faults(f"purge/tables/{name}.toml: a screen of the short pace", row, file)
    known = {row["state"] for file in rows().values() for row in file["steps"]}
    yield from _unknown(said, known, f"wording/{LANGUAGE}/purge_steps.toml: a step")


def _shared_faults(screen, row, file):
    steps = {step["state"]: step for step in file["steps"]}
    known = ("steps", "also", "told", "without", "tables", "kinds")
    yield from _unknown(row, known, f"{screen}: a key")
    yield from _unknown([*row["steps"], *row.get("also", []), *row.get("told", [])], steps, f"{screen}: a step")
    yield from _unknown(row.get("tables", []), [LATEST, *file.get("changes", {})], f"{screen}: a table")
    yield from _unknown(row.get("kinds", []), file["begins"].values(), f"{screen}: how a tank stands")
    for state in row["steps"]:
        if steps[state].get("gate") or steps[state].get("running"):
            yield f"{screen} holds {state}: a gate, and a step at which beer can run, has a screen of its own."


def _row_faults(step, row, states, said):
    yield from _unknown(row, [field.name for field in fields(Step)], f"{step}: a key")
    leads = [*row["events"].values(), row.get("skip", row["state"]), row.get("again", row["state"])]
    yield from _unknown([each for lead in leads for each in _targets(lead)], states, f"{step}: where it leads")
    for key in ("saves", "pressures"):
        yield from _unknown(row.get(key, []), sums()["readings"], f"{step}: a reading in {key}")
    for key in ("facts", "aside"):
        yield from _unknown(row.get(key, []), row["events"], f"{step}: an event in {key}")
    for line in row.get("lines", []):
        list_, _, id = line.partition(".")
        yield from _unknown([list_], checklists(), f"{step}: the list of a line")
        yield from _unknown([id], [each.id for each in checklists()[list_].lines], f"{step}: a line of {list_}")
    yield from _unsaid(
        f"wording/{LANGUAGE}/purge_steps.toml", said, {row["state"]: {"title": None, "events": _each(row["events"])}}
    )
    labels = _each(row.get("saves", []), _each(("label", "help")))
    yield from _unsaid(f"wording/{LANGUAGE}/purge.toml", words("purge"), {"fields": labels})
    for shown in row.get("shows", []):
        name, _, result = shown.partition(".")
        yield from _unknown([name], sums()["sums"], f"{step}: a sum it shows")
        known = calculators()[sums()["sums"][name]["calculator"]].results
        yield from _unknown([result], known, f"{step}: a result it shows")


def _targets(lead):
    return lead.values() if isinstance(lead, dict) else [lead]


def _reading_faults():
    for name, like in sums()["readings"].items():
        id, _, field = like.partition(".")
        yield from _unknown([id], calculators(), f"{SUMS}: the sum of the reading {name}")
        yield from _unknown([field], calculators()[id].fields, f"{SUMS}: the input of the reading {name}")
    yield from _unknown(sums()["instruments"], sums()["readings"], f"{SUMS}: an instrument")
    for name in sums()["instruments"]:
        id, _, field = sums()["readings"][name].partition(".")
        for symbol in chain(*KINDS[calculators()[id].fields[field].kind].values()):
            if symbol not in sums()["step_by"]:
                yield f"{SUMS}: step_by has no {symbol!r}, which {name} may be read in: say how far − and + move it."
    for name in sums()["buckets"]:
        id, _, field = sums()["readings"][name].partition(".")
        for system, symbols in KINDS["bucket_volume"].items():
            for symbol in set(symbols) & {symbols[0], *KINDS[calculators()[id].fields[field].kind][system]}:
                if symbol not in sums()["bucket_holds"]:
                    yield f"{SUMS}: bucket_holds has no {symbol!r}, which {name} is asked in: say what a bucket holds."


def _sum_faults():
    for name, row in sums()["sums"].items():
        id = row["calculator"]
        yield from _unknown([id], calculators(), f"{SUMS}: the calculator of the sum {name}")
        yield from _unknown(row["inputs"], calculators()[id].fields, f"{SUMS}: an input of the sum {name}")


def _scenario_faults():
    file, said = f"wording/{LANGUAGE}/rehearsal.toml", words("rehearsal")
    instead = {code for scenario in scenarios().values() for code in scenario["done"]["no-mistake"]}
    wanted = {
        "scenarios": _each(scenarios(), _each(("title", "teaches"))),
        "happened": {code: _each(("says", "instead") if code in instead else ("says",)) for code in happened()},
    }
    yield from _unsaid(file, said, wanted)
    for part, known in wanted.items():
        yield from _unknown(said[part], known, f"{file}: a name in {part}")
    for code, row in happened().items():
        places = [place for _, place, _, _ in Formatter().parse(said["happened"][code]["says"]) if place]
        yield from _unknown(places, (*FACTS, "reason"), f"{file}: a place in {code}")
        yield from _unknown(filter(None, [row["signal"]]), SIGNALS, f"rehearsal/happened.toml: the signal of {code}")
        yield from _unknown(filter(None, [row["card"]]), cards(), f"rehearsal/happened.toml: the card of {code}")


def _link_faults():
    """Imports that lead nowhere: joined into one file, the modules would say so only when a hand comes by them."""
    texts = {name: (PACKAGE / name).read_text(encoding="utf-8") for name in modules()}
    texts |= {f"{room}/declared.js": declared_js(room) for room in DECLARED}
    exported = {path: {name for _, name in EXPORT.findall(text)} for path, text in texts.items()}
    for path, text in texts.items():
        for names, address in IMPORT.findall(text):
            target = posixpath.normpath(posixpath.join(posixpath.dirname(path), address))
            if target not in exported:
                yield f"{path} imports {address}, which is not there: correct the address."
            wanted = [name.partition(" as ")[0].strip() for name in names.strip("{} \n").split(",")]
            yield from _unknown(filter(None, wanted), exported[target], f"{path}: an import from {target}")
