/** What closes the way on at a step: a pressure above the plate or below zero, a cap without a way down, a stack unsaid. */

import { LATEST, tables } from "../../purge/machine.js";
import { abovePlate } from "../../purge/plate.js";
import { words } from "../../wording/words.js";
import { settings } from "../storage/settings.js";
import { readingOf } from "./reading_texts.js";
import { otherOpen } from "./refusals.js";

const DANGERS = "[data-shared] :is([data-plate-stop], [data-zero-stop], [data-vacuum-stop])";
const ONLY_THEN = { "above-plate": "isAbove", "below-zero": "isBelow" }; // answers that make sense at such a stop alone

/**
 * @param {HTMLElement} here the section of a step on the screen @param {object} run
 * @param {string[]} shows the steps that share the screen: a pressure that one of them must not have, none must have
 * @param {Object<string, string>} typed the quantities that stand in the screen's fields
 */
export async function showStops(here, run, shows, typed) {
  const steps = tables[run.body.table];
  const step = steps[here.dataset.step];
  const { facts = [] } = step;
  const pressures = step.pressures ? shows.flatMap((state) => steps[state].pressures ?? []) : [];
  const readings = { ...run.body.readings, ...typed };
  const found = {
    isAbove: abovePlate(pressures, readings, settings().system) !== null,
    isBelow: pressures.some((name) => readings[name] && readingOf(name, readings[name]).si < 0.0),
  };
  showIf(here, "[data-plate-stop]", found.isAbove);
  showIf(here, "[data-zero-stop]", found.isBelow && !found.isAbove);
  const isStopped = found.isAbove || found.isBelow;
  if (isStopped && !here.hasAttribute("data-stopped")) scrollTo(0, 0);
  here.toggleAttribute("data-stopped", isStopped);
  for (const button of here.querySelectorAll(".events [data-event], details [data-event]")) {
    const { event } = button.dataset;
    const then = ONLY_THEN[event];
    if (then) button.hidden = !found[then];
    else if (pressures.length && !facts.includes(event)) button.hidden = isStopped || isClosedBySums(here, event, readings);
    else if (pressures.length && event === "opened") button.hidden = isStopped;
  }
  if (Object.hasOwn(step.events, "opened")) await showOther(here, run);
  showStack(here, run);
  showCapWay(here, run);
  hideUnknown(here, run, step);
}

/** A danger that comes up on a shared screen is brought into sight, once the browser has followed what is typed there. */
export function bringUpDanger(page) {
  const isThere = [...document.querySelectorAll(DANGERS)].some((each) => each.checkVisibility());
  if (isThere && !page.hasAttribute("data-danger")) requestAnimationFrame(() => scrollTo(0, 0));
  page.toggleAttribute("data-danger", isThere);
}

/** A purge that was begun with an earlier table has the answers of that table alone. */
function hideUnknown(here, run, { events }) {
  if (run.body.table === LATEST) return;
  for (const button of here.querySelectorAll("[data-event]")) {
    if (button.dataset.event !== "skip" && !Object.hasOwn(events, button.dataset.event)) button.hidden = true;
  }
}

/** A draw that takes too much closes the way on: sums.js looked before. Before the gauge is read there is none. */
function isClosedBySums(here, event, readings) {
  return event === "fits" && (!readings.pressure_before || here.querySelector("[data-vacuum-stop]:not([hidden])") !== null);
}

/** Where another port is open, this one is not opened. */
async function showOther(here, run) {
  const other = await otherOpen(run.id, run.keeper);
  const place = here.querySelector("[data-other-open]");
  place.hidden = !other;
  if (!other) return;
  const link = place.querySelector("a");
  link.textContent = other.body.tank_name || words(`purge.solids.${other.body.solids}`);
  link.hash = new URLSearchParams({ "go-on": other.id }).toString();
  link.onclick = () => setTimeout(() => location.reload()); // a change of the hash alone loads nothing
  here.querySelector("[data-event=opened]").hidden = true;
}

function showStack(here, run) {
  showIf(here, "[data-stack-asked]", !run.isStackKnown);
  showIf(here, "[data-own-stack]", run.isStackKnown);
  showTankLink(here, run, "stack");
}

/** To one part of the tank's page, and from there back to this purge. */
function showTankLink(here, run, open) {
  const link = here.querySelector(`[data-${open}-link]`);
  if (link && run.tank) link.hash = new URLSearchParams({ id: run.tank.id, open, "go-on": run.id }).toString();
}

function showCapWay(here, run) {
  const place = here.querySelector("[data-cap-way]");
  if (!place) return;
  const way = run.tank?.body.cap_way ?? "";
  place.querySelector("[data-cap-way-says]").textContent = way;
  place.hidden = !way;
  showIf(here, "[data-no-cap-way]", !way);
  showTankLink(here, run, "cap-way");
  here.querySelector("[data-event=cap-off]").hidden = !way;
}

function showIf(here, selector, isShown) {
  const place = here.querySelector(selector);
  if (place) place.hidden = !isShown;
}
