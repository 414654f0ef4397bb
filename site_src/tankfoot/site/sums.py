"""What ``tankfoot reckon`` and ``tankfoot list`` answer: the sums, for people and for programs."""

import json
import sys

from tankfoot.calculators import calculator as calculator_of
from tankfoot.calculators import calculators
from tankfoot.calculators.reckon import reckon
from tankfoot.office.commands import REFUSED
from tankfoot.quantities.field import Problem
from tankfoot.quantities.format import format_plain, with_unit
from tankfoot.quantities.units import offered, stock_unit
from tankfoot.wording import problem_sentence, words


def reckoned(options):
    """Works one sum out and prints it; the exit code."""
    texts, problems = _texts(options.inputs)
    calculator = calculator_of(options.calculator)
    if calculator is None:
        problems = [("calculator", Problem("unknown-calculator", {"label": options.calculator}))]
    if problems:
        return _refuse([_error(None, *problem) for problem in problems], options.json)
    outcome = reckon(calculator, texts, options.units)
    if outcome.problems:
        return _refuse([_error(calculator.id, *problem) for problem in outcome.problems], options.json)
    print(_as_json(calculator, outcome) if options.json else _as_table(calculator, outcome))
    return 0


def _texts(pairs):
    texts, problems = {}, []
    for pair in pairs:
        name, equals, text = pair.partition("=")
        if not equals:
            problems.append((pair, Problem("not-name-value")))
        texts[name.strip()] = text
    return texts, problems


def _error(calculator_id, field, problem):
    if calculator_id:
        message = problem_sentence(calculator_id, field, problem)
    else:
        message = words("app")["problems"][problem.code].format(**{"label": field, **problem.facts})
    return {"field": field, "code": problem.code, "message": message}


def _refuse(errors, as_json):
    lines = json.dumps({"errors": errors}, ensure_ascii=False) if as_json else "\n".join(e["message"] for e in errors)
    print(lines, file=sys.stderr)
    return REFUSED


def _as_json(calculator, outcome):
    return json.dumps(
        {
            "calculator": calculator.id,
            "inputs": {name: _json_input(reading) for name, reading in outcome.inputs.items() if reading},
            "results": {name: _json_result(result) for name, result in outcome.results.items() if result},
            "cautions": _cautions(calculator, outcome),
        },
        ensure_ascii=False,
    )


def _json_input(reading):
    unit = stock_unit(reading.unit)
    typed = unit.symbol == reading.unit
    given = {"value": reading.value if typed else (reading.si - unit.offset) / unit.factor, "unit": unit.pint}
    if reading.uncertainty is not None:
        given["uncertainty"] = reading.uncertainty / unit.factor
    return given


def _json_result(result):
    unit = stock_unit(result.unit)
    shown = {"value": (result.value - unit.offset) / unit.factor, "unit": unit.pint}
    if result.uncertainty is not None:
        shown["uncertainty"] = result.uncertainty / unit.factor
    return shown


def _cautions(calculator, outcome):
    own = words(calculator.id)
    remarks = [own["remarks"][name] for name in outcome.remarks]
    signals = calculator.module.CAUTIONS.items()
    return remarks + [_caution_text(own["cautions"][name], signal) for name, signal in signals]


def _caution_text(caution, signal):
    parts = (caution[part] for part in ("hazard", "consequence", "avoid") if part in caution)
    return f"{signal}: {' '.join(parts)}"


def _as_table(calculator, outcome):
    own = words(calculator.id)
    lines = [own["title"], ""]
    for name, reading in outcome.inputs.items():
        if reading:
            lines.append(f"  {own['fields'][name]['label']:<34} {_shown(reading)}")
    lines.append("")
    for name, result in outcome.results.items():
        if result:
            doubt = f"  ({words('app')['doubt']['larger']})" if result.doubtful else ""
            lines.append(f"  {own['results'][name]:<34} {result.text} {result.give_or_take or ''}{doubt}".rstrip())
    return "\n".join([*lines, "", *_cautions(calculator, outcome)])


def _shown(reading):
    return with_unit(format_plain(reading.value, 6), reading.unit)


def listed(options):
    """Prints all sums and what they ask; the exit code."""
    declared = [_declared(calculator, options.units) for calculator in calculators().values()]
    if options.json:
        print(json.dumps({"calculators": declared}, ensure_ascii=False))
        return 0
    for calculator in declared:
        print(f"{calculator['id']}: {calculator['question']}")
        for field in calculator["fields"]:
            print(f"  {field['name']:<20} {field['label']} ({', '.join(field['units'])})")
    return 0


def _declared(calculator, system):
    own = words(calculator.id)
    return {
        "id": calculator.id,
        "title": own["title"],
        "question": own["question"],
        "fields": [_declared_field(own, name, field, system) for name, field in calculator.fields.items()],
        "results": [
            {"name": name, "label": own["results"][name], "unit": stock_unit(offered(kind, system)[0]).pint}
            for name, kind in calculator.results.items()
        ],
        "cautions": [{"name": name, "signal": signal} for name, signal in calculator.module.CAUTIONS.items()],
    }


def _declared_field(own, name, field, system):
    return {
        "name": name,
        **own["fields"][name],
        "kind": field.kind,
        "units": list(dict.fromkeys(stock_unit(symbol).pint for symbol in offered(field.kind, system))),
        "required": field.defaults[system] is None and not field.optional,
        "default": field.defaults[system],
        "example": field.examples[system],
        "lowest": _limit(field.low, field.kind, system),
        "highest": _limit(field.high, field.kind, system),
    }


def _limit(si, kind, system):
    unit = stock_unit(offered(kind, system)[0])
    return {"value": (si - unit.offset) / unit.factor, "unit": unit.pint}
