/** Cells and viability from a counting chamber. Twin of cell_count.py. */

import { cellDensity, liveShare } from "../physics/yeast.js";

const ENOUGH_CELLS = 200.0;
const ENOUGH_DEAD = 5.0;

export function refusals(x) {
  return x.live + x.dead < 1.0 ? [["live", "nothing-counted"]] : [];
}

export function compute(x) {
  return {
    cells: cellDensity(x.live + x.dead, x.squares, x.square_volume, x.dilution),
    viability: liveShare(x.live, x.dead),
  };
}

export function remarks(x) {
  const said = [];
  if (x.live % 1.0 !== 0.0 || x.dead % 1.0 !== 0.0) said.push("not-whole");
  if (x.live + x.dead < ENOUGH_CELLS) said.push("few-cells");
  if (x.dead < ENOUGH_DEAD) said.push("few-dead");
  return said;
}
