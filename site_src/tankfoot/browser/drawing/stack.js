/** A tank's own stack, drawn another way each time: its clamps are buttons, named by what they lie between. */

import { LENGTHS, OTHERWISE, outer, problem, tankSide, view } from "../../purge/stack.js";
import { narrowed } from "../../report/marks.js";
import { listed, words } from "../../wording/words.js";
import { drawn } from "./section.js";

const WIDTHS = { tank: 150, clamp: 72, butterfly: 60, diaphragm: 56, "sight-glass": 48, cap: 60 }; // px across
const PIPE = 28; // what is not named above
const TARGET = 56; // px of a clamp to touch
const PLAIN = 320; // px across a plain drawing
const [MIDDLE, BESIDE] = [72, 160]; // px from its left: the parts, what they are called
const LETTERS = 16; // for which there is surely room beside

/**
 * @param {HTMLElement} place @param {string[]} parts from the tank down @param {string} seed of the view
 * @returns {HTMLButtonElement[]} the clamps as buttons; each has data-event: outer, tank-side or other
 */
export function drawStack(place, parts, seed) {
  const seen = view(parts, seed);
  const isUpright = seen.turn === "down";
  const [wide, high] = isUpright ? [320, seen.length] : [seen.length, 320];
  const svg = drawn("svg", { viewBox: `0 0 ${wide} ${high}`, "aria-hidden": "true" });
  svg.append(...seen.parts.flatMap((part) => shapeOf(part, isUpright)));
  const clamps = [...seen.parts.keys()].filter((each) => seen.parts[each].part === "clamp");
  const buttons = clamps.map((each) => clampAt(parts, seen.parts, each, wide, high));
  place.style.aspectRatio = `${wide} / ${high}`;
  place.replaceChildren(svg, ...buttons);
  return buttons;
}

/** The same straight down with a name beside each part, nothing to touch. @param {SVGElement} svg */
export function drawPlain(svg, parts) {
  let at = 0;
  const shapes = ["tank", ...parts].flatMap((part, place) => {
    const along = LENGTHS[part] ?? OTHERWISE;
    const y = at + along / 2;
    at += along;
    const said = nameOf(parts, part, place - 1);
    const name = drawn("text", { x: BESIDE, y: y + 6, ...narrowed(said, LETTERS, PLAIN - BESIDE - 4) }, said);
    return [...shapeOf({ part, x: MIDDLE, y, along }, true), name];
  });
  svg.setAttribute("viewBox", `0 0 ${PLAIN} ${at + 6}`);
  svg.setAttribute("aria-label", words("drawing.stack", { parts: listed(parts.map((part, place) => nameOf(parts, part, place))) }));
  svg.replaceChildren(...shapes);
}

/** Clamps are told apart once it is known which is which. */
function nameOf(parts, part, place) {
  const isTold = part === "clamp" && problem(parts) === null;
  return words(isTold ? `drawing.clamps.${eventOf(parts, place)}` : `purge.parts.${part}`);
}

function shapeOf({ part, x, y, along }, isUpright) {
  const across = WIDTHS[part] ?? PIPE;
  const [width, height] = isUpright ? [across, along] : [along, across];
  const box = { x: x - width / 2, y: y - height / 2, width, height, rx: part === "tank" ? 2 : 6, class: `part ${part}` };
  return [drawn("rect", box), ...markOf(part, x, y, isUpright)];
}

/** What tells one part from another beside its size: the handle, the weir, the glass, the end. */
function markOf(part, x, y, isUpright) {
  const line = (dx, dy, ex, ey, kind) => {
    const [a, b, c, d] = isUpright ? [dx, dy, ex, ey] : [dy, dx, ey, ex];
    return drawn("path", { d: `M${x + a} ${y + b}L${x + c} ${y + d}`, class: kind });
  };
  const marks = {
    butterfly: [line(-26, 0, 26, 0, "disc"), line(30, 0, 74, 0, "handle")],
    diaphragm: [line(-24, -10, 0, 8, "weir"), line(0, 8, 24, -10, "weir"), line(-40, -14, -40, 14, "handle"), line(-28, 0, -40, 0, "weir")],
    "sight-glass": [line(-12, -16, -12, 16, "weir"), line(12, -16, 12, 16, "weir")],
    clamp: [line(36, 0, 46, 0, "weir")],
    hose: [line(-14, 20, 14, 20, "weir")],
  };
  return marks[part] ?? [];
}

function clampAt(parts, placed, place, wide, high) {
  const { x, y } = placed[place];
  const [above, below] = [placed[place - 1], placed[place + 1]].map(({ part }) => words(`purge.parts.${part}`));
  const button = Object.assign(document.createElement("button"), { type: "button", className: "clamp" });
  button.setAttribute("aria-label", words("purge.stack.clamp", { above, below }));
  button.dataset.event = eventOf(parts, place - 1);
  Object.assign(button.style, {
    left: `calc(${(100 * x) / wide}% - ${TARGET / 2}px)`, top: `calc(${(100 * y) / high}% - ${TARGET / 2}px)`,
  });
  return button;
}

function eventOf(parts, place) {
  if (tankSide(parts).includes(place)) return "tank-side";
  return place === outer(parts) ? "outer" : "other";
}
