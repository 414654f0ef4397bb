/** From the ± of what was measured to the ± of what was worked out. Twin of propagate.py. */

const SHARE_OF_UNCERTAINTY = 0.1;
const SMALLEST_STEP = 1e-4;

/**
 * @param {(x: Object<string, any>) => Object<string, any>} fn numbers from numbers, null where there is none
 * @param {Object<string, any>} inputs
 * @param {Object<string, number>} uncertainties
 * @param {Object<string, any>} here what `fn` makes of `inputs`
 * @returns {Object<string, number>}
 */
export function propagate(fn, inputs, uncertainties, here = fn(inputs)) {
  const squares = {};
  for (const [name, uncertainty] of Object.entries(uncertainties)) {
    if (!(uncertainty > 0.0)) continue;
    const step = Math.max(SHARE_OF_UNCERTAINTY * uncertainty, SMALLEST_STEP * Math.abs(inputs[name]));
    const above = withinReach(fn, { ...inputs, [name]: inputs[name] + step });
    const below = withinReach(fn, { ...inputs, [name]: inputs[name] - step });
    if (above === null && below === null) continue;
    const width = (above ? step : 0.0) + (below ? step : 0.0);
    for (const [result, value] of Object.entries(here)) {
      if ([value, (above ?? here)[result], (below ?? here)[result]].includes(null)) continue;
      const slope = ((above ?? here)[result] - (below ?? here)[result]) / width;
      if (slope) squares[result] = (squares[result] ?? 0.0) + (slope * uncertainty) * (slope * uncertainty);
    }
  }
  return Object.fromEntries(Object.entries(squares).map(([result, square]) => [result, Math.sqrt(square)]));
}

/** What `fn` makes of `inputs`, or null where its formula has no finite answer. */
export function withinReach(fn, inputs) {
  let results;
  try {
    results = fn(inputs);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return null;
  }
  const finite = Object.values(results).every((value) => value === null || Number.isFinite(value));
  return finite ? results : null;
}
