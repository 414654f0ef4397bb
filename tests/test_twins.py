"""Every Python module that the browser needs has its twin, and the two write and read numbers alike."""

import ast
import json
import random
from importlib.resources import files

import pytest
from cases import ODD_TEXTS, SEED
from tankfoot.calculators import calculators
from tankfoot.quantities.format import format_number, format_pair, format_plain, format_result
from tankfoot.quantities.text import RefusedText, read_quantity
from tankfoot.quantities.units import KINDS, units

# Modules of the shared rooms that stay in Python, and why.
PYTHON_ONLY = {
    "calculators/__init__": "finds the calculators; the build writes what it finds into declared.js",
    "calculators/readings": "fields that several sums share; the browser gets them as declared.js",
    "physics/__init__": "no function",
    "quantities/__init__": "no function",
    "quantities/field": "the declaration itself; the browser gets it as declared.js",
    "quantities/kept": "what the command keeps of the unit table; the browser has that as declared.js",
    "quantities/units": "the unit table; the browser gets it as declared.js",
    "tanks/__init__": "no function",
    "usual/__init__": "no function",
    "watch/__init__": "no function",
}
ROOMS = ("physics", "quantities", "calculators", "tanks", "usual", "watch")
# Declared under another name: reckon takes a form apart where marshmallow does it in Python.
SIGNATURE_IN_BROWSER = {"reckon": 4}
PACKAGE = files("tankfoot")


def python_modules():
    return [
        f"{room}/{path.name.removesuffix('.py')}"
        for room in ROOMS
        for path in sorted((PACKAGE / room).iterdir(), key=lambda path: path.name)
        if path.name.endswith(".py")
    ]


def functions(module):
    """{name as in JavaScript: number of arguments without a default} of a module's public functions."""
    tree = ast.parse((PACKAGE / f"{module}.py").read_text(encoding="utf-8"))
    return {
        camel(node.name): len(node.args.args) - len(node.args.defaults)
        for node in tree.body
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
    }


def camel(name):
    first, *rest = name.split("_")
    return first + "".join(part.capitalize() for part in rest)


@pytest.fixture(scope="module")
def page(chromium, served):
    page = chromium.new_page(service_workers="block")
    page.goto(served.address)
    yield page
    page.close()


@pytest.fixture(scope="module")
def call(page, served):
    """Calls an exported function of one module for many lists of arguments, all in one go."""

    def calls(module, name, argument_lists):
        given = {"url": served.script, "module": f"{module}.js", "name": name, "calls": argument_lists}
        return json.loads(page.evaluate(
            """async (given) => {
              const { url, module: path, name, calls } = JSON.parse(given);
              const module = await (await import(url)).take(path);
              return JSON.stringify(calls.map((call) => {
                try { return module[name](...call); }
                catch (error) { return { code: error.code ?? String(error) }; }
              }));
            }""",
            json.dumps(given),
        ))

    return calls


@pytest.mark.parametrize("module", [module for module in python_modules() if module not in PYTHON_ONLY])
def test_every_module_has_a_twin_with_the_same_functions(module, page, served):
    exported = page.evaluate(
        """async ([url, path]) => Object.fromEntries(Object.entries(await (await import(url)).take(path))
             .filter(([, thing]) => typeof thing === "function" && !/^class /.test(thing))
             .map(([name, fn]) => [name, fn.length]))""",
        [served.script, f"{module}.js"],
    )
    for name, arguments in functions(module).items():
        assert name in exported
        if name in SIGNATURE_IN_BROWSER:
            arguments = SIGNATURE_IN_BROWSER[name]
        if not (module.startswith("calculators/") and name in ("remarks", "refusals", "compute")):
            assert exported[name] == arguments, name
    if module.startswith("physics/"):
        assert set(exported) == set(functions(module))


def test_no_module_is_excused_that_is_not_there():
    assert set(PYTHON_ONLY) <= set(python_modules())


def test_every_calculator_exports_all_a_sum_needs(page, served):
    for id in calculators():
        path = f"calculators/{id.replace('-', '_')}.js"
        names = page.evaluate("async ([url, path]) => Object.keys(await (await import(url)).take(path))",
                              [served.script, path])
        assert {"refusals", "compute", "remarks"} <= set(names), id


