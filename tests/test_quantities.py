"""Units by their legal definitions, the ± by another library, readings by what people write."""

import math

import pytest
import uncertainties
from hypothesis import assume, given
from hypothesis import strategies as st
from tankfoot.calculators import calculators
from tankfoot.calculators.reckon import reckon
from tankfoot.quantities.field import Form, Quantity
from tankfoot.quantities.format import format_number, format_pair, format_plain
from tankfoot.quantities.propagate import propagate, within_reach
from tankfoot.quantities.text import RefusedText, read_quantity
from tankfoot.quantities.units import KINDS, SYSTEMS, dimension, units
from uncertainties import umath

INCH = 0.0254
POUND = 0.45359237
GRAVITY = 9.80665
US_GALLON = 231 * INCH**3
IMPERIAL_GALLON = 4.54609e-3

# Source: NIST SP 811 (2008), appendix B.8; the US beer barrel is 31 gallons: 27 CFR 25.11; the imperial barrel
# of beer 36 imperial gallons: common practice, no source.
SI_FACTORS = {
    "bbl": 31 * US_GALLON,
    "gal": US_GALLON,
    "fl oz": US_GALLON / 128,
    "imp bbl": 36 * IMPERIAL_GALLON,
    "imp gal": IMPERIAL_GALLON,
    "imp fl oz": IMPERIAL_GALLON / 160,
    "hL": 0.1,
    "L": 1e-3,
    "mL": 1e-6,
    "psi": POUND * GRAVITY / INCH**2,
    "bar": 1e5,
    "mbar": 100.0,
    "kPa": 1e3,
    "min": 60.0,
    "h": 3600.0,
    "L/min": 1e-3 / 60,
    "hL/h": 0.1 / 3600,
    "gal/min": US_GALLON / 60,
    "bbl/min": 31 * US_GALLON / 60,
    "lb": POUND,
    "oz": POUND / 16,
    "g": 1e-3,
    "ft": 12 * INCH,
    "in": INCH,
    "ft/s": 12 * INCH,
    "g/mL": 1000.0,
    "lbf": POUND * GRAVITY,
    "kgf": GRAVITY,
    "%": 0.01,
    "$/bbl": 1 / (31 * US_GALLON),
    "$/hL": 10.0,
}


@pytest.mark.parametrize("symbol, factor", SI_FACTORS.items())
def test_units_have_their_legal_size(symbol, factor):
    assert units()[symbol].factor == pytest.approx(factor, rel=1e-14)


# Source: the definition of the Celsius and the Fahrenheit scale, NIST SP 811, appendix B.8.
@pytest.mark.parametrize("text, kelvin", [("0 °C", 273.15), ("32 °F", 273.15), ("212 °F", 373.15), ("-40 °F", 233.15)])
def test_temperatures_have_their_fixed_points(text, kelvin):
    assert read_quantity(text, "temperature", "°C").si == pytest.approx(kelvin, rel=1e-14)


def test_a_difference_of_temperature_has_no_zero_point():
    # Source: NIST SP 811, 8.5: an interval of 9 °F is one of 5 °C.
    assert read_quantity("50 ± 9 °F", "temperature", "°C").uncertainty == pytest.approx(5.0, rel=1e-14)


def test_all_units_of_a_kind_measure_the_same():
    for kind, by_system in KINDS.items():
        assert set(by_system) == set(SYSTEMS)
        assert {units()[symbol].dimension for symbols in by_system.values() for symbol in symbols} == {dimension(kind)}


numbers = st.floats(-1e6, 1e6).filter(lambda x: x == 0 or abs(x) > 1e-6)


@given(numbers, st.sampled_from(sorted(KINDS)), st.sampled_from(list(SYSTEMS)), st.data())
def test_what_is_written_with_all_its_digits_is_read_back(number, kind, system, data):
    symbol = data.draw(st.sampled_from(KINDS[kind][system]))
    reading = read_quantity(f"{number!r} {symbol}", kind, symbol)
    assert (reading.value, reading.unit) == (number, symbol)


@given(numbers, st.integers(2, 6))
def test_a_written_number_is_within_half_its_last_digit(number, significant):
    text = format_number(number, significant).replace("\u2212", "-")
    assume("×" not in text)
    decimals = len(text.partition(".")[2])
    assert abs(float(text) - number) <= 0.5 * 10.0**-decimals * (1 + 1e-9)


