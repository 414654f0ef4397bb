/** What happened in a rehearsal and what counts as done, in sentences; their words stand on the page. */

import { local } from "../../quantities/locale.js";
import { facts as kinds, happened as codes, scenarios, wanted as limits } from "../../rehearsal/declared.js";
import { formatIn } from "../../quantities/format.js";
import { filled } from "../../wording/sentences.js";
import { words } from "../../wording/words.js";
import { own } from "../parts/lookup.js";
import { unitOf } from "../storage/units.js";

const DIGITS = 2;
const textsHere = new Map(); // by their key: a frame has no time to ask again

/** @param {object} said the page's words: happened, done, reasons */
export function sentencesOf(said) {
  return {
    /** What a scenario is for, as the list of them says it: once more when it is over. */
    teaches: (scenario) => said.scenarios[scenario].teaches,
    /** @param {{happened: string, facts: Object<string, number|string>}} event */
    says: ({ happened, facts }) => filled(said.happened[happened].says, shownFacts(facts, said.reasons)),
    instead: ({ happened }) => said.happened[happened].instead ?? "",
    isMistake: ({ happened }) => codes[happened].mistake,
    isQuiet: ({ happened }) => codes[happened].quiet,
    signal: ({ happened }) => codes[happened].signal,
    card: ({ happened }) => codes[happened].card,

    /** What counts as done: a sentence, or one for each of several. */
    wanted(scenario, code) {
      const [limit, words] = [scenarios[scenario].done[code], said.done[code]];
      if (typeof words !== "string") return [limit].flat().map((each) => words[each]);
      return [filled(words, { limit: own(limits, code) ? shown(limit, limits[code]) : "" })];
    },
  };
}

function shownFacts(facts, reasons) {
  return Object.fromEntries(Object.entries(facts).map(([name, value]) => [
    name, own(kinds, name) ? shown(value, kinds[name]) : own(reasons, value) ?? value,
  ]));
}

const unitsHere = new Map(); // by kind of quantity, likewise

/** A quantity as this phone shows such. */
export function shown(si, kind) {
  if (!unitsHere.has(kind)) unitsHere.set(kind, unitOf(kind));
  return local(formatIn(si, unitsHere.get(kind), DIGITS));
}

/** Words without facts. */
export function said(key) {
  if (!textsHere.has(key)) textsHere.set(key, words(key));
  return textsHere.get(key);
}
