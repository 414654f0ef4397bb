/** The tank in section, drawn to scale from its own numbers. */

import { radiusAtLevel } from "../../physics/vessel.js";
import { narrowed } from "../../report/marks.js";
import { tankShape } from "../../tanks/shape.js";
import { listed, words } from "../../wording/words.js";
import { tankFigures } from "./tank_figures.js";
import { drawn, outline, region } from "./section.js";

/** Where the drawing has room: with labels beside it, or alone and small. */
const LABELLED = { width: 360, height: 330, middle: 104, wide: 180, top: 44, bottom: 296, label: 216 };
const SMALL = { width: 96, height: 128, middle: 48, wide: 84, top: 8, bottom: 112, label: null };
const LABEL_HEIGHT = 50;
const LABEL_LETTERS = 14; // for which there is surely room

let count = 0; // drawings on the page, so that no two share a pattern's name

/**
 * Draws a tank into `svg` in place of what was there.
 *
 * @param {SVGElement} svg
 * @param {object} tank a tank's body (SI)
 * @param {{small?: boolean}} [ways] small: without labels, for a list
 */
export function drawTank(svg, tank, { small = false } = {}) {
  const room = small ? SMALL : LABELLED;
  const vessel = vesselOf(tank);
  const view = scaled(vessel, room);
  const figures = figuresOfParts(tank);
  const name = `tank-drawing-${count += 1}`;
  svg.setAttribute("viewBox", `0 0 ${room.width} ${room.height}`);
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-labelledby", `${name}-title ${name}-words`);
  svg.replaceChildren(
    drawn("title", { id: `${name}-title` }, tank.name ? words("drawing.title", { tank: tank.name }) : words("drawing.no_name")),
    drawn("desc", { id: `${name}-words` }, sentence(figures)),
    pattern(name),
    ...inside(vessel, view, name),
    ...fittings(vessel, view, small),
    ...(small ? [] : labels(vessel, figures, view, room)),
  );
}

/** What is drawn of a tank; beer that stands in the head is drawn up to it. */
function vesselOf(tank) {
  const { straight_height: straight, head_depth: depth } = tank;
  const shape = tankShape(tank);
  return { ...tank, ...shape, level: shape.level ?? shape.cone + straight, straight, depth };
}

/** Turns metres into the drawing's units: `x` from the middle line, `y` from the tip of the cone. */
function scaled({ diameter, cone, straight, depth }, room) {
  const tall = cone + straight + depth;
  const scale = Math.min(room.wide / diameter, (room.bottom - room.top) / tall);
  return { scale, x: (metres) => room.middle + metres * scale, y: (metres) => room.bottom - metres * scale };
}

function pattern(name) {
  const dots = drawn("pattern", { id: `${name}-gas`, width: 14, height: 14, patternUnits: "userSpaceOnUse" });
  dots.append(...[3, 10].map((at) => drawn("circle", { cx: at, cy: at, r: 1.2, class: "gas-dot" })));
  const defs = drawn("defs");
  defs.append(dots);
  return defs;
}

function inside(vessel, view, name) {
  const { level, cone, straight, depth } = vessel;
  const top = cone + straight + depth;
  const layers = [
    drawn("path", { d: region(vessel, level, top, view), fill: `url(#${name}-gas)` }),
    drawn("path", { d: region(vessel, 0, level, view), class: "beer" }),
  ];
  const half = radiusAtLevel(level, vessel.diameter, cone, straight, depth);
  const surface = `M${view.x(-half)} ${view.y(level)}H${view.x(half)}`;
  if (level > 0) layers.push(drawn("path", { d: surface, class: "surface" }));
  return layers;
}

function fittings(vessel, view, small) {
  const { cone, straight, depth, bore, arm_height: arm } = vessel;
  const half = Math.max(0.5 * bore * view.scale, small ? 2 : 3);
  const [middle, tip, top] = [view.x(0), view.y(0), view.y(cone + straight + depth)];
  const port = `M${middle - half} ${tip - 2}v${small ? 12 : 20}M${middle + half} ${tip - 2}v${small ? 12 : 20}`;
  const parts = [drawn("path", { d: outline(vessel, view), class: "wall" }), drawn("path", { d: port, class: "wall" })];
  if (arm !== null && arm !== undefined) {
    const wall = view.x(radiusAtLevel(arm, vessel.diameter, cone, straight, depth));
    parts.push(drawn("path", { d: `M${middle + 4} ${view.y(arm) + 5}v-5H${wall + (small ? 8 : 14)}`, class: "arm" }));
  }
  if (!small) {
    parts.push(drawn("path", { d: `M${middle} ${top}v-14`, class: "wall" }));
    parts.push(drawn("circle", { cx: middle, cy: top - 24, r: 11, class: "gauge" }));
    parts.push(drawn("path", { d: `M${middle} ${top - 24}l5 -6`, class: "wall" }));
  }
  return parts;
}

/** The parts that are named, from the top, and the figure each is named with. */
const PARTS = {
  gauge: "pressure", gas: "headspace", beer: "beer_volume", arm: "arm_height",
};

/** The figure of each part, or null. */
function figuresOfParts(tank) {
  const figures = tankFigures(tank);
  return Object.fromEntries(Object.entries(PARTS).map(([part, key]) => [part, figures[key]]));
}

function sentence(figures) {
  const known = Object.entries(figures).filter(([, figure]) => figure !== null);
  const parts = known.map(([part, figure]) => words(`drawing.parts.${part}`, { figure }));
  return words("drawing.told", { parts: listed(parts, "unit") });
}

function labels(vessel, figures, view, room) {
  const { cone, straight, depth, level, arm_height: arm, diameter } = vessel;
  const top = cone + straight + depth;
  const places = [
    ["gauge", top + 24 / view.scale, 11 / view.scale],
    ["gas", 0.5 * (level + top)],
    ["beer", 0.5 * level],
    ["arm", arm],
  ].filter(([part]) => figures[part] !== null);
  const spread = apart(places.map(([, at]) => view.y(at)), 22, room.height - 28);
  return places.flatMap(([part, at, half = radiusAtLevel(at, diameter, cone, straight, depth)], index) => [
    drawn("path", { d: `M${view.x(half) + 3} ${view.y(at)}L${room.label - 6} ${spread[index]}`, class: "leader" }),
    label(room, spread[index] - 4, words(`drawing.labels.${part}`)),
    drawn("text", { x: room.label, y: spread[index] + 18, class: "figure" }, figures[part]),
  ]);
}

function label(room, y, said) {
  const narrower = narrowed(said, LABEL_LETTERS, room.width - room.label - 4);
  return drawn("text", { x: room.label, y, class: "label", ...narrower }, said);
}

/** Heights moved just so far that no label covers another. */
function apart(heights, first, last) {
  const order = heights.map((height, index) => [height, index]).sort((a, b) => a[0] - b[0]);
  let least = first;
  for (const place of order) {
    place[0] = Math.max(place[0], least);
    least = place[0] + LABEL_HEIGHT;
  }
  let most = last;
  for (const place of [...order].reverse()) {
    place[0] = Math.min(place[0], most);
    most = place[0] - LABEL_HEIGHT;
  }
  return order.sort((a, b) => a[1] - b[1]).map(([height]) => height);
}
