/** A batch's life as one line, to scale in time, downwards: what happened and its purges as marks, now at its end. */

import { apart } from "../../report/pictures.js";
import { listed, words } from "../../wording/words.js";
import { drawn } from "./section.js";

const WIDE = 340;
const LINE = 18; // x
const LABEL = 48; // x
const ROW = 23; // least between two labels
const TOP = 16;
const LEAST = 240; // height of the line
const LONGEST = 30; // characters of a label that the width has room for

let count = 0; // drawings on the page, so that no two share a name

/**
 * @param {SVGElement} svg
 * @param {{what: "event"|"purge"|"end", at: string, day: string, says: string, moves: boolean}[]} marks in the order
 *   of time, the end last; `moves`: the batch is in another tank from there on
 * @param {string} beer
 */
export function drawBatchLine(svg, marks, beer) {
  const name = `batch-line-${count += 1}`;
  const tall = Math.max(LEAST, (marks.length - 1) * ROW);
  const [from, to] = [marks[0], marks.at(-1)].map(({ at }) => Date.parse(at));
  const y = ({ at }) => TOP + (tall * (Date.parse(at) - from)) / Math.max(1, to - from);
  const heights = apart(marks.map(y), ROW, TOP, TOP + tall);
  svg.setAttribute("viewBox", `0 0 ${WIDE} ${tall + 2 * TOP}`);
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-labelledby", `${name}-title ${name}-words`);
  svg.replaceChildren(
    drawn("title", { id: `${name}-title` }, words("drawing.batch.title", { beer })),
    drawn("desc", { id: `${name}-words` }, listed(marks.map(({ day, says }) => `${day}: ${says}`), "unit")),
    ...stretches(marks, y),
    ...marks.map((mark, place) => drawn("path", { class: "leader", d: `M${LINE + 9} ${y(mark)}L${LABEL - 4} ${heights[place]}` })),
    ...marks.map((mark) => markAt(mark.what, y(mark))),
    ...marks.map((mark, place) => label(mark, heights[place])),
  );
}

/** The line, tank by tank: full in the first, hollow in the next, and so on. */
function stretches(marks, y) {
  const turns = [marks[0], ...marks.filter(({ moves }) => moves), marks.at(-1)];
  return turns.slice(1).flatMap((turn, place) => {
    const d = `M${LINE} ${y(turns[place])}V${y(turn)}`;
    return [drawn("path", { class: "life", d }), ...(place % 2 ? [drawn("path", { class: "hollow", d })] : [])];
  });
}

function markAt(what, at) {
  if (what === "purge") return drawn("path", { class: "purge", d: `M${LINE} ${at - 8}l8 8l-8 8l-8 -8Z` });
  if (what === "end") return drawn("path", { class: "end", d: `M${LINE - 11} ${at}h22` });
  return drawn("circle", { class: "event", cx: LINE, cy: at, r: 6 });
}

function label({ what, day, says }, at) {
  const text = drawn("text", { x: LABEL, y: at + 5, class: what });
  const room = LONGEST - day.length;
  const short = [...says].length > room ? `${[...says].slice(0, room - 1).join("")}…` : says;
  text.append(drawn("tspan", { class: "day" }, day), ` ${short}`);
  return text;
}
