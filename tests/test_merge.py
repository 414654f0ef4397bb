"""Two records become one, in any order."""

import itertools

import cellar
from hypothesis import given, settings
from hypothesis import strategies as st
from records import entry_changed
from tankfoot.office.merge import merge_entries
from tankfoot.office.transfer import export_file, read_file
from values import finite, texts, unhurried

# Few ids and few instants, so that phones meet at the same entry and at the same moment.
phone_entries = st.builds(
    dict, id=st.sampled_from("abc"), deleted=st.booleans(),
    edited=st.sampled_from(["2026-01-01", "2026-01-02"]),
    body=st.dictionaries(st.sampled_from(["a", "\ue000", "😀"]), finite | texts, max_size=2),
)
phones = st.lists(phone_entries, max_size=4, unique_by=lambda entry: entry["id"])


@given(st.lists(phones, min_size=2, max_size=3))
@settings(unhurried, max_examples=300)
def test_phones_merged_in_any_order_give_the_same_record(records):
    results = []
    for order in itertools.permutations(records):
        merged = []
        for record in order:
            merged = merge_entries(merged, record).entries
        results.append(merged)
    assert all(result == results[0] for result in results)
    for entry in results[0]:
        alike = [other for record in records for other in record if other["id"] == entry["id"]]
        assert entry["edited"] == max(other["edited"] for other in alike)


def noted(kind, phone, place):
    """What a hand noted on one phone, by an id that no other phone gives."""
    at, here = f"2026-03-{place + 1:02d}T0{place % 9}:00:00.000Z", {"tank": cellar.id_of("FV 1"), "tank_name": "FV 1"}
    body = {
        "batch-event": here | {"batch": cellar.id_of("Helles"), "event": "taken", "at": at, "amount": "20 L",
                               "days": None, "note": None, "by": None},
        "tank-reading": here | {"at": at, "pressure": "0.9 bar", "temperature": None, "gravity": None,
                                "topped_up": None, "by": None},
        "shift-note": {"says": f"Valve {place} sticks.", "by": None, "done": None},
    }[kind]
    return cellar.entry(kind, cellar.id_of(f"{kind} {phone} {place}"), at, body)


notes = st.lists(st.tuples(st.sampled_from(["batch-event", "tank-reading", "shift-note"]), st.integers(0, 27)),
                 max_size=6, unique=True)


@given(st.lists(notes, min_size=2, max_size=3), st.randoms(use_true_random=False))
@settings(unhurried, max_examples=100)
def test_every_event_reading_and_note_of_all_phones_is_kept_in_any_order(noted_on, rng):
    """Through the files that phones exchange, and whoever has taken over some of another's already."""
    records = [[noted(kind, phone, place) for kind, place in told] for phone, told in enumerate(noted_on)]
    everything = sorted((each for record in records for each in record), key=lambda each: each["id"])
    phones = [record + [each for other in records if other is not record for each in other if rng.random() < 0.3]
              for record in records]
    files = [read_file(export_file(record, "1.2.3", "2026-03-31T00:00:00.000Z")) for record in phones]
    assert all(file.problems == [] for file in files)
    for order in itertools.permutations(files):
        merged = []
        for file in order:
            merged = merge_entries(merged, file.entries).entries
        assert merged == everything


@given(phones, phones)
@unhurried
def test_the_plan_says_what_the_merge_does(mine, theirs):
    merged, held = merge_entries(mine, theirs), {entry["id"]: entry for entry in mine}
    assert [step.id for step in merged.plan] == [entry["id"] for entry in theirs]
    for step, entry in zip(merged.plan, theirs, strict=True):
        taken = entry in merged.changed
        assert taken == (step.action in ("new", "newer"))
        assert (step.action == "new") == (entry["id"] not in held)
        assert (step.action == "same") == (held.get(entry["id"]) == entry)
    assert merge_entries(merged.entries, theirs).changed == []


def test_refused_entries_are_in_the_plan():
    contents = read_file(entry_changed(3, body={}))
    plan = merge_entries([], contents.entries, contents.problems).plan
    assert [step.action for step in plan].count("new") == 31
    assert plan[-1].action == "refused"
    assert plan[-1].problem.where.startswith("entries[3].body")
