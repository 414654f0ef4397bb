/** What a purge's corrections replaced, each in words: what it was before, and when it was changed. */

import { words } from "../../wording/words.js";
import { written } from "../parts/dates.js";
import { amountText } from "../parts/figures.js";
import { own } from "../parts/lookup.js";
import { LOST_KIND } from "../parts/purge_line.js";

/** @returns {string[]} the latest correction first */
export function correctionsOf({ history, body, edited }, recordWords) {
  const bodies = [...history.map((past) => past.body), body];
  const instants = [...history.map((past) => past.edited), edited];
  return history
    .map((past, place) => [instants[place + 1], differences(past.body, bodies[place + 1], recordWords)])
    .filter(([, found]) => found.length)
    .map(([at, found]) => words("entry.past.before", { when: written(at), found: found.join("; ") }))
    .reverse();
}

function differences(before, after, recordWords) {
  const names = Object.keys({ ...before.readings, ...after.readings });
  const readings = names
    .filter((name) => (before.readings[name] ?? "") !== (after.readings[name] ?? ""))
    .map((name) => [own(recordWords.readings, name) ?? name, before.readings[name]])
    .map(([reading, text]) => (text ? `${reading} ${text}` : words("entry.past.empty", { reading })));
  const volume = volumeText(before) === volumeText(after) ? [] : [volumeText(before)];
  const notes = before.notes === after.notes ? [] : [notesText(before)];
  return [...readings, ...volume, ...taken(before, after), ...notes];
}

function taken({ watched: before }, { watched: after }) {
  if (!before || before.taken === after?.taken) return [];
  return [words(before.taken ? "entry.past.taken" : "entry.past.not_taken")];
}

function volumeText({ result }) {
  if (!result.volume_lost) return words("entry.past.no_volume");
  const { text, give_or_take: spread } = amountText(result.volume_lost, LOST_KIND);
  return words("entry.past.volume", { volume: `${text} ${spread}`.trim() });
}

function notesText({ notes }) {
  return notes ? words("entry.past.notes", { notes }) : words("entry.past.no_notes");
}
