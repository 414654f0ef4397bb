/**
 * The phone may stay in its pouch: a tap that is saved is heard or felt, and each screen is read aloud, as the settings
 * say. It watches what the page shows, so that no step of the purge has to know of it.
 */

import { words } from "../../wording/words.js";
import { give } from "../parts/device.js";
import { ownVoice, sayNext, sayNow } from "../parts/speech.js";
import { settings } from "../storage/settings.js";

const page = document.querySelector("[data-purge]");
const usualChange = document.querySelector("[data-usual-change]");
const { tone, buzz, aloud } = settings();
const ANSWER = "[data-event], [data-event-link], button.clamp";

const voice = aloud ? await ownVoice() : null;
let shown; // the step that was shown last
let reading; // a timer
let isTapped = false; // a step's button, and what came of it is not known yet
if (tone || buzz || aloud) watch();

function watch() {
  page.addEventListener("click", ({ target }) => { isTapped ||= target.closest("[data-event], [data-undo]") !== null; }, { capture: true });
  const observer = new MutationObserver((changes) => {
    const places = changes.map(({ target }) => (target instanceof Element ? target : target.parentElement));
    const is = (selector) => places.some((place) => place.matches(selector));
    if (is("[data-kept-tap]") && isTapped) give("saved", { tone, buzz });
    if (is("[data-not-taken]") && place("[data-not-taken]")) give("refused", { tone, buzz });
    const isOver = is("[data-time-over]") && place("[data-time-over]");
    const begins = is("[data-says]") && usualChange.matches("[data-begins]") ? textOf(usualChange) : "";
    if (begins) give("begins", { tone, buzz });
    const isMoved = section() !== shown || (is("[data-kept-tap]") && isTapped);
    isTapped &&= !is("[data-kept-tap], [data-not-taken]");
    shown = section();
    tellNoVoice();
    if (!voice) return;
    if (isMoved) {
      clearTimeout(reading);
      reading = setTimeout(readStep); // the rest of the screen follows in the same turn
    } else if (isOver || begins) sayNext([isOver || begins], voice);
    else sayNext(places.filter((one) => one.matches("[role=alert], [data-not-taken]") && one.checkVisibility()).map(textOf).filter(Boolean), voice);
  });
  for (const seen of [page, usualChange]) {
    observer.observe(seen, { subtree: true, childList: true, characterData: true, attributes: true, attributeFilter: ["hidden"] });
  }
  shown = section();
  tellNoVoice();
  if (voice) readStep();
}

/** Before the work begins; later it would only take room. What does not change is not written, or it would be seen as a change. */
function tellNoVoice() {
  const noVoice = page.querySelector("[data-no-voice]");
  const isHidden = !aloud || voice !== null || section()?.dataset.step !== "choose";
  if (noVoice.hidden !== isHidden) noVoice.hidden = isHidden;
}

/** The step that is shown. */
function section() {
  return [...page.querySelectorAll("[data-step]")].find((step) => step.checkVisibility());
}

/** What a status line of the step says now; "" where it says nothing. */
function place(selector) {
  const found = [...page.querySelectorAll(selector)].find((one) => one.closest("[hidden]") === null);
  return found?.textContent.trim() ?? "";
}

function readStep() {
  const step = section();
  if (!step) return;
  const parts = step.querySelectorAll(":is(h2, p, li, tr, label):not(.help, .clock, :has(input, button)), [data-event], [data-event-link], .clamp");
  const all = [...parts, usualChange].filter((one) => one.checkVisibility());
  const [told, answers] = [all.filter((one) => !one.matches(ANSWER)), all.filter((one) => one.matches(ANSWER))];
  sayNow([...told.map(textOf), ...answers.map((one) => words("purge.answer", { answer: textOf(one) }))].filter(Boolean), voice);
}

function textOf(one) {
  return (one.getAttribute("aria-label") ?? one.textContent).replace(/\s+/g, " ").trim();
}
