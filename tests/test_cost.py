"""What it cost, on the frozen site: the same figures as Python's to the last digit, fresh after every change."""

import json
import re
from pathlib import Path

import pytest
import tankfoot
from playwright.sync_api import expect
from tankfoot.batches.life import batch_in, changes_of
from tankfoot.report.baseline import baseline_of
from tankfoot.report.facts import as_columns, fact_of
from tankfoot.report.figures import figures_of
from tankfoot.report.groups import groups_of
from tankfoot.report.misses import misses_by_month, misses_of

DEMO = Path(tankfoot.__file__).parent / "site" / "assets" / "demo" / "record.json"
PRICES = {"beer_value": None, "gas_price": 1.25, "wage": 0.01}
ANSWER = """async ([url, entries, asked]) => {
  const app = await import(url);
  await app.take("browser/storage/record.js").put(...entries);
  const { answer } = app.take("browser/cost/reckoned.js");
  let last = null;
  await answer(asked, (told) => { if (told.figures) last = told; });
  return JSON.stringify(last);
}"""
PUT_BY_HAND = """async (entries) => {
  const database = await new Promise((resolve) => {
    indexedDB.open("tankfoot").onsuccess = ({ target }) => resolve(target.result);
  });
  const transaction = database.transaction("entries", "readwrite");
  for (const entry of entries) transaction.objectStore("entries").put(entry);
  await new Promise((resolve) => { transaction.oncomplete = resolve; });
}"""
COUNTED = """async ([url, entries]) => {
  const app = await import(url);
  await app.take("browser/storage/record.js").put(...entries);
}"""


@pytest.fixture(scope="module")
def entries():
    made = json.loads(DEMO.read_text(encoding="utf-8"))["entries"]
    return [entry | {"demo": False} for entry in made]


@pytest.fixture
def page(phone, served):
    made = phone.new_page()
    made.goto(served.address + "about/")
    return made


def first(pair):
    return pair[0]


def asked(**more):
    return {"period": "all", "tank": "", "by": "tanks", "names": [], "zone": "America/New_York", "system": "us",
            "prices": PRICES, "since": None, "until": None} | more


def in_python(entries):
    stories = {}
    for entry in entries:
        if entry["kind"] == "batch-event":
            stories.setdefault(entry["body"]["tank"], []).append(entry)
    changes = {tank: changes_of(story) for tank, story in stories.items()}
    purges = [entry for entry in entries if entry["kind"] == "purge" and entry["body"].get("state") == "saved"]
    return as_columns([fact_of(purge, batch_in(changes.get(purge["body"]["tank"], []), purge["created"]))
                       for purge in purges])


@pytest.mark.parametrize("by", ["tanks", "solids", "batches", "months", "weeks"])
def test_the_phone_and_python_reckon_the_same_to_the_last_digit(page, served, entries, by):
    facts = in_python(entries)
    groups = groups_of(facts, {}, "America/New_York")[by]
    ours = figures_of(facts, [("all", range(len(facts["id"]))), *groups], PRICES, baseline_of(facts, None, None))
    theirs = json.loads(page.evaluate(ANSWER, [served.script, entries, asked(by=by)]))
    told = [["all", theirs["figures"]], *theirs["groups"]]
    assert sorted(told, key=first) == sorted(json.loads(json.dumps(ours)), key=first)  # batches go by their last purge


def test_a_month_is_that_of_the_clock_on_the_wall(page, served, entries):
    facts = in_python(entries)
    month, rows = groups_of(facts, {}, "America/New_York")["months"][-1]
    theirs = json.loads(page.evaluate(ANSWER, [served.script, entries, asked(period="latest")]))
    assert (theirs["period"], theirs["figures"]["purges"]) == (month, len(rows))


def test_what_is_kept_of_a_month_goes_with_every_change_of_the_record(page, served, entries):
    purges = [entry for entry in entries if entry["kind"] == "purge" and entry["body"].get("state") == "saved"]
    told = [json.loads(page.evaluate(ANSWER, [served.script, entries, asked()]))]
    gone = purges[0] | {"deleted": True, "edited": "2031-01-01T00:00:00.000Z"}
    other = json.loads(json.dumps(purges[1])) | {"edited": "2031-01-01T00:00:00.000Z"}
    other["body"]["result"]["overrun"]["value"] += 1.0
    told.append(json.loads(page.evaluate(ANSWER, [served.script, [gone], asked()])))
    told.append(json.loads(page.evaluate(ANSWER, [served.script, [other], asked()])))
    assert [each["figures"]["purges"] for each in told] == [len(purges), len(purges) - 1, len(purges) - 1]
    sums = [each["figures"]["overrun"]["sum"] for each in told]
    assert sums[1] == pytest.approx(sums[0] - purges[0]["body"]["result"]["overrun"]["value"], rel=1e-12)
    assert sums[2] == pytest.approx(sums[1] + 1.0, rel=1e-12)