def numbers(count):
    """Random floats over many decades, exact ties, and the ends of what a float can be."""
    rng = random.Random(SEED)
    spread = [rng.choice((1, -1)) * rng.random() * 10.0 ** rng.randint(-12, 15) for _ in range(count)]
    short = [float(f"{rng.uniform(-1000, 1000):.{rng.randint(1, 6)}g}") for _ in range(count)]
    ties = [k / 2.0**power for power in range(1, 8) for k in range(-41, 42, 2)]
    nines = [sign * 10.0**p * (1.0 - 10.0**-d) for sign in (1, -1) for p in range(-9, 13) for d in (4, 13)]
    ends = [0.0, -0.0, 5e-324, -5e-324, 2.2250738585072014e-308, 1.7976931348623157e308]
    borders = [1e-7, 9.995e-7, 9.9949999999e-7, 1e9, 999499999.9, 999999999.5]
    return spread + short + ties + nines + ends + borders


@pytest.mark.parametrize("significant", [2, 3, 5, 6])
def test_numbers_are_written_alike(significant, call):
    given = numbers(4000)
    for python, name in ((format_number, "formatNumber"), (format_plain, "formatPlain")):
        theirs = call("quantities/format", name, [[number, significant] for number in given])
        assert [python(number, significant) for number in given] == theirs


def test_numbers_with_their_give_or_take_are_written_alike(call):
    rng = random.Random(SEED)
    given = [[number, abs(number) * 10.0 ** rng.uniform(-7, 3)] for number in numbers(3000)]
    given += [[number, abs(rng.choice(numbers(50)))] for number in numbers(500)]
    given += [[0.0, 10.0 ** rng.uniform(-30, 20)] for _ in range(200)]
    given = [pair for pair in given if pair[1] < float("inf")]
    assert [list(format_pair(*pair)) for pair in given] == call("quantities/format", "formatPair", given)


def test_results_are_written_alike_in_every_unit(call):
    rng = random.Random(SEED)
    pool = [number for number in numbers(300) if abs(number) < 1e290]
    given = [
        [number, rng.choice((None, 0.0, abs(number) * 10.0 ** rng.uniform(-6, 2))), symbol]
        for symbol in units()
        for number in rng.sample(pool, 60)
    ]
    assert [format_result(*triple) for triple in given] == call("quantities/format", "formatResult", given)


def test_texts_are_read_alike(call):
    rng = random.Random(SEED)
    symbols = [spelling for unit in units().values() for spelling in (unit.symbol, unit.pint, *unit.aliases)]
    texts = list(ODD_TEXTS)
    scraps = ("5", "12", ".", ",", "-", "−", "+", "e", "E", " ", "\u00a0", "±", "+/-", "%", "psi", "nan")
    for _ in range(6000):
        pieces = rng.choices(scraps, k=5)
        texts += ["".join(pieces[: rng.randint(1, 5)]), f"{rng.uniform(-99, 99):.3g} {rng.choice(symbols)}"]
    given = [[text, kind, KINDS[kind]["us"][0]] for text in texts for kind in [rng.choice(list(KINDS))]]
    ours = [_read(*arguments) for arguments in given]
    theirs = call("quantities/text", "readQuantity", given)
    assert [(g, o, t) for g, o, t in zip(given, ours, theirs, strict=True) if o != t] == []
    assert any("si" in reading for reading in ours)


def _read(text, kind, bare_unit):
    try:
        return vars(read_quantity(text, kind, bare_unit))
    except RefusedText as refused:
        return {"code": refused.code}


