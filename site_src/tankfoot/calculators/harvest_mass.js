/** How much yeast to keep for the next batch before the rest is purged. Twin of harvest_mass.py. */

import { cellsToPitch, platoFromGravity, slurryVolume } from "../physics/yeast.js";

const USUAL_SLURRY = [3e14, 3e15];
const LEAST_VIABILITY = 0.9;

export function refusals(x) {
  const refused = [];
  if (x.plato === null && x.specific_gravity === null) refused.push(["plato", "no-gravity"]);
  if (x.plato !== null && x.specific_gravity !== null) refused.push(["specific_gravity", "two-gravities"]);
  if (x.slurry_cells === null && x.cells_by_mass === null) refused.push(["slurry_cells", "no-count"]);
  if (x.slurry_cells !== null && x.cells_by_mass !== null) refused.push(["cells_by_mass", "two-counts"]);
  return refused;
}

export function compute(x) {
  const plato = x.plato === null ? platoFromGravity(x.specific_gravity) : x.plato;
  const cells = cellsToPitch(x.pitch_rate, x.batch_volume, plato);
  const volume = slurryVolume(cells, cellsByVolume(x), x.viability);
  return {
    slurry_mass: volume * x.slurry_density,
    slurry_volume: volume,
    cells,
    share_of_cone: x.cone_solids === null ? null : volume / x.cone_solids,
  };
}

function cellsByVolume(x) {
  return x.slurry_cells === null ? x.cells_by_mass * x.slurry_density : x.slurry_cells;
}

export function remarks(x, y) {
  const said = [];
  if (x.cone_solids !== null) said.push(y.slurry_volume > x.cone_solids ? "not-enough" : "enough");
  if (x.viability < LEAST_VIABILITY) said.push("low-viability");
  const cells = cellsByVolume(x);
  if (!(cells >= USUAL_SLURRY[0] && cells <= USUAL_SLURRY[1])) said.push("unusual-slurry");
  return said;
}
