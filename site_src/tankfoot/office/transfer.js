/** The export file: made from entries, and read as something nobody vouches for. Twin of transfer.py. */

import { canonical, DEEPEST, digest, digestOfText, NotCanonical } from "../record/canonical.js";
import { exportFile as fileShape, FORMAT, SCHEMA_VERSION } from "../record/declared.js";
import { LARGEST } from "./declared.js";
import { migrated } from "../record/migrate.js";
import { checkShape } from "../record/validate.js";
import { entryProblems as problemsOf } from "./entry_check.js";

/** @typedef {import("../record/validate.js").Problem} Problem */

const AT_ONCE = 200; // entries that are checked between two words of how far it is
const BRACKETS = /\\.|["[\]{}]/gs; // and escapes, of which a quote does not end a text

class Refused extends Error {
  constructor(problems) {
    super(problems[0].code);
    this.problems = problems;
  }
}

/** The text of an export file; one entry a line, in the order they were created. */
export async function exportFile(entries, appVersion, made = new Date().toISOString()) {
  return fileOf(entries.map(lineOf), appVersion, made);
}

/**
 * An entry as a file has it, its text made once: of a record of years no more than that is held.
 *
 * @returns {{text: string, created: string, id: string}}
 */
export function lineOf(entry) {
  const json = asJson(entry);
  return { text: canonical(json, DEEPEST - 1), created: json.created, id: json.id };
}

/** The text of an export file of such lines. @param {{text: string, created: string, id: string}[]} lines */
export async function fileOf(lines, appVersion, made = new Date().toISOString()) {
  const texts = [...lines].sort((a, b) => compare([a.created, a.id].join(), [b.created, b.id].join())).map(({ text }) => text);
  const head = {
    format: FORMAT, schema_version: SCHEMA_VERSION, app_version: appVersion, made,
    count: texts.length, sha256: await digestOfText(`[${texts.join(",")}]`),
  };
  const members = Object.entries(head).map(([key, value]) => `${canonical(key)}:${canonical(value)},\n`);
  return `{${members.join("")}"entries":[\n${texts.join(",\n")}\n]}\n`;
}

/** As readFile. @param {ArrayBuffer} content whatever a file held */
export async function readBytes(content, tell = undefined) {
  let text;
  try {
    text = new TextDecoder("utf-8", { fatal: true }).decode(content);
  } catch (wrong) {
    if (!(wrong instanceof TypeError)) throw wrong;
    return { entries: [], problems: [problem("not-utf8", "", {})], made: null };
  }
  return readFile(text, tell);
}

/**
 * @param {string} text whatever a file held
 * @param {(done: number, count: number) => Promise<void>|void} tell how far it is, now and then
 * @returns {Promise<{entries: object[], problems: Problem[], made: string|null}>} the entries that are right, the
 *   problems of all others, and when the file was made
 */
export async function readFile(text, tell = () => {}) {
  try {
    const { made, entries } = await entriesOf(text);
    return { ...await sorted(entries, tell), made };
  } catch (refused) {
    if (!(refused instanceof Refused)) throw refused;
    return { entries: [], problems: refused.problems, made: null };
  }
}

/** The problem of a file by its size alone, before it is read; null where there is none. @returns {Problem|null} */
export function checkSize(bytes) {
  return bytes > LARGEST ? problem("too-large", "", { most: LARGEST / 1e6 }) : null;
}

/** What the store holds may be more than JSON can say: NaN becomes null, what is undefined goes. */
function asJson(entry) {
  return JSON.parse(JSON.stringify(entry));
}

async function sorted(all, tell) {
  const twice = idsTwice(all);
  /** @type {{entries: object[], problems: Problem[]}} */
  const read = { entries: [], problems: [] };
  for (const [place, entry] of all.entries()) {
    if (place % AT_ONCE === 0) await tell(place, all.length);
    const found = entryProblems(entry, `entries[${place}]`, twice);
    read.problems.push(...found);
    if (!found.length) read.entries.push(entry);
  }
  return read;
}

async function entriesOf(text) {
  const data = parsed(text);
  if (data === null || typeof data !== "object" || data.format !== FORMAT) refuse("not-ours", "", { format: FORMAT });
  if (typeof data.schema_version === "number" && data.schema_version > SCHEMA_VERSION) {
    refuse("newer", "", { ours: SCHEMA_VERSION });
  }
  const problems = checkShape(fileShape, data);
  if (problems.length) throw new Refused(problems);
  const found = await digestOf(data.entries);
  if (data.count !== data.entries.length) refuse("count", "count", { found: data.entries.length });
  if (data.sha256 !== found) refuse("sha256", "sha256", { found });
  return { made: data.made, entries: data.entries.map((entry) => migrated(entry, data.schema_version)) };
}

function parsed(text) {
  let data;
  try {
    data = JSON.parse(text);
  } catch {
    // How deep a reader goes before it gives up is its own affair: the text tells, and the verdict is everyone's.
    if (levels(text) > DEEPEST + 1) refuse("too-deep", "", { deepest: DEEPEST });
    refuse("not-json", "", {});
  }
  if (!fits(data, DEEPEST + 1)) refuse("too-deep", "", { deepest: DEEPEST }); // the file itself holds the entries, which have so many
  return data;
}

/** How deep the brackets of a text that may be no JSON lie in one another. */
function levels(text) {
  let [depth, most, isWithin] = [0, 0, false];
  for (const [found] of text.matchAll(BRACKETS)) {
    if (found === '"') isWithin = !isWithin;
    else if (!isWithin && "[]{}".includes(found)) {
      depth += "[{".includes(found) ? 1 : -1;
      most = Math.max(most, depth);
    }
  }
  return most;
}

function fits(value, room) {
  if (value === null || typeof value !== "object") return true;
  return room > 0 && Object.values(value).every((inner) => fits(inner, room - 1));
}

async function digestOf(entries) {
  try {
    return await digest(entries);
  } catch (wrong) {
    if (!(wrong instanceof NotCanonical)) throw wrong;
    return refuse(wrong.code, "", { deepest: DEEPEST });
  }
}

function refuse(code, where, facts) {
  throw new Refused([problem(code, where, facts)]);
}

function problem(code, where, facts) {
  return { where, code, facts: Object.fromEntries(Object.entries(facts).map(([name, fact]) => [name, String(fact)])), id: null };
}

function idsTwice(entries) {
  const [seen, twice] = [new Set(), new Set()];
  for (const id of entries.map(idOf).filter(Boolean)) (seen.has(id) ? twice : seen).add(id);
  return twice;
}

function idOf(entry) {
  return typeof entry?.id === "string" ? entry.id : null;
}

function entryProblems(entry, where, twice) {
  const [found, id] = [problemsOf(entry, where), idOf(entry)];
  if (twice.has(id)) found.push(problem("twice", `${where}.id`, {}));
  return found.map((one) => ({ ...one, id }));
}

function compare(a, b) {
  return a < b ? -1 : Number(a > b);
}
