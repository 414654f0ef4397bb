/** A reading of a tank in the walk, as it is kept: one entry, and the tank's own numbers in the same write. */

import { newReading, typedIn } from "../parts/gauge.js";
import { refreshCurrentTank } from "../storage/current_tank.js";
import { entriesUnder } from "../storage/ranges.js";
import { corrected, edited, get, put } from "../storage/record.js";
import { isSound } from "../storage/sound.js";

const SAME_READING = 10 * 60_000; // ms: what is typed again so soon mends it. Common practice, no source
const SAME_WALK = 6 * 3_600_000; // ms: what was read so long ago is of another walk. Common practice, no source

/** What is typed: its kind of quantity, and what the tank keeps of it. */
export const TYPED = {
  pressure: { kind: "gauge_pressure", of_tank: "pressure" },
  temperature: { kind: "temperature", of_tank: "temperature" },
  topped_up: { kind: "gauge_pressure", of_tank: "pressure" },
};

/** @returns {Promise<any|null>} the reading of a tank in this walk, whatever page or window took it */
export async function readingNow(tank) {
  const since = new Date(Date.now() - SAME_WALK).toISOString();
  const found = await entriesUnder("of-tank-at", ["tank-reading", tank], since);
  return found.filter(({ body }) => body.pressure !== null || body.topped_up !== null).at(-1) ?? null;
}

/**
 * Keeps what was typed; `wrong` names what is no such quantity, or none that a tank can have: then nothing is kept.
 *
 * @param {any} tank its entry @param {any|null} last its reading in this walk @param {Object<string, string>} texts by TYPED
 * @returns {Promise<{tank: any, reading: any}|{wrong: string}>}
 */
export async function keepReading(tank, last, texts) {
  const found = Object.fromEntries(Object.entries(texts).map(([name, text]) => [name, typedIn(text, TYPED[name].kind)]));
  const wrong = Object.keys(found).find((name) => found[name] === null);
  if (wrong) return { wrong };
  const now = await get(tank.id, "tank") ?? tank;
  const read = Object.fromEntries(Object.entries(found).map(([name, { text }]) => [name, text]));
  const own = Object.fromEntries(Object.entries(found).map(([name, { si }]) => [TYPED[name].of_tank, si]));
  const changed = edited(now, { ...now.body, ...own });
  const reading = await entryOf(now, last, read);
  if (!isSound(changed) || !isSound(reading)) return { wrong: Object.keys(found)[0] };
  await put(reading, changed);
  refreshCurrentTank(changed);
  return { tank: changed, reading };
}

async function entryOf(tank, last, read) {
  const stored = last && Date.now() - Date.parse(last.body.at) < SAME_READING ? await get(last.id, "tank-reading") : null;
  if (!stored || stored.deleted) return newReading(tank, read);
  const isMended = Object.keys(read).some((name) => ![null, read[name]].includes(stored.body[name]));
  return (isMended ? corrected : edited)(stored, { ...stored.body, ...read });
}