def test_an_entry_that_another_way_brought_is_counted_too(page, served, entries):
    """Behind the app's back: what was kept is held against how many there are."""
    page.evaluate(ANSWER, [served.script, entries, asked()])
    more = next(entry for entry in entries if entry["kind"] == "purge" and entry["body"].get("state") == "saved")
    page.evaluate(PUT_BY_HAND, [more | {"id": "0b0a3c9e-5b1d-4c1e-9f3a-2d1f6a7b8c9d"}])
    told = json.loads(page.evaluate(ANSWER, [served.script, [], asked()]))
    assert told["figures"]["purges"] == len(in_python(entries)["id"]) + 1


@pytest.mark.parametrize(
    "wrong",
    [{"amount": "a lot"}, {"amount": 7}, {"event": "drunk"}, {"event": None}, {"at": None}, {"tank": None}, None],
)
def test_a_damaged_event_of_a_batch_counts_for_nothing_and_stops_nobody(page, served, entries, wrong):
    page.evaluate(ANSWER, [served.script, entries, asked(by="batches")])
    told = json.loads(page.evaluate(ANSWER, [served.script, [], asked(by="batches")]))
    assert told["share"]["batches"] > 0
    event = next(entry for entry in entries if entry["kind"] == "batch-event" and entry["body"]["event"] == "filled")
    body = wrong and event["body"] | {"at": "2020-01-01T00:00:00.000Z"} | wrong
    page.evaluate(PUT_BY_HAND, [event | {"id": "5d1f6a7b-8c9d-4c1e-9f3a-2d0b0a3c9e5b", "body": body}])
    assert json.loads(page.evaluate(ANSWER, [served.script, [], asked(by="batches")])) == told


@pytest.mark.parametrize("zone", ["America/New_York", "Pacific/Kiritimati"])
def test_near_misses_are_of_the_month_that_the_clock_on_the_wall_shows(page, served, entries, zone):
    """Some of them in the first and the last hours of a month of UTC."""
    runs = [entry for entry in entries if entry["kind"] in ("purge", "list-run") and not entry["deleted"]]
    told = [entry for entry in runs if misses_of(entry)]
    assert len(told) >= 4
    for place, entry in enumerate(told):
        created = entry["created"]
        hour = (f"{created[:7]}-01T02:00:00.000Z", f"{created[:7]}-28T23:00:00.000Z")[place % 2]
        told[place] = entry | {"created": hour, "edited": "2031-01-01T00:00:00.000Z"}
    months = json.loads(json.dumps(misses_by_month(map(misses_of, told), zone)))
    page.evaluate(COUNTED, [served.script, [*entries, *told]])
    whole = json.loads(page.evaluate(ANSWER, [served.script, [], asked(zone=zone)]))
    assert whole["misses"] == months
    for period in whole["months"]:
        theirs = json.loads(page.evaluate(ANSWER, [served.script, [], asked(zone=zone, period=period)]))
        assert theirs["misses"] == [each for each in months if each[0] == period]


def test_the_page_begins_one_thread_and_before_its_modules(page, served, entries):
    open_cost(page, served, entries)
    begun = [worker.url.removeprefix(served.address) for worker in page.workers]
    assert begun.count("js/browser/cost/thread.js") == 1
    page.route("**/js/base.js", lambda route: route.abort())  # no module of the page runs then
    with page.expect_worker():
        page.reload()


ANSWERS = ANSWER.replace("last = told", "(last ??= []).push(told)")
MANY_LISTS = """async ([count, created]) => {
  const database = await new Promise((resolve) => {
    indexedDB.open("tankfoot").onsuccess = ({ target }) => resolve(target.result);
  });
  const transaction = database.transaction("entries", "readwrite");
  for (let n = 0; n < count; n += 1) transaction.objectStore("entries").put({
    id: crypto.randomUUID(), kind: "list-run", created, edited: created, deleted: false, demo: false,
    body: { events: [] }, history: [],
  });
  await new Promise((resolve) => { transaction.oncomplete = resolve; });
}"""


def test_after_a_purge_its_month_alone_is_read_again_and_the_first_answer_is_whole(page, served, entries):
    page.evaluate(ANSWER, [served.script, entries, asked()])
    latest = max((entry for entry in entries if entry["kind"] == "purge" and entry["body"].get("state") == "saved"),
                 key=lambda entry: entry["created"])
    changed = latest | {"deleted": True, "edited": "2031-01-01T00:00:00.000Z"}
    answers = json.loads(page.evaluate(ANSWERS, [served.script, [changed], asked(period="latest")]))
    assert [told["isWhole"] for told in answers] == [True]
    whole = json.loads(page.evaluate(ANSWER, [served.script, [], asked()]))
    assert whole["figures"]["purges"] == len(in_python(entries)["id"]) - 1


