/** The curve beside a sum, drawn anew with every outcome. The template _plot.html makes the same at first. */

import { caption, figure } from "../../calculators/plot.js";
import { calculatorModule } from "../../calculators/reckon.js";
import { local } from "../../quantities/locale.js";
import { narrowed } from "../../report/marks.js";
import { unitOf } from "../storage/units.js";
import { drawn } from "./section.js";

const WIDE = 328;
const AXIS = 72; // px from the left to where the numbers beside the axis have ended
const LETTER = 8; // px, of a name

/** A function that shows an outcome of the sum `id` in the figure `place`, and hides that where there is none. */
export async function plotOf(place, id) {
  const plot = JSON.parse(place.dataset.plot);
  const twin = await calculatorModule(id);
  return ({ inputs, results, problems }) => {
    const symbols = { across: unitOf(plot.kinds.across), up: unitOf(plot.kinds.up) };
    const made = problems.length ? null : figure(plot, twin, values(inputs, "si"), values(results, "value"), symbols);
    place.hidden = made === null;
    if (made === null) return;
    place.querySelector("svg").replaceChildren(...shapes(made, plot.words, symbols));
    place.querySelector("figcaption").textContent = caption(made, plot.words, plot.dashed);
  };
}

function values(named, key) {
  return Object.fromEntries(Object.entries(named).map(([name, one]) => [name, one && one[key]]));
}

function shapes({ path, point: [x, y], across, up, floor, marks }, words, symbols) {
  return [
    text("axis", 4, 16, `${words.up}, ${symbols.up}`),
    ...up.flatMap(([at, said]) => [line("grid", `M68 ${at}H318`), text("up", 62, at, local(said))]),
    ...across.flatMap(([at, said]) => [line("tick", `M${at} 190v6`), text("across", at, 211, local(said))]),
    text("axis end", 324, 234, `${words.across}, ${symbols.across}`),
    line("floor", `M68 ${floor}H318M68 50V190`),
    ...marks.map(({ ends }) => line("mark", `M${ends[0]} ${ends[1]}L${ends[2]} ${ends[3]}`)),
    ...marks.map(({ name, label }) => markName(...label, words.marks[name])),
    line("drop", `M68 ${y}H${x}V${floor}`),
    line("curve", path),
    drawn("circle", { class: "here", cx: x, cy: y, r: 7 }),
  ];
}

/** A mark's name reaches from its place to the edge, or to the axis. */
function markName(kind, x, y, said) {
  const room = kind === "end" ? Number(x) - AXIS : WIDE - 4 - Number(x);
  return drawn("text", { class: kind, x, y, ...narrowed(said, Math.floor(room / LETTER), room) }, said);
}

function line(kind, d) {
  return drawn("path", { class: kind, d });
}

function text(kind, x, y, said) {
  return drawn("text", { class: kind, x, y }, said);
}
