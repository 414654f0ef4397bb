"""Today: what is due and since when, the purge to go on with, and a start that stays quick."""

import json
import uuid

import pytest
from playwright.sync_api import expect

HOUR, DAY = 3600.0, 86400.0
NOW = "2026-03-10T12:00:00.000Z"
THE_CLOCK = f"const Real = Date; Date.now = () => Real.parse('{NOW}');"
MOST_READ = 4  # entries of one tank
COUNT_READS = """
  window.read = 0;
  const get = IDBObjectStore.prototype.get;
  IDBObjectStore.prototype.get = function (id) {
    if (this.name === "entries") window.read += 1;
    return get.call(this, id);
  };
  for (const kind of [IDBObjectStore, IDBIndex]) {
    const getAll = kind.prototype.getAll;
    kind.prototype.getAll = function (key) {
      const request = getAll.call(this, key);
      request.addEventListener("success", () => { window.read += request.result.length; });
      return request;
    };
  }
"""


def tank(name, every, created="2026-03-01T12:00:00.000Z"):
    body = {
        "name": name, "stack": None, "cap_way": None, "diameter": 1.2, "straight_height": 1.5, "cone_angle": 1.2,
        "head_depth": 0.2, "head_volume": None, "bore": 0.05, "arm_height": None, "rated_pressure": None,
        "hold_pressure": 69000.0, "floor_pressure": None,
        "beer_volume": 1.5, "temperature": 275.0, "pressure": None, "purge_every": every,
    }
    return entry("tank", id_of(name), created, body)


def purge(of, ended, number=0, **more):
    """A purge of the tank named ``of`` that ended at an instant, finished unless ``more`` says otherwise."""
    body = {
        "tank": id_of(of), "tank_name": of, "solids": "trub", "table": "2", "initials": None, "state": "saved",
        "readings": {}, "gas_shut": None,
        "events": [{"at": ended, "state": "finish", "event": "save"}], "result": {}, "agree": None, "notes": "",
        "photo": None,
    }
    return entry("purge", id_of(f"{of} {ended} {number}"), ended, body | more)


def id_of(what):
    return str(uuid.uuid5(uuid.NAMESPACE_OID, what))


def entry(kind, id, created, body):
    head = {"id": id, "kind": kind, "created": created, "edited": created, "deleted": False, "demo": False}
    return head | {"body": body, "history": []}


@pytest.fixture
def page(phone, served):
    page = phone.new_page()
    page.add_init_script(THE_CLOCK + COUNT_READS)
    page.goto(served.address)
    return ready(page)


def ready(page):
    expect(page.locator("main[data-today][data-ready]")).to_be_attached()
    return page


def keep(page, served, *entries):
    """Writes entries as the app does and opens Today again."""
    page.evaluate(
        'async ([url, entries]) => (await import(url)).take("browser/storage/record.js").put(...JSON.parse(entries))',
        [served.script, json.dumps(entries)],
    )
    page.reload()
    return ready(page)


def tiles(page, place):
    return [text.split("\n") for text in page.locator(f"[data-{place}] li").all_inner_texts()]


def test_without_a_tank_it_says_how_to_begin(page, served):
    expect(page.get_by_text("No tank yet.")).to_be_visible()
    page.get_by_role("link", name="Add a tank").click()
    expect(page).to_have_url(f"{served.address}tanks/tank/")


def test_a_tank_without_a_rhythm_is_never_due(page, served):
    keep(page, served, tank("FV 1", None))
    expect(page.get_by_text("No tank says how often it is purged.")).to_be_visible()
    assert tiles(page, "due") == tiles(page, "next") == []


def test_what_is_overdue_stands_first_in_walking_order_then_what_is_due_then_what_comes_next(page, served):
    # by hand, at noon on 10 March: made nine days before and due after seven; purged five days before, three;
    # a day before, two; half an hour before, 30 min and a bit
    keep(
        page, served,
        tank("FV 1", 7 * DAY), tank("FV 2", 3 * DAY), tank("FV 3", 2 * DAY), tank("FV 4", HOUR), tank("FV 5", None),
        purge("FV 2", "2026-03-01T12:00:00.000Z"), purge("FV 2", "2026-03-04T06:00:00.000Z"),
        purge("FV 3", "2026-03-09T12:00:00.000Z"), purge("FV 4", "2026-03-10T10:59:00.000Z"),
    )
    assert tiles(page, "due") == [
        ["FV 1", "due 2 days ago"], ["FV 2", "due 3 days ago"], ["FV 4", "due now"],
    ]
    assert tiles(page, "next") == [["FV 3", "due in 24 hours"]]


