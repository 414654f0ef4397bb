/** The database behind the record: opened once, asked again where the phone dropped it, its troubles told by a code. */

import { migrated } from "../../record/migrate.js";
import { rowsAnew } from "./marks.js";

const NAME = "tankfoot";
const VERSION = 6;
const OPEN_WITHIN = 8000; // ms; some phones never answer the first time they are asked

let opening = null;

/** Why the record cannot be used now: `code` has its words in screens.toml, [storage]; `found` is the entry in its way. */
export class RecordTrouble extends Error {
  constructor(code, { found = null, ...options } = {}) {
    super(code, options);
    this.code = code;
    this.found = found;
  }
}

/** Does `work` on a store in one transaction, of several at once where `name` lists them; a dropped connection is opened again. */
export async function withStore(mode, work, name = "entries") {
  try {
    return await attempt(mode, work, name);
  } catch (error) {
    if (!isLostConnection(error)) throw asTrouble(error, mode);
    opening = null;
    return attempt(mode, work, name).catch((again) => { throw asTrouble(again, mode); });
  }
}

async function attempt(mode, work, name) {
  const database = await open();
  if (mode === "readwrite" && database.version > VERSION) throw new DOMException("of a newer app", "VersionError");
  return new Promise((resolve, reject) => {
    const transaction = database.transaction(name, mode, { durability: "strict" });
    const refuse = (why) => {
      reject(why);
      transaction.abort();
    };
    const asked = work(transaction.objectStore([name].flat()[0]), refuse);
    if (asked instanceof Promise) asked.then(resolve, reject);
    else transaction.oncomplete = () => resolve(asked?.result);
    transaction.onabort = () => reject(transaction.error);
  });
}

/** A database that a newer version of the app has made is opened as it is, to be read. */
function open() {
  opening ??= opened(VERSION).catch((error) => {
    if (error.name === "VersionError") return opened();
    throw error;
  });
  opening.catch(() => { opening = null; });
  return opening;
}

function opened(version) {
  return new Promise((resolve, reject) => {
    if (!globalThis.indexedDB) throw new DOMException("no storage", "SecurityError");
    const request = indexedDB.open(NAME, version);
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
  if (from > 0 && from < 3) migrateEach(transaction.objectStore("entries"), 1);
  if (from < 4) database.createObjectStore("memory");
  if (from < 5) {
    const entries = transaction.objectStore("entries");
    entries.createIndex("of-tank-at", ["kind", "body.tank", "body.at"]);
    entries.createIndex("of-batch-at", ["kind", "body.batch", "body.at"]);
  }
  if (from < 6) {
    const marks = database.createObjectStore("marks", { keyPath: "id" });
    for (const name of ["open", "holds", "tankless"]) marks.createIndex(name, name);
    rowsAnew(transaction.objectStore("entries")).catch(() => transaction.abort());
  }
}

/** Brings every entry from a schema version to the one of today, within the upgrade: all of it or nothing. */
function migrateEach(store, version) {
  store.openCursor().onsuccess = ({ target: { result: cursor } }) => {
    if (!cursor) return;
    cursor.update(migrated(cursor.value, version));
    cursor.continue();
  };
}

/** Makes way for a newer version of the app in another tab, and forgets a connection that was closed. */
function letGo(database) {
  database.onversionchange = () => { database.close(); opening = null; };
  database.onclose = () => { opening = null; };
}

function isLostConnection(error) {
  return error instanceof DOMException && ["InvalidStateError", "UnknownError", "AbortError"].includes(error.name);
}

const CODES = ["QuotaExceededError", "VersionError", "BlockedError", "TimeoutError", "SecurityError"];

function asTrouble(error, mode) {
  if (!(error instanceof DOMException)) return error;
  return new RecordTrouble(CODES.includes(error.name) ? error.name : mode, { cause: error });
}
