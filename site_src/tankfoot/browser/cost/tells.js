/** Whether an entry tells what a report takes of it: to look at the whole of thousands would be felt. */

import { events } from "../../batches/declared.js";
import { batchEventProblems } from "../../batches/meaning.js";

const INSTANT = "2026-03-01T07:00:00.000Z".length;

export function tellsOfPurge({ body }) {
  return typeof body?.state === "string" && typeof body.table === "string" && Array.isArray(body.events)
    && body.events.every(({ at, state, event }) => isInstant(at) && typeof state === "string" && typeof event === "string");
}

export function tellsAmounts({ readings, result, tank_name: name, solids, tank }) {
  return isObject(readings) && isObject(result) && typeof name === "string" && typeof solids === "string"
    && (tank === null || typeof tank === "string") && Object.values(result).every((amount) => Number.isFinite(amount?.value));
}

export function tellsOfRun({ body }) {
  return Array.isArray(body?.events) && body.events.every((event) => isObject(event));
}

export function tellsOfBatch({ body }) {
  return isText(body?.tank) && isText(body.batch) && isInstant(body.at) && isText(body.event) && Object.hasOwn(events, body.event)
    && (body.amount === null || isText(body.amount)) && batchEventProblems(body).length === 0;
}

function isInstant(text) {
  return typeof text === "string" && text.length === INSTANT;
}

function isObject(found) {
  return typeof found === "object" && found !== null;
}

function isText(found) {
  return typeof found === "string";
}
