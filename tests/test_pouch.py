"""The phone in its pouch: a tap is heard or felt, and each screen is read aloud by a voice on the phone alone."""

import json

import hand
import pytest
from playwright.sync_api import expect

# Stands in for what a phone has: it writes down what was said, by which voice, what buzzed and which tones sounded.
# Source: Web Speech API, SpeechSynthesis and SpeechSynthesisVoice; Vibration API; Web Audio API, OscillatorNode.
STAND_IN = """(voices) => {
  window.said = []; window.buzzed = []; window.tones = []; window.volumes = [];
  const synthesis = new EventTarget();
  Object.assign(synthesis, {
    getVoices: () => voices, cancel: () => {}, speak: ({ text, voice }) => window.said.push([text, voice.name]),
  });
  Object.defineProperty(window, "speechSynthesis", { value: synthesis });
  window.SpeechSynthesisUtterance = class { constructor(text) { this.text = text; } };
  navigator.vibrate = (buzzes) => { window.buzzed.push(buzzes); return true; };
  window.AudioContext = class {
    currentTime = 0;
    createOscillator() {
      const made = { frequency: {}, connect() {}, start: () => window.tones.push(made.frequency.value), stop() {} };
      return made;
    }
    createGain() {
      const gain = { set value(loudness) { window.volumes.push(loudness); } };
      return { gain, connect() {} };
    }
    close() {}
  };
}"""
REMOTE = {"name": "Far away", "lang": "en-US", "localService": False, "default": True}
FRENCH = {"name": "Ici", "lang": "fr-FR", "localService": True, "default": False}
OWN = {"name": "Here", "lang": "en-GB", "localService": True, "default": False}


@pytest.fixture
def pouch(phone, served):
    def opened(voices=(), **chosen):
        page = phone.new_page()
        page.add_init_script(f"({STAND_IN})({json.dumps(list(voices))})")
        page.goto(served.address)
        page.evaluate("(chosen) => localStorage.setItem('tankfoot-settings', JSON.stringify(chosen))", chosen)
        return hand.open_purge(page, served.address)

    return opened


def said(page):
    return page.evaluate("() => window.said.splice(0)")


def begin(page):
    hand.type_readings(page)
    hand.tap(page, "begin")
    page.wait_for_timeout(100)


def test_by_default_nothing_is_said_felt_or_heard(pouch):
    page = pouch([OWN])
    begin(page)
    assert page.evaluate("() => [window.said, window.buzzed, window.tones]") == [[], [], []]


def test_each_screen_is_read_from_its_title_to_its_answers_by_the_phones_own_voice(pouch):
    page = pouch([REMOTE, FRENCH, OWN], aloud=True)
    said(page)
    begin(page)
    texts = said(page)
    assert {voice for _, voice in texts} == {"Here"}
    assert texts[0][0] == "Is everything there?"
    assert texts[-1][0].startswith("To tap: ")
    for line in hand.step(page).locator(".lines li").all_inner_texts():
        assert " ".join(line.split()) in [text for text, _ in texts]
    hand.tap(page, "all-there")
    page.wait_for_timeout(100)
    # a gate's answers in the places that they have on the screen, and what can happen
    shown = [f"To tap: {text}." for text in hand.step(page).locator(".events [data-event]:visible").all_inner_texts()]
    heard = [text for text, _ in said(page)]
    assert [text for text in heard if text in shown] == shown
    hazards = hand.step(page).locator(".hazard:visible").count()
    assert any("WARNING" in text or "DANGER" in text for text in heard) == (hazards > 0)


def test_every_screen_of_a_whole_purge_is_read(pouch):
    page = pouch([OWN], aloud=True)
    for event in hand.TAPS_WITHOUT_A_TANK:
        hand.type_readings(page)
        said(page)
        hand.tap(page, event)
        page.wait_for_timeout(100)
        title = hand.step(page).locator("h2.step").inner_text()
        assert title in [text for text, _ in said(page)], event


@pytest.mark.parametrize("voices", [[], [REMOTE], [REMOTE, FRENCH]], ids=["none", "far away", "another language"])
def test_where_no_such_voice_is_nothing_is_said_and_the_screens_say_so(voices, pouch, served):
    page = pouch(voices, aloud=True)
    hand.wait(page, 2000)  # a browser may read its list late
    expect(page.locator("[data-no-voice]")).to_contain_text("no voice of its own")
    begin(page)
    assert said(page) == []
    expect(page.locator("[data-no-voice]")).to_be_hidden()
    page.goto(f"{served.address}settings/")
    hand.wait(page, 2000)
    expect(page.locator("#aloud-voice")).to_be_visible()


def test_settings_say_nothing_where_a_voice_is_and_keep_what_is_chosen(pouch, served):
    page = pouch([OWN])
    page.goto(f"{served.address}settings/")
    for name in ("tone", "buzz", "aloud"):
        expect(page.locator(f"#{name}")).not_to_be_checked()
        page.locator(f"#{name}").check()
    expect(page.locator("#aloud-voice")).to_be_hidden()
    page.reload()
    for name in ("tone", "buzz", "aloud"):
        expect(page.locator(f"#{name}")).to_be_checked()


def test_a_tap_that_is_saved_and_one_that_is_not_differ(pouch):
    page = pouch([], tone=True, buzz=True)
    begin(page)
    assert page.evaluate("() => [window.buzzed.length, window.tones.length]") == [1, 1]
    hand.tap(page, "all-there")
    page.wait_for_timeout(100)
    # a gate's answer within a second of the question is not taken
    hand.step(page).locator("[data-event=across]").dispatch_event("click")
    expect(page.locator("[data-not-taken]")).to_be_visible()
    page.wait_for_timeout(100)
    saved, _, refused = page.evaluate("() => window.buzzed")
    assert saved != refused
    assert len(set(page.evaluate("() => window.tones"))) == 2
