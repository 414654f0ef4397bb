/** The contact clock and the stopwatch: worked out from stored instants, so that a lock or a reload does not stop them. */

import { instantOf, isBeforeLast } from "../../purge/machine.js";
import { alarm } from "../parts/device.js";
import { amountText } from "../parts/figures.js";
import { siOfReading } from "./reading_texts.js";

const TICK = 200; // ms

/** Ticks for as long as the page is open. `current` gives the purge under way, or null. */
export function startClocks(page, current) {
  let rung = null; // the instant of the contact time that the alarm has sounded for
  const tick = () => {
    const purge = current();
    if (!purge) return;
    const { events, state, readings } = purge.body;
    page.querySelector("[data-clock-back]").hidden = !isBeforeLast(events, Date.now());
    if (state === "contact") {
      const began = instantOf(events, "wet");
      const left = siOfReading("contact_time", readings.contact_time) - (Date.now() - began) / 1000;
      showCountdown(page, left);
      if (left <= 0 && rung !== began) {
        rung = began;
        alarm();
      }
    }
    if (state === "flowing" || state === "beer") showRun(page, purge.body);
  };
  setInterval(tick, TICK);
  return tick;
}

function showCountdown(page, left) {
  page.querySelector("[data-countdown]").textContent = minutes(Math.max(0, Math.ceil(left)));
  page.querySelector("[data-event=time-over]").disabled = left > 0;
}

function showRun(page, { events, state, readings }) {
  const opened = instantOf(events, "opened");
  const now = Date.now();
  const section = page.querySelector(`[data-step=${state}]`);
  section.querySelector("[data-stopwatch]").textContent = minutes(Math.max(0, Math.floor((now - opened) / 1000)));
  const place = section.querySelector("[data-running-volume]");
  if (!readings.flow) return;
  const value = siOfReading("flow", readings.flow) * Math.max(0, now - opened) / 1000;
  place.textContent = `≈ ${amountText({ value, uncertainty: null }, "bucket_volume").text}`;
}

function minutes(seconds) {
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}
