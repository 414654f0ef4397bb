/** How much peracetic acid concentrate makes a batch of sanitizer. Twin of peracetic_dilution.py. */

const USUAL_TARGET = [0.08, 0.2];

export function refusals(x) {
  return x.target >= x.concentrate * x.density ? [["target", "stronger-than-concentrate"]] : [];
}

export function compute(x) {
  const volume = x.target * x.batch_volume / (x.concentrate * x.density);
  return { concentrate_volume: volume, concentrate_mass: volume * x.density };
}

export function remarks(x) {
  if (x.target < USUAL_TARGET[0]) return ["weak"];
  return x.target > USUAL_TARGET[1] ? ["strong"] : [];
}