def test_a_purge_that_was_left_or_deleted_does_not_count(page, served):
    late = "2026-03-10T11:00:00.000Z"
    keep(
        page, served, tank("FV 1", DAY), purge("FV 1", "2026-03-06T12:00:00.000Z"),
        purge("FV 1", late, 1, state="flowing"), purge("FV 1", late, 2) | {"deleted": True},
    )
    # by hand: purged four days before noon on 10 March, every day
    assert tiles(page, "due") == [["FV 1", "due 3 days ago"]]


def test_a_tap_leads_to_the_purge_with_that_tank_as_the_current_one(page, served):
    keep(page, served, tank("FV 1", None), tank("FV 2", DAY))
    page.locator("[data-due]").get_by_role("link", name="FV 2").click()
    page.wait_for_selector("[data-purge][data-ready]")
    expect(page.get_by_label("FV 2")).to_be_checked()
    hand = page.evaluate("() => JSON.parse(localStorage.getItem('tankfoot-settings')).tank.name")
    assert hand == "FV 2"


def test_an_unfinished_purge_is_offered_first_and_goes_on_where_it_was(page, served):
    begun = [{"at": "2026-03-10T11:00:00.000Z", "state": "choose", "event": "begin"}]
    # a purge whose port is shut again never grows old, whenever it is gone on with
    names = ("begin-open", "all-there", "stack-hangs", "hooked-up", "end-clear", "opened", "closed")
    shut = [begun[0] | {"event": name} for name in names]
    old, new = "2026-03-09T09:00:00.000Z", "2026-03-10T11:00:00.000Z"
    keep(
        page, served, tank("FV 1", DAY), tank("FV 2", DAY),
        purge("FV 1", new, state="ready", open=1, events=begun), purge("FV 2", old, state="after", open=1, events=shut),
    )
    assert [title for title, *_ in tiles(page, "open")] == [
        "Continue the purge of FV 1", "Continue the purge of FV 2",
    ]
    page.get_by_role("link", name="Continue the purge of FV 2").click()
    page.wait_for_selector("[data-purge][data-ready]")
    expect(page.locator("[data-step]:visible")).to_have_attribute("data-step", "after")
    expect(page.get_by_role("heading", level=1)).to_contain_text("FV 2")


def test_of_thousands_of_purges_only_the_newest_are_read(page, served, tell):
    names = [f"FV {number}" for number in range(1, 7)]
    purges = [
        purge(name, f"2026-02-{1 + number % 28:02d}T{number // 28 % 24:02d}:00:00.000Z", number)
        for name in names for number in range(500)
    ]
    keep(page, served, *(tank(name, DAY) for name in names), *purges)
    assert len(tiles(page, "due")) == len(names)
    assert page.evaluate("() => window.read") <= len(names) * (1 + MOST_READ)
    tell(f"Today with {len(purges)} purges: ready after {page.evaluate('() => performance.now()'):.0f} ms")


WAITS = [
    # by hand: a day has 24 hours of 3600 s
    (59 * 60.0, None), (HOUR, [1, "hour"]), (-26 * HOUR, [26, "hour"]), (2 * DAY, [2, "day"]), (-2.4 * DAY, [2, "day"]),
]


def test_when_a_tank_is_due_follows_from_the_last_purge_and_the_rhythm(page, served):
    # by hand: 8 March noon and three days are 11 March noon, a day after NOW; 1 March and a week are two days before
    told = page.evaluate(
        """async ([url, now, waits]) => {
          const { byDue, inDaysOrHours } = (await import(url)).take("tanks/due.js");
          const tanks = [
            { every: 259200, since: "2026-03-08T12:00:00.000Z" }, { every: null, since: "2026-03-08T12:00:00.000Z" },
            { every: 604800, since: "2026-03-01T12:00:00.000Z" },
          ];
          return [byDue(tanks, Date.parse(now)).map(({ wait }) => wait), waits.map(inDaysOrHours)];
        }""",
        [served.script, NOW, [wait for wait, _ in WAITS]],
    )
    assert told == [[-2 * DAY, DAY], [said for _, said in WAITS]]
