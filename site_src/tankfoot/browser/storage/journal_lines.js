/**
 * A line of the journal: the SHA-256 of what it says, a space, and that as JSON. A line that was cut short or spoilt is
 * none.
 *
 * @typedef {object} Said
 * @property {number} at when it was written, ms
 * @property {string} id of the entry
 * @property {object} [entry] as it was put into the record; without it the entry was taken out for good
 * @property {number} [version] of the schema that the entry is of
 */

const DIGITS = 16; // in hex: no chance spoils a line and leaves these right

/** @param {Said} said @returns {Promise<string>} without its end */
export async function lineOf(said) {
  const text = JSON.stringify(said);
  return `${await checksum(text)} ${text}`;
}

/** @returns {Promise<Said|null>} null for no line */
export async function saidIn(line) {
  const text = line.slice(DIGITS + 1);
  return line[DIGITS] === " " && line.slice(0, DIGITS) === await checksum(text) ? JSON.parse(text) : null;
}

/** Whether of two lines of one entry the second counts: the later edit; where one took it out, what was written later. */
export function counts(before, said) {
  if (before.entry && said.entry) return said.entry.edited >= before.entry.edited;
  return said.at >= before.at;
}

async function checksum(text) {
  const bytes = new Uint8Array(await crypto.subtle.digest("SHA-256", new TextEncoder().encode(text)));
  return Array.from(bytes.subarray(0, DIGITS / 2), (byte) => byte.toString(16).padStart(2, "0")).join("");
}