@given(numbers)
def test_plain_numbers_can_be_typed_again(number):
    text = format_plain(number, 6)
    assume("×" not in text)
    assert read_quantity(text, "gauge_pressure", "psi").value == pytest.approx(number, rel=1e-5)


@given(st.floats(-1e6, 1e6), st.floats(1e-3, 1e5))
def test_a_number_and_its_give_or_take_end_at_the_same_decimal_or_the_number_sooner(number, spread):
    value, give_or_take = format_pair(number, spread)
    assert len(value.partition(".")[2]) <= len(give_or_take.partition(".")[2])


@given(st.text(max_size=70), st.sampled_from(sorted(KINDS)))
def test_any_text_is_read_or_refused_and_nothing_else(text, kind):
    try:
        reading = read_quantity(text, kind, KINDS[kind]["us"][0])
    except RefusedText as refused:
        assert refused.code
    else:
        assert math.isfinite(reading.si)


def test_the_give_or_take_is_that_of_another_library():
    # Source: the uncertainties package, the same first-order rule with exact derivatives. Differences over a tenth
    # of the ± leave the curvature in: under 1e-3 here.
    def formula(x, exp=math.exp, log=math.log):
        return x["a"] * exp(-x["b"]) / x["c"] + log(x["a"] + x["c"])

    at, doubts = {"a": 3.0, "b": 0.7, "c": 2.0}, {"a": 0.05, "b": 0.02, "c": 0.04}
    ours = propagate(lambda x: {"y": formula(x)}, at, doubts)["y"]
    theirs = formula({name: uncertainties.ufloat(at[name], doubts[name]) for name in at}, umath.exp, umath.log)
    assert ours == pytest.approx(theirs.std_dev, rel=1e-3)


def test_a_sum_of_readings_has_the_root_of_the_sum_of_squares():
    # Source: JCGM 100:2008, 5.1.3, by hand: 3 and 4 give 5.
    assert propagate(lambda x: {"y": x["a"] + x["b"]}, {"a": 10.0, "b": 20.0}, {"a": 3.0, "b": 4.0})["y"] == (
        pytest.approx(5.0, rel=1e-9)
    )


def test_a_reading_at_the_edge_of_a_formula_uses_the_side_that_is_there():
    # Source: by hand, the slope of x from 0 upwards is 1.
    found = propagate(lambda x: {"y": x["a"] + 0.0 * math.sqrt(x["a"])}, {"a": 0.0}, {"a": 0.1})
    assert found["y"] == pytest.approx(0.1)


def test_a_formula_without_an_answer_has_none():
    for broken in (lambda x: {"y": 1.0 / x["a"]}, lambda x: {"y": math.log(x["a"])}, lambda x: {"y": 1e308 * 10.0}):
        assert within_reach(broken, {"a": 0.0}) is None


class Tank(Form):
    headspace = Quantity("tank_volume", low="1 bbl", high="10 bbl", uncertainty="5 %")
    pressure = Quantity("gauge_pressure", low="0 psi", high="15 psi", default="5 psi")
    value = Quantity("beer_value", low="0 $/bbl", high="500 $/bbl", optional=True)


def test_a_field_left_empty_takes_its_default_and_an_optional_one_stays_empty():
    loaded = Tank("us").load({"headspace": "3", "pressure": "  ", "value": ""})
    assert loaded["pressure"].value == 5.0
    assert "value" not in loaded


def test_limits_are_allowed_and_what_lies_beyond_is_not():
    for text in ("1", "10", "1 bbl", "310 gal"):
        assert Tank("us").validate({"headspace": text}) == {}
    for text, code in (("0.999", "too-low"), ("10.001", "too-high"), ("311 gal", "too-high")):
        assert Tank("us").validate({"headspace": text})["headspace"][0].code == code


def test_all_problems_are_told_at_once():
    problems = Tank("us").validate({"headspace": "many", "pressure": "99", "colour": "brown"})
    assert {name: [problem.code for problem in found] for name, found in problems.items()} == {
        "headspace": ["not-a-number"], "pressure": ["too-high"], "colour": ["unknown-field"],
    }


def test_a_result_whose_give_or_take_is_larger_than_itself_says_so():
    texts = {"headspace": "3 bbl", "pressure_before": "8.1 ± 0.5", "pressure_after": "8 ± 0.5"}
    (result, *_) = reckon(calculators()["purge-volume"], texts).results.values()
    assert result.uncertainty > result.value > 0.0
    assert result.doubtful
