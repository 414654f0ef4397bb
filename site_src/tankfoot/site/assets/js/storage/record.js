/**
 * The record: entries in IndexedDB, one store. A write is over when its transaction is complete and on the disk.
 *
 * @typedef {object} Entry
 * @property {string} id a UUID
 * @property {string} kind "list-run", "tank", "purge" and so on
 * @property {string} created the instant it was made, ISO 8601 in UTC
 * @property {string} edited the instant of its last change
 * @property {boolean} deleted a tombstone, kept so that a merge does not bring the entry back
 * @property {boolean} demo from the invented brewery
 * @property {object} body what the kind says
 * @property {{edited: string, body: object}[]} history the bodies that corrections replaced, oldest first
 */

const NAME = "tankfoot";
const VERSION = 2;
const OPEN_WITHIN = 8000; // ms; some phones never answer the first time they are asked

let opening = null;

/** Why the record cannot be used now, in words for the person. */
export class RecordTrouble extends Error {}

/** Writes entries in one transaction; resolves once they are on the disk. */
export async function put(...entries) {
  await withStore("readwrite", (store) => { for (const entry of entries) store.put(entry); });
}

/** @returns {Promise<Entry|undefined>} */
export function get(id) {
  return withStore("readonly", (store) => store.get(id));
}

/** @returns {Promise<Entry[]>} all entries of one kind */
export function ofKind(kind) {
  return withStore("readonly", (store) => store.index("kind").getAll(kind));
}

/** @returns {Promise<Entry[]>} all entries whose body names this tank */
export function ofTank(id) {
  return withStore("readonly", (store) => store.index("tank").getAll(id));
}

/**
 * The ids of a kind's entries, tombstones too, the latest made first: quick however much their bodies hold.
 *
 * @param {string|null} tank of this tank alone
 * @returns {Promise<string[]>}
 */
export async function idsByDay(kind, tank = null) {
  const [index, start] = tank ? ["of-tank-by-day", [kind, tank]] : ["by-day", [kind]];
  const all = IDBKeyRange.bound([...start], [...start, []]); // an array sorts after every text
  return (await withStore("readonly", (store) => store.index(index).getAllKeys(all))).reverse();
}

/** @returns {Promise<Entry[]>} the entries of these ids, in their order */
export async function getEach(ids) {
  let requests = [];
  await withStore("readonly", (store) => { requests = ids.map((id) => store.get(id)); });
  return requests.map(({ result }) => result);
}

/** @returns {Promise<Entry[]>} entries that were begun and not finished: those whose body has `open: 1` */
export function unfinished() {
  return withStore("readonly", (store) => store.index("open").getAll(1));
}

/** @returns {Promise<Entry[]>} everything, tombstones too */
export function everything() {
  return withStore("readonly", (store) => store.getAll());
}

/** Takes entries out for good, leaving no tombstone, in one transaction: for what was never a real record. */
export async function discard(...ids) {
  await withStore("readwrite", (store) => { for (const id of ids) store.delete(id); });
}

/** A new entry of a kind, not yet written. */
export function newEntry(kind, body) {
  const now = new Date().toISOString();
  return { id: crypto.randomUUID(), kind, created: now, edited: now, deleted: false, demo: false, body, history: [] };
}

/** The same entry with another body, edited now, not yet written. */
export function edited(entry, body) {
  return { ...entry, edited: new Date().toISOString(), body };
}

/** A correction: like `edited`, and the body that it replaces is kept with the instant it was last right. */
export function corrected(entry, body) {
  const history = [...entry.history, { edited: entry.edited, body: entry.body }];
  return { ...edited(entry, body), history };
}

/** Does `work` in one transaction; a connection that the phone has dropped is opened again, once. */
async function withStore(mode, work) {
  try {
    return await attempt(mode, work);
  } catch (error) {
    if (!isLostConnection(error)) throw inWords(error);
    opening = null;
    return attempt(mode, work).catch((again) => { throw inWords(again); });
  }
}

async function attempt(mode, work) {
  const database = await open();
  return new Promise((resolve, reject) => {
    const transaction = database.transaction("entries", mode, { durability: "strict" });
    const request = work(transaction.objectStore("entries"));
    transaction.oncomplete = () => resolve(request?.result);
    transaction.onabort = () => reject(transaction.error);
  });
}

function open() {
  opening ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, VERSION);
    const late = setTimeout(() => reject(new DOMException("no answer", "TimeoutError")), OPEN_WITHIN);
    request.onupgradeneeded = ({ oldVersion }) => upgrade(request, oldVersion);
    request.onblocked = () => reject(new DOMException("another page holds the old version", "BlockedError"));
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      clearTimeout(late);
      letGo(request.result);
      resolve(request.result);
    };
  });
  opening.catch(() => { opening = null; });
  return opening;
}

/** Steps from each version to the next; none is ever changed once it was out. */
function upgrade({ result: database, transaction }, from) {
  if (from < 1) {
    const entries = database.createObjectStore("entries", { keyPath: "id" });
    entries.createIndex("kind", "kind");
    entries.createIndex("tank", "body.tank");
    entries.createIndex("open", "body.open");
  }
  if (from < 2) {
    const entries = transaction.objectStore("entries");
    entries.createIndex("by-day", ["kind", "created"]);
    entries.createIndex("of-tank-by-day", ["kind", "body.tank", "created"]);
  }
}

/** Makes way for a newer version of the app in another tab, and forgets a connection that was closed. */
function letGo(database) {
  database.onversionchange = () => { database.close(); opening = null; };
  database.onclose = () => { opening = null; };
}

function isLostConnection(error) {
  return error instanceof DOMException && ["InvalidStateError", "UnknownError", "AbortError"].includes(error.name);
}

const WORDS = {
  QuotaExceededError: "The phone's storage is full: nothing was saved. Free some space and tap again.",
  VersionError: "The record on this phone is from a newer Tankfoot: nothing was written. Reload the app.",
  BlockedError: "Another Tankfoot page is open with an older version. Close it, then tap again.",
  TimeoutError: "The phone's storage does not answer: nothing was saved. Close the app and open it again.",
};

function inWords(error) {
  if (!(error instanceof DOMException)) return error;
  const words = WORDS[error.name] ?? "This browser refuses to store the record: nothing was saved.";
  return new RecordTrouble(words, { cause: error });
}
