/** The marks that a picture is made of. Twin of marks.py. */

export const WIDE = 328;

/**
 * @typedef {[string, Record<string, string>, string]} Mark
 * @typedef {{kind: string, wide: number, tall: number, title: string, says: string, marks: Mark[]}} Picture
 */

/** A text, cut to `most` characters, the last of which then says that it goes on. @param {string} said */
export function fitted(said, most) {
  const letters = [...said];
  return letters.length <= most ? said : `${letters.slice(0, Math.max(0, most - 1)).join("").replace(/ +$/, "")}…`;
}

/** A place in a drawing as text, to a tenth, half of it up. @param {number} value */
export function px(value) {
  return String(Math.floor(value * 10.0 + 0.5) / 10.0);
}

/** @returns {Picture} */
export function picture(kind, tall, { title, says }, marks) {
  return { kind, wide: WIDE, tall, title, says, marks };
}

/** @returns {Mark} */
export function path(kind, d) {
  return ["path", { class: kind, d }, ""];
}

/** @param {number} most letters for which there is surely `room` @returns {Mark} */
export function text(kind, x, y, said, most = Infinity, room = 0) {
  return ["text", { class: kind, x: px(x), y: px(y), ...narrowed(said, most, room) }, said];
}

/** The attributes by which a text of more than `most` letters is drawn as narrow as its `room`. @returns {Record<string, string>} */
export function narrowed(said, most, room) {
  return [...said].length > most ? { textLength: px(room), lengthAdjust: "spacingAndGlyphs" } : {};
}

/** @returns {Mark} */
export function circle(kind, x, y, radius) {
  return ["circle", { class: kind, cx: px(x), cy: px(y), r: px(radius) }, ""];
}

/** The path around a box. */
export function box(left, top, right, bottom) {
  return `M${px(left)} ${px(top)}H${px(right)}V${px(bottom)}H${px(left)}Z`;
}
