"""Two records become one, in any order."""

import itertools

from hypothesis import given, settings
from hypothesis import strategies as st
from records import entry_changed
from tankfoot.office.merge import merge_entries
from tankfoot.office.transfer import read_file
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
    assert [step.action for step in plan].count("new") == 26
    assert plan[-1].action == "refused"
    assert plan[-1].problem.where.startswith("entries[3].body")
