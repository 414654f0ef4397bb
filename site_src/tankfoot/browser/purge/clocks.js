/** The contact clock and the stopwatch: worked out from stored instants, so that a lock or a reload does not stop them. */

import { instantOf, isBeforeLast } from "../../purge/machine.js";
import { words } from "../../wording/words.js";
import { hide, write } from "../parts/changed.js";
import { amountText } from "../parts/figures.js";
import { minutes } from "../parts/minutes.js";
import { readingOf, shortText } from "./reading_texts.js";
import { USUAL_CONTACT } from "../parts/purge_wait.js";
import { isWetTooLong } from "./refusals.js";
import { showUsualChange } from "./usual_change.js";

const TICK = 200; // ms

/** Ticks for as long as the page is open. `current` gives the purge under way, or null. */
export function startClocks(page, current) {
  const tick = () => {
    const purge = current();
    if (!purge) return;
    const { events, state } = purge.body;
    hide(page.querySelector("[data-clock-back]"), !isBeforeLast(events, purge.keeper.now()));
    if (state === "contact") showCountdown(page, contactLeft(purge), isWetTooLong(purge.body, purge.keeper));
    const section = page.querySelector(`[data-step=${state}]`);
    showUsualChange(section, purge, secondsOpen(purge));
    if (section.querySelector("[data-stopwatch]")) showRun(section, purge);
    if (section.querySelector("[data-count]")) showCount(section, purge);
  };
  setInterval(tick, TICK);
  return tick;
}

/** Seconds until the contact time is over. */
function contactLeft({ body: { events, readings }, keeper }) {
  const contact = readingOf("contact_time", readings.contact_time || USUAL_CONTACT).si;
  return contact - (keeper.now() - instantOf(events, "wet")) / 1000;
}

/** Whether no contact time runs at the step that a purge is at. */
export function isTimeOver(purge) {
  return purge.body.state !== "contact" || contactLeft(purge) <= 0;
}

/** Said once when it comes about, and taken back where the clock runs anew. */
function tellOver(section, isOver) {
  write(section.querySelector("[data-time-over]"), isOver ? words("purge.time_over") : "");
}

/** What was wetted too long ago is wetted again before the work goes on. */
function showCountdown(page, left, isTooLong) {
  hide(page.querySelector("[data-too-long]"), !isTooLong);
  hide(page.querySelector("[data-step=contact] [data-event=wet]"), !isTooLong);
  write(page.querySelector("[data-countdown]"), minutes(Math.max(0, Math.ceil(left))));
  for (const button of page.querySelectorAll("[data-event=time-over], [data-after-clock]")) {
    button.toggleAttribute("data-too-old", isTooLong); // `hidden` is a stop's: what hides it must not be undone here
    button.toggleAttribute("disabled", left > 0);
  }
  tellOver(page.querySelector("[data-step=contact]"), left <= 0);
}

/** A wait before the right answer: it counts from the tap that led here. */
function showCount(section, { body: { events }, step: { wait }, keeper }) {
  const left = Math.ceil(wait - (keeper.now() - Date.parse(events.at(-1).at)) / 1000);
  write(section.querySelector("[data-count]"), String(Math.min(wait, Math.max(0, left))));
  section.querySelector("[data-waits]").toggleAttribute("disabled", left > 0);
  tellOver(section, left <= 0);
}

/** What left since it was opened, by the flow that was typed, else by this tank's last bucket test; which one is said. */
function showRun(section, purge) {
  const { body: { readings }, lastFlow } = purge;
  const gone = Math.floor(secondsOpen(purge)); // of the second that is shown: a figure that flickers is not read
  write(section.querySelector("[data-stopwatch]"), minutes(gone));
  const flow = readings.flow || lastFlow;
  if (!flow) return;
  const value = readingOf("flow", flow).si * gone;
  const { text } = amountText({ value, uncertainty: null }, "bucket_volume");
  const says = readings.flow ? `≈ ${text}` : words("purge.by_last_flow", { amount: text, flow: shortText("flow", flow) });
  write(section.querySelector("[data-running-volume]"), says);
}

/** Seconds since it was opened; null before that. */
function secondsOpen({ body: { events }, keeper }) {
  const opened = instantOf(events, "opened") ?? instantOf(events, "already-open");
  return opened === null ? null : Math.max(0, keeper.now() - opened) / 1000;
}
