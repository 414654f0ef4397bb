/** What stopping at the colour change saves, a purge, a batch and a year. Twin of colour_change_saving.py. */

export function refusals() {
  return [];
}

export function compute(x) {
  const perPurge = x.flow * (x.overrun_usual - x.overrun_now);
  const perBatch = perPurge * x.purges_per_batch;
  const perYear = perBatch * x.batches_per_year;
  return {
    saved_per_purge: perPurge,
    saved_per_batch: perBatch,
    saved_per_year: perYear,
    money_per_year: x.beer_value === null ? null : perYear * x.beer_value,
  };
}

export function remarks(x) {
  return x.overrun_now > x.overrun_usual ? ["a-loss"] : [];
}
