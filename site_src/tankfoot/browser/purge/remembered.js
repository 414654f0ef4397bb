/** What a tank's last purge tells of the next one: what came out, where it went, the contact time, gas shut or on. */

import { begins } from "../../purge/declared.js";
import { standing } from "../../purge/machine.js";
import { formatIn } from "../../quantities/format.js";
import { showExpected } from "./expected.js";
import { readingOf } from "./reading_texts.js";
import { USUAL_CONTACT } from "../parts/purge_wait.js";

const DOUBT = { "°F": 5, "°C": 3 }; // of a temperature that nobody read today. Common practice, no source

/**
 * @param {{lastPurge: object|undefined}} run
 * @returns {{solids: string, place: string, contact_time: string, isGasShut: boolean}}
 */
export function remembered({ lastPurge }) {
  return {
    solids: lastPurge?.solids ?? "trub",
    place: placeOf(lastPurge?.events ?? []),
    contact_time: lastPurge?.readings.contact_time || USUAL_CONTACT,
    isGasShut: lastPurge?.gas_shut ?? true,
  };
}

/** Where the solids go, as the event that began a purge says. */
export function placeOf(events) {
  return standing(events).find(({ event }) => Object.hasOwn(begins, event))?.data?.place ?? "";
}

/** Puts what the last purge tells into what a hand is asked at the start, as far as it has not chosen there. */
export function showRemembered(page, run) {
  const { solids, place } = remembered(run);
  const isChosen = page.querySelector("[name=solids][data-touched]") !== null;
  if (!isChosen) page.querySelector(`[name=solids][value=${solids}]`).checked = true;
  const field = page.querySelector("[data-place]");
  if (!field.hasAttribute("data-touched")) field.value = place;
  showExpected(page, run);
}

/** From here on what a hand chose or typed at the start stays. */
export function listenToStart(page) {
  for (const input of page.querySelectorAll("[name=solids], [data-place]")) {
    input.addEventListener("input", () => input.toggleAttribute("data-touched", true));
  }
}

/** The beer's temperature as the tank has it: nobody read it today, so that it may be some degrees off. */
export function temperatureOf({ temperature: text }) {
  if (!text) return undefined;
  const { si, unit } = readingOf("temperature", text);
  return `${formatIn(si, unit, 2)} ± ${DOUBT[unit]} ${unit}`;
}
