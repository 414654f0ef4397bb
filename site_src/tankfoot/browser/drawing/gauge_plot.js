/** A gauge in time as SVG: as read with its ±, as if at one temperature, top-ups, purges. */

import { roundNumbers } from "../../quantities/axis.js";
import { formatPlain } from "../../quantities/format.js";
import { local } from "../../quantities/locale.js";
import { drawn } from "./section.js";

const [LEFT, RIGHT, TOP, BOTTOM] = [52, 314, 34, 196];
const HEAD = 5; // px of an arrow

/**
 * @typedef {{at: number, read: number|null, spread: number, corrected: number|null, corrected_spread: number,
 *   topped_up: number|null, leaves: number|null, joins: boolean}} Told of one reading, in the unit of the axis; `leaves`:
 *   corrected too, after its top-up; `joins`: nothing broke the series since the one before
 *
 * @param {SVGElement} svg @param {Told[]} told in time @param {number[]} purges instants, ms
 * @param {{title: string, up: string, day: (ms: number) => string}} words
 */
export function drawGaugePlot(svg, told, purges, { title, up, day }) {
  const ends = told.flatMap(({ read, spread, corrected, corrected_spread: doubt, topped_up: after, leaves }) => [
    ...(read === null ? [] : [read - spread, read + spread]),
    ...(corrected === null ? [] : [corrected - doubt, corrected + doubt]),
    ...[after, leaves].filter((value) => value !== null),
  ]);
  const instants = [...told.map(({ at }) => at), ...purges];
  const [from, to] = [Math.min(...instants), Math.max(...instants)];
  const x = (at) => round(LEFT + 12 + (to > from ? (at - from) / (to - from) : 0.5) * (RIGHT - LEFT - 24));
  const steps = roundNumbers(Math.min(...ends), Math.max(...ends));
  const y = (value) => round(BOTTOM - (value - steps[0]) / (steps.at(-1) - steps[0]) * (BOTTOM - TOP));
  svg.replaceChildren(
    drawn("title", {}, title),
    drawn("text", { class: "axis", x: 4, y: 16 }, up),
    ...steps.flatMap((value) => [
      drawn("path", { class: "grid", d: `M${LEFT} ${y(value)}H${RIGHT}` }),
      drawn("text", { class: "up", x: LEFT - 6, y: y(value) }, local(formatPlain(value, 3))),
    ]),
    drawn("text", { x: LEFT, y: 224 }, day(from)),
    ...(to > from ? [drawn("text", { class: "axis end", x: RIGHT, y: 224 }, day(to))] : []),
    ...purges.map((at) => drawn("path", { class: "purge", d: `M${x(at)} ${TOP}V${BOTTOM}` })),
    ...joined(told).map(([one, next]) => (
      drawn("path", { class: "corrected", d: `M${x(one.at)} ${y(one.leaves)}L${x(next.at)} ${y(next.corrected)}` })
    )),
    ...told.flatMap((point) => marks(point, x(point.at), y)),
  );
}

/** Neighbours with a line between them. */
function joined(told) {
  return told.slice(1).map((next, place) => [told[place], next])
    .filter(([one, next]) => next.joins && one.leaves !== null && next.corrected !== null);
}

function marks({ read, spread, corrected, topped_up: after }, x, y) {
  return [
    ...(read === null ? [] : [drawn("path", { class: "spread", d: `M${x} ${y(read - spread)}V${y(read + spread)}` })]),
    ...(corrected === null ? [] : [drawn("circle", { class: "corrected", cx: x, cy: y(corrected), r: 7 })]),
    ...(read === null ? [] : [drawn("circle", { class: "read", cx: x, cy: y(read), r: 4 })]),
    ...(after === null ? [] : [drawn("path", { class: "top-up", d: arrow(x, read === null ? BOTTOM : y(read), y(after)) })]),
  ];
}

function arrow(x, from, to) {
  return `M${x} ${from}V${to}M${x - HEAD} ${to + HEAD}L${x} ${to}L${x + HEAD} ${to + HEAD}`;
}

function round(px) {
  return Math.round(px * 10) / 10;
}
