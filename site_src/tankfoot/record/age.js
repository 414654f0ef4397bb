/** When a check is a check no more: one rule for the guided purge and for lists. Twin of age.py. */

export const OLD = 1800.0;

/** Why what was checked at the instant `last` counts no more `now`. @returns {"card"|"hand"|"time"|null} */
export function whyOld(last, now, isCardOpened, hand, atWork) {
  if (isCardOpened) return "card";
  if (hand !== null && hand !== atWork) return "hand";
  return secondsBetween(last, now) >= OLD ? "time" : null;
}

/** Seconds from one instant to another. */
export function secondsBetween(start, end) {
  return (Date.parse(end) - Date.parse(start)) / 1000.0;
}
