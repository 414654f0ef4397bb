/** What a purge's corrections replaced, each in words: what it was before, and when it was changed. */

import { calculators } from "../../calculators/declared.js";
import { amountText } from "../parts/figures.js";

const VOLUME = calculators["purge-volume"].results.volume_lost;

/** @returns {string[]} the latest correction first */
export function correctionsOf({ history, body, edited }, said, dates) {
  const bodies = [...history.map((past) => past.body), body];
  const instants = [...history.map((past) => past.edited), edited];
  return history
    .map((past, place) => [instants[place + 1], differences(past.body, bodies[place + 1], said)])
    .filter(([, found]) => found.length)
    .map(([at, found]) => `${dates.format(new Date(at))}. Before: ${found.join("; ")}.`)
    .reverse();
}

function differences(before, after, said) {
  const names = Object.keys({ ...before.readings, ...after.readings });
  const readings = names
    .filter((name) => (before.readings[name] ?? "") !== (after.readings[name] ?? ""))
    .map((name) => `${said.readings[name] ?? name} ${before.readings[name] || "empty"}`);
  const volume = volumeText(before) === volumeText(after) ? [] : [`volume lost ${volumeText(before)}`];
  const notes = before.notes === after.notes ? [] : [before.notes ? `notes “${before.notes}”` : "no notes"];
  return [...readings, ...volume, ...notes];
}

function volumeText({ result }) {
  if (!result.volume_lost) return "not known";
  const { text, give_or_take: spread } = amountText(result.volume_lost, VOLUME);
  return `${text} ${spread}`.trim();
}
