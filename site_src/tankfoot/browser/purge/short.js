/** The short pace on the page: steps that share a screen stand below each other, and one tap tells an event of each. */

import { instruments } from "../../purge/declared.js";
import { standing, tables } from "../../purge/machine.js";
import { answers, paceOf, screen, SHORT } from "../../purge/pace.js";
import { saveSettings, settings } from "../storage/settings.js";

// What Enter says in the field of a shared screen, by its last step: with the gas shut at the tank's last purge, or on.
const ANSWERED_BY_ENTER = { margin: { true: "fits", false: "gas-on" }, result: { true: "seen", false: "seen" } };
const AT_ONCE = ["above-plate", "below-zero"]; // told whatever the clock says, beside a step's facts
const READ_ONCE = ["pressure_found"]; // the gauge is read once on a shared screen: before opening
const TOLD_AT = { topup: ["target_pressure"] }; // readings of an earlier step that are wanted again
const KNOWN = [
  "headspace", "temperature", "flow", "contact_time", "rated_pressure", "target_pressure", "planned_draw",
  "collected_volume", "collected_mass", "beer_share",
];

const SINGLE = { isShared: false, answers: [], hides: [], tells: [], always: [], enter: null };

/**
 * What the step that a purge is at shows with it.
 *
 * @param {object} run @param {boolean} isShort
 * @param {{isGasShut: boolean}} last the tank's last purge @param {boolean} isAllShown what is known of the tank too
 */
export function screenOf({ body: { state, events, table } }, isShort, { isGasShut }, isAllShown) {
  const names = standing(events).map(({ event }) => event);
  const { steps, shows } = screen(state, names, table);
  if (!isShort || (steps.length === 1 && shows.length === 1)) return { ...SINGLE, shows: [state] };
  return {
    isShared: true,
    shows: shows.filter((each) => steps.includes(each)),
    answers: answers(state, names, table).map((answer) => described(answer, table)),
    hides: isAllShown ? [] : KNOWN,
    tells: steps.flatMap((step) => TOLD_AT[step] ?? []),
    always: READ_ONCE,
    enter: ANSWERED_BY_ENTER[steps.at(-1)]?.[isGasShut] ?? null,
  };
}

/** An answer, whether it is a fact, and whether it has to wait until the contact time is over. */
function described(answer, table) {
  const { state, event, saves } = answer;
  const isFact = tables[table][state].facts?.includes(event) ?? false;
  return { ...answer, isFact, waits: saves.includes("time-over") && !isFact && !AT_ONCE.includes(event) };
}

/**
 * The events that one tap saves, the last one apart. A fact that is told before the contact time is over cuts it short.
 *
 * @param {string} why that is written beside what it cuts short
 */
export function toldWith({ saves, waits: isWaiting }, isTimeOver, why) {
  const isCut = !isWaiting && !isTimeOver;
  return saves.slice(0, -1).map((event) => (
    isCut && event === "time-over" ? { event: "skip", data: { reason: why } } : { event }
  ));
}

/** What a button of a shared screen answers; nothing elsewhere. @param {HTMLElement|undefined} button */
export function answerOf({ answers: given }, event, button) {
  return given.find((each) => each.event === event && each.state === button?.closest("[data-step]").dataset.step);
}

export function isBegunShort({ body: { events } }) {
  return paceOf(events) === SHORT;
}

/** Whether a purge that was begun short is walked so: its hand has not asked for one step at a time. */
export function isWalkedShort(run) {
  return isBegunShort(run) && settings().one_step !== run.id;
}

export function turnPace({ id }, isShort) {
  saveSettings({ one_step: isShort ? "" : id });
}

/** Puts the sections of a screen on the page, and of their buttons those that are answers there. */
export function layOut(page, { isShared, shows, answers: given, enter }) {
  const last = given.find(({ event }) => event === enter)?.state ?? shows.at(-1);
  page.toggleAttribute("data-shared", isShared);
  page.toggleAttribute("data-gauge-first", isShared && shows.includes("margin"));
  for (const section of page.querySelectorAll("[data-step]")) {
    const { step } = section.dataset;
    section.hidden = !shows.includes(step);
    section.toggleAttribute("data-last", isShared && step === last);
    if (section.hidden) continue;
    for (const also of section.querySelectorAll("[data-also]")) also.hidden = !isShared;
    for (const button of section.querySelectorAll("[data-event]:not([data-event=skip])")) {
      const answer = given.find(({ state, event }) => state === step && event === button.dataset.event);
      button.toggleAttribute("data-off", isShared && !answer);
      button.removeAttribute("data-too-old");
      if (button.hasAttribute("data-after-clock")) button.disabled = false;
      button.toggleAttribute("data-after-clock", answer?.waits === true);
    }
  }
}

/** The field that a shared screen asks to be typed: the first instrument that shows nothing yet. */
export function asked(fields) {
  return fields.find(({ name, box, entry }) => instruments.includes(name) && !box.hidden && entry.value === "");
}
