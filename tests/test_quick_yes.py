"""What says a quick yes says it to nothing that validation refuses, and to nearly all that is right."""

import json
import random
from datetime import date, timedelta

import many_phones
import rfc8785
from cases import SEED, a_case
from drawn_meaning import entry_of_any_meaning
from drawn_records import shape, spoilt_entry
from hypothesis import given
from hypothesis import strategies as st
from marshmallow import ValidationError
from records import current
from tankfoot.calculators import calculators
from tankfoot.office.lines import _surely_right
from tankfoot.record.entry import SCHEMA_VERSION, is_surely_right, told_problems

DRAWN = 2000
RIGHT = 0.95  # of what is right, was not deleted and holds no list that no shape knows, at least
SPOILT_TEXTS = ("\n", "\u0663", " ", "Z", "0", "\ud83d", "\x00")


def quick(entry):
    """Whether an entry whose keys are in order, as those of a file are, gets a quick yes."""
    return is_surely_right(json.loads(json.dumps(entry, sort_keys=True)))


def drawn(rng):
    """An entry, right or spoilt, now and then with a body of another kind or one on a limit."""
    entry = rng.choice((spoilt_entry, entry_of_any_meaning))(rng)
    if isinstance(entry, dict) and rng.random() < 0.4:
        _, value, _ = shape(rng)
        kinds = [other["kind"] for other in current()["entries"]]
        entry = entry | rng.choice(({"body": value}, {"kind": rng.choice(kinds)}, {"history": [value]}))
    return entry


def test_nothing_that_validation_refuses_gets_a_quick_yes():
    rng, found, right = random.Random(SEED), 0, 0
    for _ in range(DRAWN):
        entry = drawn(rng)
        told = told_problems(entry, "")
        if quick(entry):
            found += 1
            assert told == [], entry
        right += not told and not entry["deleted"] and not isinstance(entry.get("limits"), list)
    assert RIGHT * right < found <= right


def places_of_texts(value):
    keys = value.keys() if isinstance(value, dict) else range(len(value)) if isinstance(value, list) else ()
    for key in keys:
        if isinstance(value[key], str):
            yield value, key
        yield from places_of_texts(value[key])


@given(st.randoms(use_true_random=False), st.sampled_from(SPOILT_TEXTS))
def test_a_character_too_many_anywhere_is_seen(rng, letter):
    entry = rng.choice(current()["entries"])
    container, key = rng.choice([*places_of_texts(entry)])
    at = rng.randint(0, len(container[key]))
    container[key] = container[key][:at] + letter + container[key][at:]
    if quick(entry):
        assert told_problems(entry, "") == []


def test_every_day_of_the_calendar_and_no_other_is_one():
    """The 29th of February is left to validation, in every year."""
    note = next(entry for entry in current()["entries"] if entry["kind"] == "shift-note")
    days = {(date(1999, 1, 1) + timedelta(days=day)).isoformat() for day in range(800)}
    for month in range(14):
        for day in range(33):
            for year in (1999, 2000):
                text = f"{year}-{month:02d}-{day:02d}"
                is_right = quick(note | {"edited": f"{text}T23:59:59.999Z"})
                assert is_right is (text in days and text != "2000-02-29"), text
    assert not quick(note | {"edited": "1999-01-01T24:00:00.000Z"})


def test_what_is_not_known_may_be_deep_and_is_looked_at():
    entry = next(entry for entry in current()["entries"] if entry["kind"] == "shift-note")
    assert quick(entry | {"later": "x", "more": None})
    assert not quick(entry | {"later": []})
    assert not quick(entry | {"body": entry["body"] | {"later": {}}})


def test_a_form_reads_as_it_loads():
    rng = random.Random(SEED)
    for calculator in calculators().values():
        for _ in range(60):
            case = a_case(rng, calculator)
            assert answer(calculator.forms[case.system].read, case.texts) == answer(
                calculator.forms[case.system].load, case.texts
            )


def answer(read, texts):
    try:
        return read(json.loads(json.dumps(texts)))
    except ValidationError as refused:
        return refused.messages


def surely(line):
    found = _surely_right(line.encode(), SCHEMA_VERSION)
    return found and found[0]


def known():
    """Entries of all that a phone keeps without what a later version would add to them."""
    for entry in current()["entries"]:
        yield {key: value for key, value in entry.items() if key not in ("colour", "limits")}


def test_a_line_as_it_is_exported_is_surely_right_and_one_in_another_order_is_not():
    purges = many_phones.lines_of(0, 20, many_phones.drawn(10))
    exported = purges + [line for entry in known() if surely(line := rfc8785.dumps(entry).decode())]
    assert {"purge", "tank", "batch-event", "cost-basis", "round"} < {surely(line)["kind"] for line in exported}
    for line in exported:
        entry = json.loads(line)
        assert surely(line) == entry
        for other in (dict(reversed(entry.items())), entry | {"body": dict(reversed(entry["body"].items()))}):
            text = json.dumps(other, separators=(",", ":"), ensure_ascii=False)
            assert text == line or surely(text) is None


# Source: RFC 8785, 3.2.2.3, by the reference implementation rfc8785: how a number is written in a canonical text.
@given(st.floats(0.0, 20.0) | st.integers(0, 20).map(float) | st.sampled_from([1e-4, 1e-5, 1e-6, 1e-7, 5e-324, -0.0]))
def test_a_line_is_surely_right_only_with_its_numbers_as_a_canonical_text_has_them(value):
    tank = next(entry for entry in known() if entry["kind"] == "tank")
    line = rfc8785.dumps(tank | {"body": tank["body"] | {"head_depth": 0.125}}).decode()
    assert surely(line)["body"]["head_depth"] == 0.125
    right = rfc8785.dumps(value).decode()
    for text in {right, repr(value), f"{value:.3f}", f"{value:e}", f"{value:.0f}", f"{value:.20g}", f"-{right}"}:
        found = surely(line.replace('"head_depth":0.125', f'"head_depth":{text}'))
        assert found is None or text == rfc8785.dumps(float(text)).decode()
        assert found is None or type(found["body"]["head_depth"]) is float
    if 1e-3 < value <= 10.0:
        assert surely(line.replace('"head_depth":0.125', f'"head_depth":{right}'))["body"]["head_depth"] == value
