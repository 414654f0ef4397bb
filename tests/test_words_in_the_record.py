"""The record holds no words of a language: the same hands on an English and a Spanish phone make the same entries."""

import json
import re

import cellar
import hand
import pytest
from playwright.sync_api import expect
from speakers import show, speaker
from test_record import READ

# Ids are drawn, instants are the clock's: RFC 9562 for the one, ISO 8601 for the other. A list's version is the hash of
# its words (docs/formats.md), and a run names the one that the hand had before it.
DRAWN = {
    "id": re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}"),
    "instant": re.compile(r"20\d\d-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z"),
    "name": re.compile(r"\b(own|line)-[0-9a-f]{8}\b"),
}
# Figures follow from instants, readings and nothing else (docs/formats.md): of these the names are compared.
LEFT_OUT = {"version", "agree"}


@pytest.fixture
def phones(chromium, served):
    """{language: a phone that speaks it, at a site of that language}."""
    made = {language: speaker(chromium, served, locale) for language, locale in (("en", "en-US"), ("es", "es-MX"))}
    for phone in made.values():
        phone.context.add_init_script("Math.random = () => 0.25")  # practice shuffles its stacks
    yield made
    for phone in made.values():
        phone.context.close()


def bare(entries):
    """Entries without what is drawn; in the order of what they say, since two may be of one instant."""
    text = json.dumps([_without(entry) for entry in entries], sort_keys=True, ensure_ascii=False)
    for name, pattern in DRAWN.items():
        text = pattern.sub(name, text)
    return sorted(json.loads(text), key=json.dumps)


def _without(value):
    if isinstance(value, dict):
        kept = {key: inner for key, inner in value.items() if key not in LEFT_OUT}
        return {key: sorted(inner) if key == "result" else _without(inner) for key, inner in kept.items()}
    return [_without(inner) for inner in value] if isinstance(value, list) else value


def alike(phones, *hands):
    """Each hand does its work on both phones; the entries that both then have."""
    records = {}
    for language, at in phones.items():
        show(at, "about/")
        cellar.keep(at.page, at.site, cellar.tank("FV 1"))
        for does in hands:
            does(at)
        records[language] = bare(at.page.evaluate(READ))
    assert records["en"] == records["es"]
    return records["en"]


def purges(at):
    page = hand.open_purge(at.page, at.site.address)
    for event in hand.TAPS_WITHOUT_A_TANK:
        hand.type_readings(page)
        hand.tap(page, event)


def skips_a_step(at):
    at.page.goto("about:blank")
    page = hand.open_purge(at.page, at.site.address)
    for event in ("begin", "all-there", "stack-hangs", "hooked-up"):
        hand.type_readings(page)
        hand.tap(page, event)
    hand.look(page)
    fold = page.locator("[data-step=pressure] details", has=page.locator("[data-event=skip]"))
    fold.locator("summary").click()
    fold.locator("[data-why]").fill("none in the house")
    hand.wait(page, hand.LOOK)
    fold.locator("[data-event=skip]").click()
    page.locator("[data-step=gas]").wait_for()


def runs_a_list(at):
    page = show(at, "checklists/cold-exposure/")
    page.locator("#initials").fill("JD")
    for box in page.locator("[data-line]").all():
        line = page.locator(".line", has=page.locator(f"[data-line={box.get_attribute('data-line')}]"))
        if line.locator("[data-skip]").count() and not page.locator("[data-skipped]:visible").count():
            line.locator("[data-skip] summary").click()
            line.locator("[data-skip] input").fill("none in the house")
            line.locator("[data-skip] button").click()
            expect(line.locator("[data-skipped]")).to_be_visible()
        else:
            box.check()
    expect(page.locator(".completion")).to_have_attribute("data-said", "")


def practises(at):
    page = show(at, "checklists/practice/")
    page.locator("[data-choice]:visible").first.click()
    expect(page.locator("[data-next]:visible")).to_be_visible()


def until_kept(page, kind, **said):
    """Waits for an entry of a kind whose body says so: what the screen shows may be of the tap before."""
    for _ in range(100):
        bodies = [entry["body"] for entry in page.evaluate(READ) if entry["kind"] == kind]
        if any(said.items() <= body.items() for body in bodies):
            return
        page.wait_for_timeout(50)
    raise AssertionError(f"no {kind} was kept: {said}")


def fills_and_holds(at):
    page = show(at, f"tanks/tank/#id={cellar.id_of('FV 1')}")
    page.locator("#batch-beer").fill("Pale")
    page.locator("[data-batch] form button").first.click()
    expect(page.locator("[data-beer]")).to_have_text("Pale")
    for name in ("fermenting", "cooled"):
        page.locator(f"[data-happened={name}]").click()
        until_kept(page, "batch-event", event=name)


def adds_a_rule(at):
    page = show(at, "rules/")
    page.locator("[data-add]").click()
    rule = page.locator("[data-list] > details[open]")
    rule.locator("[data-save]").click()
    until_kept(page, "due-rule")


def writes_a_note(at):
    page = show(at, "handover/")
    page.locator("textarea").first.fill("FV 1 hisses")
    page.locator("[data-add]").click()
    expect(page.locator("textarea").first).to_have_value("")


def reads_gauges(at):
    page = show(at, "gauges/")
    page.locator("[data-typed=pressure]").fill("8.5")
    page.locator("[data-typed=temperature]").fill("36.5")
    page.locator("[data-typed=temperature]").blur()
    expect(page.locator("[data-read]").first).to_contain_text("8.5 psi")


def test_a_purge_and_one_with_a_step_skipped_hold_no_word(phones):
    made = alike(phones, purges, skips_a_step)
    assert {"purge", "tank"} <= {entry["kind"] for entry in made}


def test_lists_practice_rules_notes_and_readings_hold_no_word(phones):
    made = alike(phones, runs_a_list, practises, fills_and_holds, adds_a_rule, writes_a_note, reads_gauges)
    kinds = {entry["kind"] for entry in made}
    assert {"list-run", "training", "batch", "batch-event", "due-rule", "shift-note", "tank-reading"} <= kinds
    assert [entry["body"]["title"] for entry in made if entry["kind"] == "due-rule"] == [None]
