/** Purges that were, for what the next one learns from them: of a record that grows for years, the latest alone. */

import { events as kinds } from "../../batches/declared.js";
import { entriesUnder, latestUnder } from "./ranges.js";

const OF_ALL = 200; // purges of the whole cellar that lend to a tank with a short past

/** The bodies of the latest purges of other tanks. @param {any} tank its entry */
export async function pastElsewhere({ id, demo }) {
  const found = await latestUnder("by-day", ["purge"], OF_ALL, tellsItsRun);
  return found.filter((entry) => entry.demo === demo && entry.body.tank !== id).map(({ body }) => body);
}

/** The bodies of the latest purges of a tank. @param {any} tank its entry @param {number} count */
export async function pastOfTank({ id }, count) {
  return (await latestUnder("of-tank-by-day", ["purge", id], count)).map(({ body }) => body);
}

/** When a tank got another beer since the first of some purges. @param {any} tank its entry @param {any[]} purges bodies */
export async function fillingsOf({ id }, purges) {
  const first = purges.map(({ events }) => events[0]?.at).filter(Boolean).sort()[0];
  if (!first) return [];
  const events = await entriesUnder("of-tank-at", ["batch-event", id], first);
  return events.filter(({ body }) => kinds[body.event].fills).map(({ body }) => body.at);
}

/** All that past.js takes of a purge: to look at the whole of some hundred would be felt. */
function tellsItsRun({ body }) {
  return Array.isArray(body?.events) && body.events.every(isEvent) && typeof body.solids === "string"
    && body.result !== null && typeof body.result === "object" && Object.values(body.result).every(isAmount);
}

function isEvent(event) {
  return typeof event?.event === "string" && typeof event.at === "string" && !Number.isNaN(Date.parse(event.at));
}

function isAmount(amount) {
  return Number.isFinite(amount?.value);
}