# Rounded by hand: half away from zero, three digits, or all digits before the point.
WRITTEN_BY_HAND = [
    (2.5, "2.50"), (0.125, "0.125"), (0.1255, "0.126"), (12.25, "12.3"), (-12.25, "−12.3"), (1234.5, "1235"),
    (-0.0, "0"), (0.0, "0"), (0.00012345, "0.000123"), (99.95, "100"), (9.995, "10.0"), (99.949, "99.9"),
    (123456.5, "123457"), (1e9, "1.00×10⁹"), (-2.345e-8, "−2.35×10⁻⁸"), (0.285, "0.285"), (1.005, "1.01"),
    (999499999.4, "999499999"), (1e-6, "0.00000100"),
]
# Rounded by hand. Source: JCGM 100:2008 (GUM), 7.2.6: the ± to two digits at most, the number to the same digit.
PAIRS_BY_HAND = [
    ((0.44061, 0.1234), ("0.44", "0.12")), ((10.0, 0.5), ("10.00", "0.50")),
    ((12345.0, 678.0), ("12350", "680")), ((-17184.0, 1859.0), ("−17200", "1900")), ((40.0, 520.0), ("40", "520")),
    ((3.0, 520.0), ("0", "520")), ((1234567.0, 12.0), ("1234567", "12")),
    ((1.0, 0.095), ("1.000", "0.095")), ((3.0, 0.0996), ("3.00", "0.10")), ((0.0, 2.5), ("0.0", "2.5")),
    ((-1.26, 0.25), ("−1.26", "0.25")), ((5.0, 0.0), ("5.00", "0")),
    ((5.2e12, 4e11), ("5.20×10¹²", "0.40×10¹²")), ((9.96e9, 4e8), ("9.96×10⁹", "0.40×10⁹")),
    ((1e8, 2e9), ("0.1×10⁹", "2.0×10⁹")), ((0.0, 3e10), ("0.0×10¹⁰", "3.0×10¹⁰")),
    ((0.0, 3e-12), ("0.0×10⁻¹²", "3.0×10⁻¹²")),
    ((2.5e-8, 1.2e-9), ("2.50×10⁻⁸", "0.12×10⁻⁸")), ((5e9, 0.4), ("5.0000×10⁹", "0.40")),
]
# A whole count without a ± has no decimals: by hand.
COUNTS_BY_HAND = [
    ([8.0, None, "times"], "8"), ([0.0, None, "times"], "0"), ([1200.0, None, "times"], "1200"),
    ([8.5, None, "times"], "8.50"), ([44.0, 3.0, "times"], "44.0"), ([8.0, None, "L"], "8000"),
    ([-3.0, None, "times"], "−3"), ([2.5e12, None, "times"], "2.50×10¹²"), ([0.008, None, "L"], "8.00"),
]
# A pound force is 0.45359237 kg x 9.80665 m/s2 and an inch 25.4 mm, both exact: NIST SP 811, appendix B.
# 1 US barrel of beer is 31 gal of 231 cubic inches: 27 CFR 25.11.
READ_BY_HAND = [
    ("10 psi", "gauge_pressure", 10 * 0.45359237 * 9.80665 / 0.0254**2),
    ("0,7 bar", "gauge_pressure", 70000.0),
    ("−4 °C", "temperature", 269.15),
    ("32 °F", "temperature", 273.15),
    ("2 bbl", "tank_volume", 2 * 31 * 231 * 0.0254**3),
    ("36 imp gal", "tank_volume", 36 * 0.00454609),
    (".5 m", "head", 0.5),
    ("1e3 mm", "bore", 1.0),
]
REFUSED_BY_HAND = [
    ("", "empty"), ("1" * 65, "too-long"), ("1,234", "ambiguous-number"), ("1.2.3", "not-a-number"),
    ("١٢", "not-a-number"), ("nan", "not-finite"), ("5 parsec", "unknown-unit"), ("0x10", "unknown-unit"),
    ("1_000", "unknown-unit"), ("5 kg", "wrong-dimension"), ("5 ± -1", "bad-uncertainty"),
]


def test_numbers_are_written_as_a_person_rounds_them(call):
    for number, text in WRITTEN_BY_HAND:
        assert format_number(number) == text
        assert call("quantities/format", "formatNumber", [[number]]) == [text]


def test_a_give_or_take_is_written_as_a_person_rounds_it(call):
    for pair, texts in PAIRS_BY_HAND:
        assert format_pair(*pair) == texts
        assert call("quantities/format", "formatPair", [list(pair)]) == [list(texts)]


def test_a_whole_count_is_written_whole(call):
    for given, number in COUNTS_BY_HAND:
        for shown in (format_result(*given), *call("quantities/format", "formatResult", [given])):
            assert shown["text"].split(" ")[0] == number


def test_texts_mean_what_a_person_means(call):
    for text, kind, si in READ_BY_HAND:
        given = [text, kind, KINDS[kind]["us"][0]]
        for read in (_read(*given), *call("quantities/text", "readQuantity", [given])):
            assert read["si"] == pytest.approx(si, rel=1e-12)


def test_texts_that_are_no_number_are_refused(call):
    for text, code in REFUSED_BY_HAND:
        given = [text, "gauge_pressure", "psi"]
        assert _read(*given) == {"code": code}
        assert call("quantities/text", "readQuantity", [given]) == [{"code": code}]
