/**
 * The journal's own thread. What is written is written in turn; what takes long (comparing, handing back, tidying up) is
 * done one thing after the other besides, and lets what is to be written go first.
 */

import { SCHEMA_VERSION } from "../../record/declared.js";
import { migrated } from "../../record/migrate.js";
import { withStore } from "./database.js";
import { openFolder } from "./journal_files.js";
import { counts, lineOf, saidIn } from "./journal_lines.js";
import { newQueue } from "./queue.js";

const AT_ONCE = 200; // entries of the record that are read at a time
const WHOLE = "whole-"; // the beginning of a tidy file's name; the others are the windows', by the time of their start
const MOST_FILES = 24; // of windows, before they are made one
const MOST_BYTES = 4e6; // of theirs together: each start reads them
const LARGE = 1e6; // bytes
const MOST_WHOLE = 8;
const LOCK = "tankfoot-journal-";

const opening = openFolder();
let folder = null;
let own = null; // the name of this window's file
let write = null;
let handing = null; // what is handed back, some at a time

const writing = newQueue(); // in turn, and before all that takes long: a tap waits for it
const looking = newQueue();
const WORK = { append: [writing, append], compare: [looking, compare], giveBack: [looking, giveBack], tidy: [looking, tidy] };
self.onmessage = ({ data: { number, what, given } }) => {
  const [inTurn, work] = WORK[what];
  inTurn(async () => {
    folder ??= await opening;
    self.postMessage({ number, answer: folder ? await answerOf(work, given) : null });
  });
};

/** One request that fails, on a full phone say, does not keep the next ones waiting; its trouble stands in the console. */
async function answerOf(work, given) {
  try {
    return await work(given);
  } catch (error) {
    console.error("the journal could not", work.name, error);
    return null;
  }
}

/** @param {{put: object[], gone: string[]}} given what was written into the record, and taken out of it */
async function append({ put, gone }) {
  await add(await linesOf(put, gone));
  return true;
}

function linesOf(put, gone = []) {
  const at = Date.now();
  return Promise.all([
    ...put.map((entry) => ({ at, id: entry.id, version: SCHEMA_VERSION, entry })), ...gone.map((id) => ({ at, id })),
  ].map(lineOf));
}

async function add(lines) {
  write ??= await newFile("");
  await write(`${lines.join("\n")}\n`);
}

/** A new file of this window, its lock held until the window is closed. */
async function newFile(beginning) {
  const name = `${beginning}${String(Date.now()).padStart(15, "0")}-${crypto.randomUUID().slice(0, 8)}`;
  if (!beginning) own = name;
  await new Promise((held) => {
    if (!navigator.locks) held();
    else navigator.locks.request(LOCK + name, () => { held(); return new Promise(() => {}); });
  });
  return folder.writer(name);
}

/** The lines of files that count, by the entry's id; of each only what a comparison needs. */
async function lookThrough(names) {
  const found = new Map();
  for (const name of names) {
    for await (const said of linesIn(name)) {
      const before = found.get(said.id);
      if (!before || counts(before, said)) found.set(said.id, { at: said.at, entry: said.entry && { edited: said.entry.edited } });
    }
  }
  return found;
}

async function* linesIn(name) {
  let rest = "";
  try {
    for await (const piece of folder.read(name)) {
      const lines = (rest + piece).split("\n");
      rest = lines.pop();
      for (const line of lines) {
        const said = await saidIn(line);
        if (said) yield said;
      }
    }
  } catch (error) {
    // Another window writes or removes the file at this moment: what it says is alive there.
    if (!(error instanceof DOMException)) throw error;
    console.info("not read now:", name, error.name);
  }
}

/**
 * What the journal has and the record has not, or has only older. All of it is compared where the record has become
 * smaller or it is long ago, else what the windows wrote lately.
 *
 * @param {{isWhole: boolean}} given
 * @returns {Promise<{missing: string[]}>}
 */
