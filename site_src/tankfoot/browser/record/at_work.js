/** Long work on files, in a thread of its own: the page says how far it is and has a way to stop it. */

import { words } from "../../wording/words.js";
import { EVERY, shown } from "../parts/progress.js";
import { RecordTrouble } from "../storage/database.js";
import { newThread } from "../storage/thread.js";

const THREAD = "browser/record/thread";

/** The hand has stopped the work. */
export class Stopped extends Error {}

/**
 * @typedef {object} AtWork
 * @property {(what: string, given?: object) => Promise<any>} ask what file_work.js answers; throws Stopped
 * @property {(done: number, count: number) => void} tell how far it is
 *
 * @param {HTMLElement} page
 * @returns {(key: string, work: (atWork: AtWork) => Promise<any>) => Promise<any>} does work while all other work on
 *   files waits, and resolves as it does; `key` is of the sentence with {done} and {count}
 */
export function newWork(page) {
  const place = page.querySelector("[data-at-work]");
  const [bar, says, stop] = ["progress", "[data-at-work-says]", "[data-stop]"].map((part) => place.querySelector(part));
  const starters = page.querySelectorAll("[data-export], [data-csv], [data-import], [data-write], [data-leave]");
  let thread = null;

  return async (key, work) => {
    let number = 0; // of what was asked last
    let isStopped = false;
    let giveUp = null;

    const tell = (done, count) => {
      Object.assign(bar, { max: Math.max(1, count), value: done });
      says.textContent = words(key, { done, count });
    };

    const ask = (what, given = {}) => new Promise((resolve, reject) => {
      if (isStopped) throw new Stopped();
      giveUp = reject;
      if (!globalThis.Worker) {
        askHere(what, given, tell, () => isStopped).then(resolve, reject);
        return;
      }
      const asked = number += 1;
      thread ??= newThread(THREAD);
      thread.onmessage = ({ data }) => {
        if (data.number !== asked) return;
        if (data.told) tell(data.told.done, data.told.count);
        else if (data.trouble) reject(new RecordTrouble(data.trouble));
        else resolve(data.answer);
      };
      thread.onerror = (event) => {
        thread = null;
        reject(new Error(event.message));
      };
      thread.postMessage({ number, what, given });
    });

    stop.onclick = () => {
      isStopped = true;
      thread?.terminate();
      thread = null;
      giveUp?.(new Stopped());
    };
    for (const each of starters) each.disabled = true; // a second tap meanwhile is none
    const soon = setTimeout(() => {
      place.hidden = false;
      place.scrollIntoView({ block: "nearest" });
    }, EVERY);
    try {
      return await work({ ask, tell });
    } finally {
      clearTimeout(soon);
      place.hidden = true;
      bar.removeAttribute("value");
      says.textContent = "";
      for (const each of starters) each.disabled = false;
    }
  };
}

/** A browser without threads does it in the page, and stops between two slices. */
async function askHere(what, given, tell, isStopped) {
  const { work } = await import("./file_work.js");
  return work[what](given, async (done, count) => {
    tell(done, count);
    await shown();
    if (isStopped()) throw new Stopped();
  });
}
