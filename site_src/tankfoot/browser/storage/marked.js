/** What is read by its marks: as much as there is now, whatever was. */

import { RecordTrouble, withStore } from "./database.js";
import { MARKS, PURGES, rowsAnew, rowsIn } from "./marks.js";
import { valueOf } from "./requests.js";

/** How many rows an index of the marks has to have, by the indexes of the entries. */
const COUNTS = {
  open: (entries) => valueOf(entries.index("open").count(1)),
  holds: (entries) => valueOf(entries.index("kind").count("tank-hold")),
  tankless: async (entries) => {
    const [all, ofSome] = await Promise.all(["by-day", "of-tank-by-day"].map((name) => valueOf(entries.index(name).count(PURGES))));
    return all - ofSome;
  },
};

/** The ids of purges under way. @returns {Promise<string[]>} */
export function idsUnderWay() {
  return idsIn("open", IDBKeyRange.only(1));
}

/** The ids of holds that keep a tank out of use, of all tanks where none is named. @returns {Promise<string[]>} */
export function idsOfOpenHolds(tank = null) {
  return idsIn("holds", tank === null ? IDBKeyRange.lowerBound("", true) : IDBKeyRange.only(tank));
}

/** Where other hands than the app's have written entries, the rows are fewer or more than they should be. */
async function idsIn(name, range) {
  const { ids, isRight } = await withStore("readonly", (entries) => look(entries, name, range), ["entries", MARKS]);
  if (isRight) return ids;
  const rows = await markAnew();
  return rows.filter((row) => name in row && range.includes(row[name])).map(({ id }) => id);
}

async function look(entries, name, range) {
  const index = entries.transaction.objectStore(MARKS).index(name);
  const [ids, count, wanted] = await Promise.all([valueOf(index.getAllKeys(range)), valueOf(index.count()), COUNTS[name](entries)]);
  return { ids, isRight: count === wanted };
}

/** Whether the rows of purges without a tank fit the record; where not they are made anew. @returns {Promise<boolean>} */
export async function fitsTankless() {
  const isRight = await withStore("readonly", async (entries) => {
    const marks = entries.transaction.objectStore(MARKS);
    const [count, wanted] = await Promise.all([valueOf(marks.index("tankless").count()), COUNTS.tankless(entries)]);
    return count === wanted;
  }, ["entries", MARKS]);
  if (!isRight) await markAnew();
  return isRight;
}

/** The rows as the entries have them, kept unless the database is a newer app's. */
async function markAnew() {
  try {
    return await withStore("readwrite", rowsAnew, ["entries", MARKS]);
  } catch (error) {
    if (!(error instanceof RecordTrouble) || error.code !== "VersionError") throw error;
    return withStore("readonly", rowsIn);
  }
}
