"""A purge's run without its screen: two of them at once, on a page that has none of a purge's elements."""

import pytest

TWO_AT_ONCE = """async (url) => {
  const { take } = await import(url);
  const { openRun, freshPurge } = take("browser/purge/run.js");
  const { get, newEntry, put } = take("browser/storage/record.js");
  const body = (name) => ({
    name, diameter: 1.2, straight_height: 1.5, cone_angle: 1.0472, head_depth: 0.2, head_volume: null, bore: 0.0381,
    stack: null, cap_way: null, arm_height: null, rated_pressure: 100000, hold_pressure: 80000, floor_pressure: null,
    beer_volume: 1.5,
    temperature: 275, pressure: 80000, purge_every: null,
  });
  const tanks = [newEntry("tank", body("One")), newEntry("tank", body("Two"))];
  await put(...tanks);
  const entries = tanks.map(freshPurge);
  const runs = entries.map((entry, place) => openRun(entry, tanks[place]));
  const told = [];
  // two taps in the same moment: of one run the second is not taken, of two runs both are
  told.push(await Promise.all([runs[0].tap("begin"), runs[0].tap("begin"), runs[1].tap("begin")]));
  await Promise.all([runs[0].tap("all-there"), runs[1].tap("all-there")]);
  await Promise.all(runs.map((run) => run.tap("stack-hangs")));
  await Promise.all(runs.map((run) => run.tap("hooked-up")));
  const skip = runs[1].tap("skip", { data: { reason: "wet" } });
  await Promise.all([runs[0].tap("at-pressure"), runs[1].keep({ notes: "second" }), skip]);
  await Promise.all([runs[0].tap("undo"), runs[1].keepTrouble()]);
  await runs[0].leave();
  for (const { id } of entries) told.push((await get(id)).body);
  return told;
}"""


@pytest.fixture
def two(phone, served):
    page = phone.new_page()
    page.goto(f"{served.address}settings/")
    return page.evaluate(TWO_AT_ONCE, served.script)


def happened(body):
    return [(event["state"], event["event"]) for event in body["events"]]


def test_two_purges_side_by_side_do_not_touch_each_other(two):
    taken, first, second = two
    assert taken == [True, False, True]
    before = [("choose", "begin"), ("ready", "all-there"), ("cap-valve", "stack-hangs"), ("hookup", "hooked-up")]
    assert happened(first) == [*before, ("pressure", "at-pressure"), ("gas", "undo")]
    assert (first["state"], first["notes"], "open" in first) == ("pressure", "", False)
    assert happened(second) == [*before, ("pressure", "skip"), ("gas", "trouble")]
    assert (second["state"], second["notes"], second["open"]) == ("gas", "second", 1)
    assert second["events"][4]["data"] == {"reason": "wet"}
    assert (first["tank_name"], second["tank_name"]) == ("One", "Two")
