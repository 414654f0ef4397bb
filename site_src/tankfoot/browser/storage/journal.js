/** The second copy of the record: what was written there is added here, in a thread of its own. */

import { newThread } from "./thread.js";

const THREAD = "browser/storage/journal_worker";
const WITHIN = 1000; // ms; a tap does not wait longer for its second copy
const FOR_EACH = 5; // ms more for each entry

const waiting = new Map(); // by number, what an answer is for
let worker = null;
let isLacking = false; // no second copy can be kept
let asked = 0;

/** Starts the thread, so that the first tap does not wait for it. */
export function startJournal() {
  if (worker || isLacking) return;
  if (!globalThis.Worker) {
    isLacking = true;
    return;
  }
  worker = newThread(THREAD);
  worker.onmessage = ({ data: { number, answer } }) => waiting.get(number)?.(answer);
  worker.onerror = (event) => {
    console.info("no journal:", event.message);
    isLacking = true;
    for (const answer of waiting.values()) answer(null);
  };
}

/**
 * Adds what was written into the record, or taken out of it.
 *
 * @returns {Promise<boolean|undefined>} whether it is there; undefined where that was not known in time
 */
export async function addToJournal({ put = [], gone = [] }) {
  const answer = await ask("append", { put, gone }, WITHIN + FOR_EACH * put.length);
  return answer === undefined ? undefined : answer === true;
}

/** @returns {Promise<{missing: string[]}|null>} null where there is no second copy */
export function compareJournal(isWhole) {
  return ask("compare", { isWhole });
}

/** Entries of the journal, as those of today's schema, in slices. @returns {AsyncGenerator<object[]>} */
export async function* fromJournalInSlices(ids) {
  for (let some = await ask("giveBack", { ids }); some?.length; some = await ask("giveBack", {})) yield some;
}

/** The same at once, of a few. @returns {Promise<object[]>} */
export async function fromJournal(ids) {
  const all = [];
  for await (const some of fromJournalInSlices(ids)) all.push(...some);
  return all;
}

/** Makes one file of many, where it is time for that. */
export function tidyJournal() {
  return ask("tidy", {});
}

function ask(what, given, within = null) {
  startJournal();
  if (isLacking) return Promise.resolve(null);
  asked += 1;
  const number = asked;
  return new Promise((resolve) => {
    const late = within && setTimeout(() => resolve(undefined), within);
    waiting.set(number, (answer) => {
      waiting.delete(number);
      clearTimeout(late);
      resolve(answer);
    });
    worker.postMessage({ number, what, given });
  });
}
