/** Whether the times of a purge can be told. Twin of clock.py. */

/** @param {number|null} run @param {number|null} overrun s @returns {boolean|null} null where there are no times */
export function wasSetBack(run, overrun) {
  return run === null || overrun === null ? null : !(overrun >= 0 && overrun <= run);
}
