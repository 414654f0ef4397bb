/** What a tap says beside its event: the fields of the step that hold no reading. */

import { SHORT } from "../../purge/pace.js";
import { settings } from "../storage/settings.js";

/** Taps that ask for no reading. */
export const NEEDS_NOTHING = ["undo", "skip", "more-gas", "keep-gas-on", "above-plate", "below-zero", "not-there"];

/** How the tank stands is said by the event that begins the purge. */
export function nameOf(event, page) {
  return event === "begin" ? page.querySelector("[name=tank-state]:checked").value : event;
}

/**
 * What stands beside an event: why a step was skipped, who put the tank back into use, who begins, where the solids go
 * and at which pace; null where it lacks.
 */
export function dataOf(event, { page, section, button, isShort }) {
  if (event === "skip") return filled({ reason: button.closest("details").querySelector("[data-why]") });
  if (event === "cleared") {
    return filled({ by: section.querySelector("[data-cleared-by]"), reason: section.querySelector("[data-cleared-why]") });
  }
  if (event !== "begin") return {};
  const place = page.querySelector("[data-place]").value.trim();
  const told = { by: settings().initials, place, pace: isShort ? SHORT : "" };
  return Object.fromEntries(Object.entries(told).filter(([, text]) => text));
}

/** The texts of fields, all of which have to be filled. */
function filled(fields) {
  const empty = Object.values(fields).find((field) => !field.value.trim());
  empty?.focus();
  return empty ? null : Object.fromEntries(Object.entries(fields).map(([name, field]) => [name, field.value.trim()]));
}

/** What stands on the screen beside the readings and goes with a tap. */
export function choices(event, { page, noted }) {
  if (event === "save") return { notes: noted };
  if (event !== "begin") return {};
  return { solids: page.querySelector("[name=solids]:checked").value, initials: settings().initials || null };
}