async function compare({ isWhole }) {
  const names = (await folder.names()).filter((name) => isWhole || !name.startsWith(WHOLE));
  const found = await lookThrough(names);
  const ids = [...found.keys()].filter((id) => found.get(id).entry);
  const missing = [];
  for (let start = 0; start < ids.length; start += AT_ONCE) {
    const some = ids.slice(start, start + AT_ONCE);
    const stored = await readEach(some);
    missing.push(...some.filter((id, place) => !stored[place] || stored[place].edited < found.get(id).entry.edited));
  }
  if (isWhole) await addWhatLacks((await withStore("readonly", (store) => store.getAllKeys())).filter((id) => !found.has(id)));
  return { missing };
}

/**
 * What was in the record before there was a journal; each slice in its turn, so that what is taken out stays out. It has
 * just been read from the record, and so goes into a tidy file: no start has to look at it.
 */
async function addWhatLacks(ids) {
  let put = null;
  for (let start = 0; start < ids.length; start += AT_ONCE) {
    await writing(async () => {
      const stored = (await readEach(ids.slice(start, start + AT_ONCE))).filter(Boolean);
      if (!stored.length) return;
      put ??= await newFile(WHOLE);
      await put(`${(await linesOf(stored)).join("\n")}\n`);
    });
  }
}

function readEach(ids) {
  return withStore("readonly", (store) => Promise.all(ids.map((id) => new Promise((resolve) => {
    const request = store.get(id);
    request.onsuccess = () => resolve(request.result);
    request.onerror = (event) => { event.preventDefault(); resolve(undefined); };
  }))));
}

/**
 * Entries as the journal has them, some at a time: the files are gone through twice, however many are asked for.
 *
 * @param {{ids?: string[]}} given which are asked for; without, the next of them
 * @returns {Promise<object[]>} none once all are handed back
 */
async function giveBack({ ids }) {
  if (ids) handing = thoseOf(new Set(ids));
  return (await handing.next()).value ?? [];
}

async function* thoseOf(wanted) {
  const names = await folder.names();
  const found = await lookThrough(names);
  let some = [];
  for (const name of names) {
    for await (const said of linesIn(name)) {
      if (!said.entry || !wanted.has(said.id) || !isSame(said, found.get(said.id))) continue;
      wanted.delete(said.id);
      some.push(migrated(said.entry, said.version));
      if (some.length < AT_ONCE) continue;
      yield some;
      some = [];
    }
  }
  yield some;
}

/** Whether it is this line that counts. */
function isSame(said, found) {
  return said.at === found?.at && said.entry?.edited === found.entry?.edited;
}

/**
 * Of the files that no window writes any more, one is made that has only the lines that count. A large one, as an import
 * leaves it, gets the name of a tidy one at once: to write it again would take longer than most pages are open.
 */
async function tidy() {
  if (!navigator.locks) return false;
  const names = await folder.names(); // before the locks: a file is locked before it is there
  const held = new Set((await navigator.locks.query()).held.map(({ name }) => name));
  const free = names.filter((name) => !held.has(LOCK + name) && name !== own);
  const whole = free.filter((name) => name.startsWith(WHOLE));
  const sizes = new Map(await Promise.all(free.filter((name) => !whole.includes(name)).map(sized)));
  const large = [...sizes.keys()].filter((name) => folder.rename && sizes.get(name) > LARGE);
  const lately = [...sizes.keys()].filter((name) => !large.includes(name));
  const bytes = lately.reduce((all, name) => all + sizes.get(name), 0);
  const isTime = lately.length > MOST_FILES || bytes > MOST_BYTES;
  if (!isTime && !large.length) return false;
  return navigator.locks.request(`${LOCK}tidy`, { ifAvailable: true }, async (lock) => {
    if (!lock) return false;
    for (const name of large) await folder.rename(name, WHOLE + name);
    if (isTime) await makeOne([...whole.length > MOST_WHOLE ? whole : [], ...lately]);
    return true;
  });
}

/** @returns {Promise<[string, number]>} */
async function sized(name) {
  return [name, await folder.size(name)];
}

/** The new file is whole before the old ones go: cut short in between, lines are there twice, which does no harm. */
async function makeOne(names) {
  const found = await lookThrough(names);
  const put = await newFile(WHOLE);
  for (const name of names) {
    for await (const said of linesIn(name)) {
      if (isSame(said, found.get(said.id))) await put(`${await lineOf(said)}\n`);
    }
  }
  for (const name of names) await folder.remove(name);
}
