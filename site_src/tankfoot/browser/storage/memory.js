/**
 * What this phone remembers beside the record: in the database, so that it is on the disk once that is said. Each thing
 * has a copy in localStorage, which a page reads without waiting and a browser may write some seconds late; at each
 * start the later of the two replaces the other, and the page is told where that was the copy.
 */

import { RecordTrouble, withStore } from "./database.js";

/** One thing that is remembered, an object; `writes` in it counts its changes. @param {string} key its name, of the copy too */
export function openMemory(key) {
  setTimeout(settle); // the page first shows what the copy says

  /** The copy, at once; {} where there is none or none that can be read. */
  function glance() {
    try {
      return asObject(JSON.parse(globalThis.localStorage?.getItem(key) ?? "{}"));
    } catch (error) {
      if (error instanceof DOMException || error instanceof SyntaxError) return {};
      throw error;
    }
  }

  /** Changes members, in the copy at once. @returns {Promise<boolean>} true once they are on the disk */
  async function save(changes) {
    const before = glance();
    copy(next(before, changes));
    return await ask("readwrite", (store) => {
      const found = store.get(key);
      found.onsuccess = () => store.put(next(later(asObject(found.result), before), changes), key);
      return found;
    }) !== null;
  }

  async function settle() {
    const found = await ask("readonly", (store) => store.get(key));
    if (found === null) return;
    const [stored, copied] = [asObject(found.value), glance()];
    if (stored.writes > (copied.writes ?? 0)) {
      if (copy(stored)) dispatchEvent(new Event("tankfoot-remembered"));
    } else if (JSON.stringify(stored) !== JSON.stringify(copied)) await save({});
  }

  /** False where the browser refuses. */
  function copy(whole) {
    try {
      if (!globalThis.localStorage) return false; // a web view that keeps nothing has null there, a thread has none
      localStorage.setItem(key, JSON.stringify(whole));
      return true;
    } catch (error) {
      if (error instanceof DOMException) return false;
      throw error;
    }
  }

  return { glance, save };
}

function next(before, changes) {
  return { ...before, ...changes, writes: (before.writes ?? 0) + 1 };
}

function later(stored, copied) {
  return stored.writes >= (copied.writes ?? 0) ? stored : copied;
}

function asObject(found) {
  return found && typeof found === "object" && !Array.isArray(found) ? found : {};
}

/** What the database answers, as `value`; null where it cannot be used now. */
async function ask(mode, work) {
  try {
    return { value: await withStore(mode, work, "memory") };
  } catch (error) {
    if (!(error instanceof RecordTrouble)) throw error;
    console.info("not remembered:", error.code);
    return null;
  }
}
