/** A picture of the report in the page: its marks as they stand in report/pictures.js. */

import { drawn } from "./section.js";

let count = 0; // pictures on the page, so that no two share a name

/** @param {SVGElement} svg @param {import("../../report/pictures.js").Picture} picture */
export function drawPicture(svg, { kind, wide, tall, title, says, marks }) {
  const name = `${kind}-${count += 1}`;
  svg.setAttribute("class", `marks ${kind}`);
  svg.setAttribute("viewBox", `0 0 ${wide} ${tall}`);
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-labelledby", `${name}-title ${name}-says`);
  svg.replaceChildren(
    drawn("title", { id: `${name}-title` }, title),
    drawn("desc", { id: `${name}-says` }, says),
    ...marks.map(([tag, attributes, text]) => drawn(tag, attributes, text)),
  );
}
