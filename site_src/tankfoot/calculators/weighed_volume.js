/** What left the tank, from a scale. Twin of weighed_volume.py. */

export function refusals(x) {
  return x.tare !== null && x.tare >= x.mass ? [["tare", "nothing-in-it"]] : [];
}

export function compute(x) {
  const net = x.tare === null ? x.mass : x.mass - x.tare;
  return { volume_lost: net / x.density, net_mass: net };
}

export function remarks(x) {
  return x.tare === null ? ["no-tare"] : [];
}
