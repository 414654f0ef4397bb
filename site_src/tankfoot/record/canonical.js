/** One text for one JSON value, the same in every language: RFC 8785. Twin of canonical.py. */

export const DEEPEST = 32;

/** A value that has no such text: `code` is "too-deep" or "not-finite". */
export class NotCanonical extends Error {
  constructor(code) {
    super(code);
    this.code = code;
  }
}

/** JSON.stringify writes texts and numbers as the standard wants; the order of the keys is ours. */
export function canonical(value, room = DEEPEST) {
  if (typeof value === "number" && !Number.isFinite(value)) throw new NotCanonical("not-finite");
  if (value === null || typeof value !== "object") return JSON.stringify(value);
  if (room === 0) throw new NotCanonical("too-deep");
  if (Array.isArray(value)) return `[${value.map((item) => canonical(item, room - 1)).join(",")}]`;
  const members = Object.keys(value).sort().map((key) => `${JSON.stringify(key)}:${canonical(value[key], room - 1)}`);
  return `{${members.join(",")}}`;
}

/** The SHA-256 of the canonical text in UTF-8, in hex. */
export async function digest(value) {
  return digestOfText(canonical(value));
}

/** The SHA-256 of a text in UTF-8, in hex. @param {string} text */
export async function digestOfText(text) {
  const bytes = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(text));
  return Array.from(new Uint8Array(bytes), (byte) => byte.toString(16).padStart(2, "0")).join("");
}
