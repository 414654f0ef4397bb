/** What stands in a step's fields before anything is typed there, and which of them are not asked for. */

import { mayStayEmpty } from "./readings.js";
import { PREFILLED } from "../parts/fields.js";
import { textOfReading } from "./reading_texts.js";
import { remembered, temperatureOf } from "./remembered.js";

/** Texts by reading: what was typed, what is known of the tank, the plan. @param {string[]} shows the steps on the screen */
export function known({ body: { readings }, known: ofTheTank, usualDraw, lastPurge }, { isShared, shows }) {
  const rated = ofTheTank.rated_pressure ?? readings.rated_pressure;
  const plan = shows.includes("margin") ? { planned_draw: textOfReading("planned_draw", usualDraw(), PREFILLED) } : {};
  const unread = isShared && shows.includes("choose") ? { temperature: temperatureOf(ofTheTank) } : {};
  const typed = Object.fromEntries(Object.entries(readings).filter(([, text]) => text));
  return { contact_time: remembered({ lastPurge }).contact_time, ...plan, ...unread, ...typed, rated_pressure: rated };
}

/** What is known of the tank already, and a pressure that tells nothing because the gas was on. */
export function notAsked({ body: { gas_shut: isGasShut }, known: ofTheTank }) {
  return [...(ofTheTank.rated_pressure ? ["rated_pressure"] : []), ...(isGasShut ? [] : ["pressure_after"])];
}

/** Of what a shared screen folds away, what is known by `texts`, or may stay empty while the gauge tells what left. */
export function folded({ hides, always }, texts, { gas_shut: isGasShut }) {
  const isFolded = (name) => Boolean(texts[name]) || (mayStayEmpty(name) && isGasShut !== false);
  return [...always, ...hides.filter(isFolded)];
}
