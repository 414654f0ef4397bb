/**
 * What takes long with a large record: making files of it, reading files of others. It knows nothing of the page, asks
 * the record in slices, and tells how far it is.
 *
 * @typedef {(done: number, count: number) => Promise<void>|void} Tell
 */

import { newTable } from "../../office/csv_export.js";
import { PART } from "../../office/declared.js";
import { mergeEntries } from "../../office/merge.js";
import { checkSize, fileOf, lineOf, readBytes } from "../../office/transfer.js";
import { countOn, idsBackwards, wayOf } from "../storage/backwards.js";
import { getEach, ofKind } from "../storage/record.js";
import { countOfAll, everythingInSlices } from "../storage/whole.js";
import { damageOf, nameOfDamaged } from "./damaged.js";

const CLOCKS_APART = 5 * 60e3; // ms; the clocks of two phones are never quite the same
const AT_ONCE = 200; // entries that are read at a time
const HANDED_ON = 100; // at a time: the page writes them

/** What may be asked for, by its name: each takes what is given and `tell`. */
export const work = { exported, table, look, open, next };

let held = null; // the entries of the file that was read last, and how many of them were handed on

/**
 * Export files that together are the whole record: none is larger than any import reads. Of each entry its line alone is
 * held, until its file is made. All that can be read is in them: a damaged entry goes along as it is, and is named.
 *
 * @param {{version: string}} given @param {Tell} tell
 * @returns {Promise<{parts: Blob[], damaged: {id: string, name: string}[]}>}
 */
async function exported({ version }, tell) {
  const [parts, damaged, count, encoder] = [[], [], await countOfAll(), new TextEncoder()];
  let [lines, size, done] = [[], 0, 0];
  const close = async () => {
    parts.push(new Blob([await fileOf(lines, version)], { type: "application/json" }));
    [lines, size] = [[], 0];
  };
  for await (const some of everythingInSlices()) {
    await tell(done, count);
    for (const [id, entry] of some) {
      if (damageOf(entry) !== null) damaged.push({ id, name: nameOfDamaged(entry) });
      if (entry === undefined) continue;
      const line = lineOf(entry);
      const more = encoder.encode(line.text).length + 2; // a comma, and the end of the line
      if (lines.length && size + more > PART) await close();
      lines.push(line);
      size += more;
    }
    done += some.length;
  }
  if (lines.length || !parts.length) await close();
  return { parts, damaged };
}

/**
 * The table of purges.
 *
 * @param {{system: string, zone: string, currency: string}} given @param {Tell} tell @returns {Promise<Blob>}
 */
async function table({ system, zone, currency }, tell) {
  const [batches, events] = await Promise.all([ofKind("batch"), ofKind("batch-event")]);
  const [made, way] = [newTable({ batches, events }, system, zone, currency), wayOf("purge")];
  const count = await countOn(way);
  let done = 0;
  for await (const ids of idsBackwards(way, AT_ONCE)) {
    await tell(done, count);
    for (const purge of await getEach(ids)) if (purge && !purge.deleted) made.take(purge);
    done += ids.length;
  }
  return new Blob([made.text()], { type: "text/csv" });
}

/**
 * What an import of a file would do, with its first problems. Its entries are held where `isOnly`: of several files a
 * phone may have no room for all.
 *
 * @param {{file: File, isOnly: boolean, most: number}} given `most`: problems that are told
 * @param {Tell} tell
 * @returns {Promise<{counts: Record<string, number>, problems: any[], isAhead: boolean}|null>} null where it is gone
 */
async function look({ file, isOnly, most }, tell) {
  held = null;
  const contents = await contentsOf(file, (done, count) => tell(done >> 1, count));
  if (!contents) return null;
  const { entries, problems } = contents;
  const counts = { refused: problems.length };
  for (let start = 0; start < entries.length; start += AT_ONCE) {
    await tell((entries.length + start) >> 1, entries.length);
    const theirs = entries.slice(start, start + AT_ONCE);
    const mine = await getEach(theirs.map(({ id }) => id));
    for (const { action } of mergeEntries(mine.filter(Boolean), theirs).plan) counts[action] = (counts[action] ?? 0) + 1;
  }
  if (isOnly) held = { entries, given: 0 };
  return { counts, problems: problems.slice(0, most), isAhead: entries.some(isAhead) };
}

/** Gets a file ready to be handed on. @returns {Promise<number|null>} how many entries it has, null where it is gone */
async function open({ file }, tell) {
  if (!held || held.given > 0) {
    const contents = await contentsOf(file, tell);
    if (!contents) return null;
    held = { entries: contents.entries, given: 0 };
  }
  return held.entries.length;
}

/** The next entries of that file; none once all are handed on. @returns {Promise<object[]>} */
async function next() {
  const some = held.entries.slice(held.given, held.given + HANDED_ON);
  held.given += some.length;
  if (!some.length) held = null;
  return some;
}

/** What a file holds; nothing where it is gone, or has changed since it was chosen. */
async function contentsOf(file, tell) {
  const tooLarge = checkSize(file.size);
  if (tooLarge) return { entries: [], problems: [tooLarge] };
  let content;
  try {
    content = await file.arrayBuffer();
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
    return null;
  }
  return readBytes(content, tell);
}

/** An entry changed in the future by this phone's clock would win over every change made here until then. */
function isAhead({ edited }) {
  return Date.parse(edited) > Date.now() + CLOCKS_APART;
}
