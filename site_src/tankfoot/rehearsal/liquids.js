/** What runs: beer, solids and water, each a volume in m3, in this order. Twin of liquids.py. */

export const NOTHING = [0.0, 0.0, 0.0];
export const BEER = 0;
export const SOLIDS = 1;
export const WATER = 2;

export function added(one, other) {
  return one.map((a, which) => a + other[which]);
}

export function taken(whole, part) {
  return whole.map((a, which) => Math.max(0.0, a - part[which]));
}

export function volumeOf(liquids) {
  return liquids[BEER] + liquids[SOLIDS] + liquids[WATER];
}

export function shareOf(liquids, which) {
  const volume = volumeOf(liquids);
  return volume > 0.0 ? liquids[which] / volume : 0.0;
}

export function drawnOf(tank, volume, solidsShare) {
  const draw = Math.min(volume, volumeOf(tank));
  const clear = tank[BEER] + tank[WATER];
  const solids = Math.min(tank[SOLIDS], Math.max(solidsShare * draw, draw - clear));
  const thinned = clear > 0.0 ? Math.max(0.0, draw - solids) / clear : 0.0;
  return [tank[BEER] * thinned, solids, tank[WATER] * thinned];
}

export function passed(holds, content, inflow) {
  const comes = volumeOf(inflow);
  if (comes <= 0.0) return [content, NOTHING];
  const room = Math.max(0.0, holds - volumeOf(content));
  if (comes <= room) return [added(content, inflow), NOTHING];
  const filled = content.map((c, which) => c + inflow[which] * (room / comes));
  const stays = Math.exp((room - comes) / holds);
  const mixed = filled.map((f, which) => inflow[which] / comes * holds + (f - inflow[which] / comes * holds) * stays);
  return [mixed, taken(added(content, inflow), mixed)];
}
