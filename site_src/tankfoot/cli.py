"""The ``tankfoot`` command: build and serve the site, reckon a sum, list the sums, and those of office/commands.py."""

import argparse
import json
import os
import sys
from functools import partial
from pathlib import Path

from tankfoot import __version__
from tankfoot.calculators import calculators
from tankfoot.calculators.reckon import reckon
from tankfoot.office.commands import COULD_NOT, REFUSED, add_commands
from tankfoot.quantities.field import Problem
from tankfoot.quantities.format import format_plain, with_unit
from tankfoot.quantities.units import SYSTEMS, offered, stock_unit
from tankfoot.site.faults import FAULTS
from tankfoot.site.papers import PAPERS
from tankfoot.wording import problem_sentence, words


def main(arguments=None):
    """Runs one command; returns the exit code: 0 done, 1 could not, 2 refused input."""
    options = _parser().parse_args(arguments)
    try:
        code = options.run(options)
        print(end="", flush=True)
        return code
    except FAULTS as fault:
        print(fault, file=sys.stderr)
        return COULD_NOT
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # or Python complains again at its end
        return COULD_NOT


def _parser():
    parser = argparse.ArgumentParser(prog="tankfoot", description=words("app")["tagline"])
    parser.add_argument("--version", action="version", version=__version__)
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    build, says = _command(commands, "build", _build)
    build.add_argument("--output", type=Path, default=Path("build"), metavar="DIR", help=says["output"])
    build.add_argument("--address", metavar="URL", help=says["address"])

    serve, says = _command(commands, "serve", _serve)
    serve.add_argument("--output", type=Path, default=Path("build"), metavar="DIR", help=says["output"])
    serve.add_argument("--port", type=int, default=8000, help=says["port"])

    print_, says = _command(commands, "print", _print)
    print_.add_argument("--output", type=Path, default=Path("tankfoot-sheets.pdf"), metavar="FILE", help=says["output"])
    print_.add_argument("--paper", choices=PAPERS, default="a5", help=says["paper"])
    print_.add_argument("--address", metavar="URL", help=says["address"])

    reckon_, says = _command(commands, "reckon", _reckon)
    reckon_.add_argument("calculator", metavar="ID", help=says["calculator"])
    reckon_.add_argument("inputs", nargs="*", metavar="NAME=VALUE", help=says["inputs"])
    reckon_.add_argument("--units", choices=SYSTEMS, default="us", help=says["units"])
    reckon_.add_argument("--json", action="store_true", help=says["json"])

    list_, says = _command(commands, "list", _list)
    list_.add_argument("--units", choices=SYSTEMS, default="us", help=says["units"])
    list_.add_argument("--json", action="store_true")

    add_commands(partial(_command, commands))
    return parser


def _command(commands, name, run):
    """The parser of one command, and its words."""
    says = words("command")[name]
    parser = commands.add_parser(name, help=says["help"])
    parser.set_defaults(run=run)
    return parser, says


def _say(command, key, **facts):
    return words("command")[command][key].format(**facts)


def _build(options):
    from tankfoot.site.freezer import freeze
    from tankfoot.site.qr import AddressError, site_root

    try:
        count, size = freeze(options.output, options.address and site_root(options.address))
    except AddressError as wrong:
        return _refused(wrong)
    print(_say("build", "done", count=count, size=f"{size / 1000:.0f}", folder=options.output))
    return 0


def _serve(options):
    from tankfoot.site.freezer import freeze
    from tankfoot.site.server import bind

    freeze(options.output)
    server = bind(options.output, options.port)
    if server.server_port != options.port:
        print(_say("serve", "taken", port=options.port))
    print(_say("serve", "at", port=server.server_port), flush=True)
    try:
        server.serve_forever()
    except KeyboardInterrupt:
        server.server_close()
    return 0


def _print(options):
    from tankfoot.site.printing import PrintError, chromium, print_pdf, sheets_html
    from tankfoot.site.qr import AddressError, site_root

    try:
        html = sheets_html(options.paper, options.address and site_root(options.address))
    except AddressError as wrong:
        return _refused(wrong)
    output = options.output / "tankfoot-sheets.pdf" if options.output.is_dir() else options.output
    browser = chromium()
    try:
        if output.suffix == ".html" or browser is None:
            output = output.with_suffix(".html")
            output.write_text(html, encoding="utf-8")
        else:
            print_pdf(browser, html, output)
    except (PrintError, OSError) as failed:
        print(failed, file=sys.stderr)
        return COULD_NOT
    print(output)
    if browser is None:
        print(_say("print", "no_browser"))
    if options.address is None:
        print(_say("print", "no_codes"))
    return 0


def _refused(wrong):
    print(wrong, file=sys.stderr)
    return REFUSED


def _reckon(options):
    texts, problems = _texts(options.inputs)
    calculator = calculators().get(options.calculator)
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


def _list(options):
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
