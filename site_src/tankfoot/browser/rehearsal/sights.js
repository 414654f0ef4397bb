/** What a hand sees of the simulated tank, drawn: gauge, sight glass, hose end. Only what has changed is drawn. */

import { drawn } from "../drawing/section.js";
import { words } from "../../wording/words.js";
import { said, shown } from "./told.js";

const [SWEEP, FULL] = [270, 1.6]; // ° of the dial, and how many times the plate it shows
const LEAST = 1 / 200; // of the dial: no eye sees that the needle is off zero. Common practice, no source
const [TOP, DEEP] = [6, 60]; // of the glass and of the bucket, in the drawing's units
const [DROP, DROPS] = [0.15, 4]; // s between two places of what runs, and how many places
const [MIXED, TURNED] = [0.15, 0.5]; // shares of the other: seen by an eye; the glass turned, as in noticed.js

/** @param {HTMLElement} pane @param {object} setup of the state: what the tank's plate says */
export function openSights(pane, { plate }) {
  const part = (name) => pane.querySelector(`[data-sim-${name}]`);
  const [gauge, glass, end] = ["gauge", "glass", "end"].map(part);
  const most = FULL * plate;
  const needle = drawDial(gauge.querySelector("svg"), most, plate);
  const [solids, water, beer] = ["solids", "water", "beer"].map((kind) => layer(glass.querySelector("svg"), kind)); // the last lies behind
  const drops = glass.querySelector(".drops");
  const bucket = layer(end.querySelector("svg"), "bucket");

  const labels = Object.fromEntries(Object.entries({ gauge, glass, end }).map(([which, place]) => [which, place.querySelector("[data-says]")]));
  let last = {}; // what was said last

  return {
    /** @param {object} seen as rehearsal/seen.js tells it @returns {{gauge: string, glass: string, end: string}} in words */
    show(seen) {
      turn(needle, angleOf(seen.gauge, most));
      showGlass(glass, [beer, solids, water], seen);
      if (seen.flow > 0) set(drops, "stroke-dashoffset", String(-3 * (Math.floor(seen.t / DROP) % DROPS)));
      setHeight(bucket, Math.min(1, seen.bucket.volume / seen.bucket.holds), 60);
      set(end, "data-hose", seen.handles.hose);
      set(end, "data-flows", seen.flow > 0 ? "" : null);
      set(pane, "data-jet", seen.jet ? seen.jet.from : null);
      const says = { gauge: shown(readOff(seen.gauge, most), "gauge_pressure"), glass: glassSays(seen), end: endSays(seen) };
      if (says.gauge !== last.gauge) name(gauge, words("rehearsal.gauge", { ...says, plate: shown(plate, "gauge_pressure") }));
      last = says;
      for (const [which, text] of Object.entries(says)) say(labels[which], text);
      return says;
    },
  };
}

/** An attribute that changed; none where `value` is null. */
export function set(place, name, value) {
  if (place.getAttribute(name) === value) return;
  if (value === null) place.removeAttribute(name);
  else place.setAttribute(name, value);
}

/** The same text node with another text: one that is replaced has the styles of much of the page looked at again. */
function say(place, text) {
  if (place.firstChild.data !== text) place.firstChild.data = text;
}

/** What a screen reader calls it. */
export function name(place, text) {
  set(place, "aria-label", text);
}

function drawDial(svg, most, plate) {
  const mark = (pressure, inner, kind) => {
    const angle = (angleOf(pressure, most) - 90) * Math.PI / 180;
    const at = (radius) => `${50 + radius * Math.cos(angle)} ${50 + radius * Math.sin(angle)}`;
    return drawn("path", { d: `M${at(inner)}L${at(45)}`, class: kind });
  };
  const needle = drawn("path", { d: "M50 58L50 14", class: "needle" });
  svg.append(drawn("circle", { cx: 50, cy: 50, r: 46, class: "dial" }), ...[0, 0.25, 0.5, 0.75, 1].map((each) => mark(each * most, 38, "tick")),
    mark(0, 32, "zero"), mark(plate, 30, "plate"), needle, drawn("circle", { cx: 50, cy: 50, r: 5, class: "hub" }));
  return needle;
}

/** Zero stands a little above the dial's lower end, so that below zero has a place. */
function angleOf(pressure, most) {
  const share = Math.min(1.05, Math.max(-0.1, pressure / most));
  return -SWEEP / 2 + 27 + (SWEEP - 27) * share;
}

/** What an eye reads at a dial that shows so much. */
export function readOff(pressure, most) {
  return Math.abs(pressure) < LEAST * most ? 0 : pressure;
}

function turn(needle, angle) {
  set(needle, "transform", `rotate(${angle.toFixed(1)} 50 50)`);
}

function layer(svg, kind) {
  const made = drawn("rect", { x: 12, y: TOP + DEEP, width: 76, height: 0, class: kind });
  svg.prepend(made);
  return made;
}

function setHeight(rect, share, below) {
  const height = share * DEEP;
  set(rect, "height", height.toFixed(1));
  set(rect, "y", (TOP + below - height).toFixed(1));
  return below - height;
}

/** Solids and beer run past each other: what there is more of shows behind the other's drops. */
function showGlass(place, [beer, solids, water], { glass, flow }) {
  set(place, "data-flows", flow > 0 ? "" : null);
  set(place, "data-kind", glass?.kind ?? null);
  set(place, "data-off", glass ? null : "");
  const filled = glass ? 1 - glass.air : 0;
  const thick = glass && filled > 0 ? glass.solids / filled : 0;
  setHeight(beer, filled, DEEP);
  setHeight(solids, filled, DEEP);
  set(solids, "fill-opacity", thick.toFixed(2));
  setHeight(water, glass?.water ?? 0, DEEP);
}

function glassSays({ glass }) {
  if (!glass) return said("rehearsal.glass.off");
  const { solids, beer, air, water, packed } = glass;
  if (packed) return said("rehearsal.glass.packed");
  if (air > 0.5) return said("rehearsal.glass.empty");
  if (water > 0.5) return said("rehearsal.glass.water");
  const thick = solids / (solids + beer || 1);
  if (thick > 1 - MIXED) return said("rehearsal.glass.solids");
  if (thick >= TURNED) return said("rehearsal.glass.mostly_solids");
  return said(thick < MIXED ? "rehearsal.glass.beer" : "rehearsal.glass.mostly_beer");
}

function endSays({ handles: { hose }, bucket: { volume } }) {
  return hose === "bucket" ? shown(volume, "bucket_volume") : said(`rehearsal.end.${hose}`);
}
