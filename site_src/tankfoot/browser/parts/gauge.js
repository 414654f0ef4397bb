/** What a gauge reads in passing: a text that a person typed, and whether it is a danger. */

import { offered, readQuantity, RefusedText } from "../../quantities/text.js";
import { get, newEntry } from "../storage/record.js";
import { settings } from "../storage/settings.js";
import { inUnit } from "./fields.js";

/** What was typed, in SI, and its text with the unit that a bare number is in now; null where it is no such quantity. */
export function typedIn(text, kind) {
  try {
    const { si, unit } = readQuantity(text, kind, offered(kind, settings().system)[0]);
    return { si, text: inUnit(text, unit) };
  } catch (refused) {
    if (!(refused instanceof RefusedText)) throw refused;
    return null;
  }
}

/** An entry of what was read at a tank, not yet written. @param {any} tank its entry @param {Object<string, string>} read texts */
export function newReading(tank, read) {
  const body = {
    tank: tank.id, tank_name: tank.body.name, at: new Date().toISOString(), pressure: null, temperature: null,
    gravity: null, topped_up: null, by: settings().initials || null,
  };
  return { ...newEntry("tank-reading", { ...body, ...read }), demo: tank.demo };
}

export function pressureIn(text) {
  return typedIn(text, "gauge_pressure");
}

/** @returns {Promise<Map<string, number|null>>} the pressures on the plates of tanks, Pa gauge; null where not known */
export async function platesOf(tanks) {
  const found = await Promise.all(tanks.map((tank) => get(tank, "tank")));
  return new Map(tanks.map((tank, place) => [tank, found[place]?.body.rated_pressure ?? null]));
}

/** @returns {"plate"|"zero"|null} above what the tank is rated for, or below zero, where it can fold in */
export function dangerIn(text, plate) {
  const si = text === null ? null : pressureIn(text)?.si ?? null;
  if (si === null) return null;
  if (si < 0.0) return "zero";
  return plate !== null && si > plate ? "plate" : null;
}
