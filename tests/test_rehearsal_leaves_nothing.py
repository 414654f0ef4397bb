"""What a finished rehearsal leaves: a row in the log, and nothing in a file, a figure, a usual value or what is due."""

import json
from pathlib import Path

import cellar
import hand
import pytest
import tankfoot as package
from playwright.sync_api import expect
from tankfoot.office.transfer import export_file
from test_rehearsal_screens import do_it_right

DEMO = Path(package.__file__).parent / "site" / "assets" / "demo" / "record.json"
ASKED = ("--zone", "Europe/London", "--at", "2026-06-02T12:00:00.000Z")
# What the phone learns from its record: the usual purges, what is due in each tank, what stands in its figures.
LEARNT = """async (url) => {
  const { take } = await import(url);
  const { ofKind, latestPurges, unfinishedPurges } = take("browser/storage/record.js");
  const { pastElsewhere, pastOfTank, fillingsOf } = take("browser/storage/past.js");
  const { staysOf } = take("browser/storage/stays.js");
  const tanks = await ofKind("tank");
  const past = await Promise.all(tanks.map((tank) => pastOfTank(tank, 1000)));
  return JSON.stringify({
    past, elsewhere: await Promise.all(tanks.map(pastElsewhere)), latest: await latestPurges(1000), tanks,
    fillings: await Promise.all(tanks.map((tank, at) => fillingsOf(tank, past[at]))),
    stays: [...(await staysOf(tanks))], unfinished: await unfinishedPurges(), holds: await ofKind("tank-hold"),
  });
}"""
NEVER = ("rehearsal", "Rehearsal", "plain-trub", "own-tank")


def download(page, button):
    with page.expect_download() as got:
        page.get_by_role("button", name=button).click()
    return got.value.path().read_bytes().decode()


def looked_at(page, served):
    """All that a phone hands on, shows of losses and learns."""
    page.goto(f"{served.address}record/")
    page.locator("[data-record][data-ready]").wait_for()
    found = {"export": json.loads(download(page, "Export all")), "csv": download(page, "Purges as a table (CSV)")}
    found["learnt"] = page.evaluate(LEARNT, served.script)
    page.goto(f"{served.address}cost/")
    expect(page.locator("[data-cost][data-ready=whole]")).to_be_attached()
    found["losses"] = page.locator("main").inner_text()
    page.goto(served.address)
    page.locator("[data-today][data-ready]").wait_for()
    found["today"] = page.locator("main").inner_text()
    return found


@pytest.fixture
def before_and_after(phone, served):
    page = hand.hurry(phone.new_page())
    entries = [entry | {"demo": False} for entry in json.loads(DEMO.read_text(encoding="utf-8"))["entries"]]
    entries = [entry for entry in entries if "open" not in entry["body"] and entry["kind"] != "round"]
    page.goto(served.address)
    cellar.keep(page, served, *(entry for entry in entries if not entry["deleted"]))
    tank = next(entry for entry in entries if entry["kind"] == "tank")
    cellar.remember(page, served, tank={"id": tank["id"], "name": tank["body"]["name"], "values": {}}, initials="AB")
    before = looked_at(page, served)
    page.goto(f"{served.address}rehearsal/run/#scenario=own-tank&anew")
    page.locator("[data-purge][data-ready]").wait_for()
    do_it_right(page)
    return before, looked_at(page, served)


def test_a_finished_rehearsal_leaves_one_row_in_the_log_and_nothing_else(before_and_after, tankfoot, tmp_path):
    before, after = before_and_after
    known = {entry["id"]: entry for entry in before["export"]["entries"]}
    (left,) = [entry for entry in after["export"]["entries"] if known.get(entry["id"]) != entry]
    assert (left["kind"], left["body"]["exercise"]) == ("training", "rehearsal")
    assert len(after["export"]["entries"]) == len(known) + 1
    for name in ("csv", "learnt", "losses", "today"):
        assert after[name] == before[name], name
        assert [word for word in NEVER if word in after[name]] == [], name
    assert before["csv"].count("\r\n") > 50  # there is something to compare
    for name, found in (("before", before), ("after", after)):
        text = export_file(found["export"]["entries"], "0.1.0", "2026-06-02T12:00:00.000Z")
        (tmp_path / f"{name}.json").write_text(text, encoding="utf-8")
    told = {}
    for name in ("before", "after"):
        file, made = tmp_path / f"{name}.json", tmp_path / f"{name}.csv"
        assert tankfoot("table", file, "-o", made, "--zone", "Europe/London")[0] == 0
        report = tankfoot("report", file, "--json", "--zone", "Europe/London")
        told[name] = [made.read_text(encoding="utf-8"), *report, *tankfoot("due", file, *ASKED, "--json")]
    assert told["after"] == told["before"]
    assert [word for word in NEVER if any(word in str(each) for each in told["after"])] == []
