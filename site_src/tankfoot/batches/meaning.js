/** Whether what was typed about a batch or at a gauge can be read by this app. Twin of meaning.py. */

import { kinds as quantityKinds } from "../quantities/declared.js";
import { offered, readQuantity, RefusedText } from "../quantities/text.js";
import { events } from "./declared.js";

/** @typedef {[string, string, object]} Found a place in the body, a code, its facts */

const LARGEST = 1e12; // SI: as large as an amount of the record may be
const READ = { // what is read at a tank, and as which kinds of quantity
  gravity: ["gravity", "extract"], pressure: ["gauge_pressure"], temperature: ["temperature"], topped_up: ["gauge_pressure"],
};

/** What the body of a batch's event, right in its shape, cannot mean. @returns {Found[]} */
export function batchEventProblems({ event, amount }) {
  const kind = events[event].amount;
  return unread("amount", amount, kind ? [kind] : amounts());
}

/** What the body of a tank's reading, right in its shape, cannot mean. @returns {Found[]} */
export function readingProblems(body) {
  return Object.entries(READ).flatMap(([name, kinds]) => unread(name, body[name], kinds));
}

/** The kinds of all amounts: one beside an event that has none may be left from another. */
function amounts() {
  return [...new Set(Object.values(events).flatMap(({ amount }) => (amount ? [amount] : [])))];
}

/** What a text that is a quantity of none of `kinds` is. @returns {Found[]} none where there is no text */
export function unread(place, text, kinds) {
  if (text === null || kinds.some((kind) => isRead(text, kind))) return [];
  const units = new Set(kinds.flatMap((kind) => Object.values(quantityKinds[kind]).flat()));
  return [[place, "must-be", { what: "quantity", units: [...units].join(", ") }]];
}

function isRead(text, kind) {
  try {
    return Math.abs(readQuantity(text, kind, offered(kind, "us")[0]).si) <= LARGEST;
  } catch (refused) {
    if (!(refused instanceof RefusedText)) throw refused;
    return false;
  }
}