def test_of_a_large_record_the_latest_months_are_told_first_and_right(page, served, entries):
    """Also where an entry came behind the app's back, into a late or an early month of what was kept."""
    page.evaluate(ANSWER, [served.script, entries, asked()])
    page.evaluate(MANY_LISTS, [20_001, "2024-05-05T05:05:05.005Z"])
    page.evaluate(ANSWER, [served.script, [], asked()])  # keeps what it takes of each month
    purge = max((entry for entry in entries if entry["kind"] == "purge" and entry["body"].get("state") == "saved"),
                key=lambda entry: entry["created"])

    def told():
        first, last = json.loads(page.evaluate(ANSWERS, [served.script, [], asked(period="latest")]))
        assert (first["isWhole"], last["isWhole"], last["done"]) == (False, True, last["count"])
        assert (first["period"], first["done"], first["baseline"]) == (last["period"], 12, {})
        assert first["figures"]["overrun"] == last["figures"]["overrun"]
        return last["figures"]["purges"], sum(each["purges"] for each in last["baseline"].values())

    purges, counted = told()
    page.evaluate(PUT_BY_HAND, [purge | {"id": "0b0a3c9e-5b1d-4c1e-9f3a-2d1f6a7b8c9d"}])
    assert told() == (purges + 1, counted)
    early = purge | {"id": "1b0a3c9e-5b1d-4c1e-9f3a-2d1f6a7b8c9d", "created": "2024-05-06T05:05:05.005Z"}
    page.evaluate(PUT_BY_HAND, [early])
    whole = json.loads(page.evaluate(ANSWER, [served.script, [], asked()]))
    assert whole["figures"]["purges"] == len(in_python(entries)["id"]) + 2


def open_cost(page, served, entries):
    page.evaluate(COUNTED, [served.script, entries])
    page.goto(served.address + "cost/")
    expect(page.locator("[data-cost][data-ready=whole]")).to_be_attached()


def test_the_page_shows_the_last_month_first_and_the_overrun_before_all(page, served, entries):
    open_cost(page, served, entries)
    expect(page.locator("[data-headline] [data-told]").first).to_have_attribute("data-told", "overrun")
    assert page.locator("[data-demo]").is_hidden()
    first = page.locator("[data-headline] output").first.inner_text()
    page.locator("[data-period]").select_option("all")
    expect(page.locator("[data-headline] output").first).not_to_have_text(first)


def test_what_left_is_the_sum_of_its_parts_in_one_unit_and_said_first(page, served, entries):
    open_cost(page, served, entries)
    page.locator("[data-period]").select_option("all")
    says = page.locator("[data-says] li").first
    expect(says).to_contain_text("Left through the bottom port: ")
    whole, *parts = [float(number) for number in re.findall(r"([\d.]+) gal", says.inner_text())]
    assert len(parts) == 3 and whole == pytest.approx(sum(parts), rel=0.01)  # each of them has three digits


def test_prices_are_an_entry_of_the_record_and_pay_for_gas_and_time(page, served, entries):
    open_cost(page, served, entries)
    page.locator("[data-basis] > summary").click()
    page.locator("[data-price=gas_price]").fill("0.45")
    page.locator("[data-price=wage]").fill("a lot")
    page.locator("[data-save]").click()
    expect(page.locator("[data-problem]")).not_to_be_empty()
    page.locator("[data-price=wage]").fill("24 $/h")
    page.locator("[data-save]").click()
    expect(page.locator("[data-saved]")).not_to_be_empty()
    kept = page.evaluate("""async (url) => {
      const { ofKind } = (await import(url)).take("browser/storage/record.js");
      return (await ofKind("cost-basis")).map(({ body }) => body);
    }""", served.script)
    assert kept == [{"beer_value": None, "gas_price": "0.45 $/lb", "wage": "24 $/h", "currency": "$", "since": None,
                     "until": None}]
    page.get_by_text("All figures").click()
    for says in ("Money: CO2", "Money: hand's time"):
        expect(page.locator("[data-figures]").get_by_text(says, exact=True)).to_be_visible()


def test_no_figure_is_ever_by_person(page, served, entries):
    """Initials stand in the single entry alone: two hands' purges, and nothing on the page tells them apart."""
    changed = [json.loads(json.dumps(entry)) for entry in entries]
    for number, entry in enumerate(changed):
        if entry["kind"] == "purge" and entry["body"].get("state") == "saved":
            entry["body"]["initials"] = ("QZX", "WVK")[number % 2]
    open_cost(page, served, changed)
    for by in ("tanks", "solids", "batches", "months", "weeks"):
        page.locator("[data-by]").select_option(by)
        expect(page.locator("[data-cost]")).not_to_contain_text("QZX")
    assert "WVK" not in page.content()
