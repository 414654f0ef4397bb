"""What a checklist or a card may not be: content is broken on purpose and must be refused by name."""

import copy
import re
import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tankfoot.checklists import ChecklistError, card, checklist, version

ROOT = Path(__file__).parent.parent
CONTENT = ROOT / "site_src" / "tankfoot" / "checklists" / "en"
LISTS = {path.stem: tomllib.loads(path.read_text(encoding="utf-8")) for path in CONTENT.glob("lists/*.toml")}
CARDS = {path.stem: tomllib.loads(path.read_text(encoding="utf-8")) for path in CONTENT.glob("cards/*.toml")}
LINES = [(name, line) for name, data in LISTS.items() for part in data["parts"] for line in part["lines"]]
GRAVE = [(name, line["id"]) for name, line in LINES if line.get("signal") in ("DANGER", "WARNING")]


def find(data, line_id):
    return next(line for part in data["parts"] for line in part["lines"] if line["id"] == line_id)


def refusal(name, **changes):
    data = copy.deepcopy(LISTS["before-breaking-a-clamp"])
    find(data, name).update(changes)
    with pytest.raises(ChecklistError) as refused:
        checklist("broken", data)
    return str(refused.value)


# ANSI Z535.6: a safety message names the consequence and how to avoid it. The source: the project's own rule.
@pytest.mark.parametrize("key", ["consequence", "avoid", "source"])
@pytest.mark.parametrize(("name", "line_id"), GRAVE)
def test_a_grave_line_without_consequence_avoidance_or_source_is_refused(name, line_id, key):
    data = copy.deepcopy(LISTS[name])
    del find(data, line_id)[key]
    named = rf"lists/{name}\.toml, part \d, line '{line_id}', {key}: is missing"
    with pytest.raises(ChecklistError, match=named):
        checklist(name, data)


@pytest.mark.parametrize("signal", ["DANGER", "WARNING", "CAUTION"])
@pytest.mark.parametrize("empty", ["", "  ", None])
def test_an_injury_signal_is_refused_with_an_empty_consequence(signal, empty):
    assert "consequence" in refusal("isolation-valve-shut", signal=signal, consequence=empty)


@pytest.mark.parametrize("signal", ["danger", "NOTE", "", "WARNING ", 3])
def test_an_unknown_signal_word_is_refused(signal):
    assert "line 'isolation-valve-shut', signal:" in refusal("isolation-valve-shut", signal=signal)


# Degani and Wiener, NASA CR-177549: the answer is the state of the thing, not "checked" or "set".
@pytest.mark.parametrize("value", ["Checked", "checked.", "Done", "OK", "Set", "yes", "Good", "Normal"])
def test_a_value_that_states_nothing_is_refused(value):
    assert "says nothing" in refusal("isolation-valve-shut", value=value)


@pytest.mark.parametrize("promise", ["It is safe now", "Safely shut", "No danger", "Harmless gas", "no harm"])
@pytest.mark.parametrize("key", ["act", "value", "why", "avoid", "consequence", "source"])
def test_a_promise_is_refused_wherever_it_stands(key, promise):
    assert "promises too much" in refusal("isolation-valve-shut", **{key: promise})


@pytest.mark.parametrize(
    ("changes", "complaint"),
    [
        ({"act": "x" * 61}, "act: is longer than 60 characters"),
        ({"act": 3}, "act: is of another kind"),
        ({"gate": "yes"}, "gate: is of another kind"),
        ({"skip": True}, "skip: is not a known key"),
        ({"id": "Not A Name"}, "id: is not a name"),
        ({"why": None}, "why: is missing"),
        ({"signal": None}, "consequence: has no signal word beside it"),
    ],
)
def test_a_broken_line_is_named_with_what_is_wrong_and_what_to_do(changes, complaint):
    said = refusal("isolation-valve-shut", **changes)
    assert said.startswith("lists/broken.toml, part 1, line ")
    assert complaint in said
    assert re.search(rf"{re.escape(complaint)}[^:]*: \w+", said)


