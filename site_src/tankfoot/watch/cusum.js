/** The one-sided cumulative sum. Twin of cusum.py. */

/** The next sum, never below none. @param {number} total @param {number} reading @param {number} slack */
export function cusum(total, reading, slack) {
  return Math.max(0.0, total + reading - slack);
}