def test_a_tenth_line_before_a_pause_is_refused():
    data = copy.deepcopy(LISTS["before-breaking-a-clamp"])
    line = find(data, "cap-within-reach")
    data["parts"][0]["lines"] = [line | {"id": f"line-{number}"} for number in range(9)]
    assert len(checklist("nine", data).parts[0].lines) == 9
    data["parts"][0]["lines"].append(line | {"id": "tenth"})
    with pytest.raises(ChecklistError, match="part 1, lines: holds too few or too many"):
        checklist("ten", data)


def test_a_line_id_used_twice_is_refused_even_across_parts():
    data = copy.deepcopy(LISTS["before-breaking-a-clamp"])
    data["parts"][2]["lines"][0]["id"] = data["parts"][0]["lines"][0]["id"]
    with pytest.raises(ChecklistError, match="line id tank-number more than once"):
        checklist("twice", data)


@pytest.mark.parametrize(
    ("changes", "complaint"),
    [
        ({"acts": [{"act": "Shut it", "source": "None."}] * 6}, "acts: holds too few or too many"),
        ({"acts": []}, "acts: holds too few or too many"),
        (
            {"acts": [{"act": "One two three four five six seven", "source": "None."}]},
            "act 1, act: has more than 6 words",
        ),
        ({"acts": [{"act": "Shut it"}]}, "act 1, source: is missing"),
        ({"then": [{"line": "Call."}]}, "then 1, source: is missing"),
        (
            {"never": [{"line": "Follow them in.", "source": "None."}]},
            "never 1, line: reads as an order when it stands alone",
        ),
        ({"defer": "Read this first."}, "defer: does not defer"),
        ({"why": ""}, "why: is empty"),
    ],
)
def test_a_card_that_cannot_be_read_in_three_seconds_is_refused(changes, complaint):
    with pytest.raises(ChecklistError, match=re.escape(f"cards/broken.toml, {complaint}")):
        card("broken", CARDS["vacuum"] | changes)


anything = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=8,
)


LIST_KEYS = st.sampled_from(["title", "condition", "completion", "picture", "numbers", "parts", "order"])
LINE_KEYS = st.sampled_from(["id", "act", "value", "gate", "signal", "consequence", "avoid", "source"])


@given(key=LIST_KEYS, value=anything)
def test_whatever_stands_in_a_list_it_loads_or_is_refused_by_name(key, value):
    try:
        made = checklist("odd", LISTS["before-breaking-a-clamp"] | {key: value})
    except ChecklistError as refused:
        assert str(refused).startswith("lists/odd.toml, ")
    else:
        assert made.lines


@given(key=LINE_KEYS, value=anything)
def test_whatever_stands_in_a_grave_line_it_never_loads_as_grave_without_its_three_texts(key, value):
    data = copy.deepcopy(LISTS["before-breaking-a-clamp"])
    find(data, "isolation-valve-shut")[key] = value
    try:
        made = checklist("odd", data)
    except ChecklistError:
        return
    line = made.parts[0].lines[2]
    assert line.signal not in ("DANGER", "WARNING") or all((line.consequence, line.avoid, line.source))


def test_the_version_changes_with_one_word_and_not_with_the_order_of_keys():
    data = LISTS["before-breaking-a-clamp"]
    reordered = dict(reversed(data.items()))
    changed = copy.deepcopy(data)
    changed["parts"][0]["lines"][0]["value"] += "!"
    assert version(data) == version(reordered)
    assert checklist("a", data).version != checklist("a", changed).version
    assert re.fullmatch(r"[0-9a-f]{8}", version(data))


# OCI Image Format Specification, empty descriptor: SHA-256 of "{}" is 44136fa355b3... (from memory).
def test_the_version_of_nothing_is_the_known_digest_of_an_empty_object():
    assert version({}) == "44136fa3"
