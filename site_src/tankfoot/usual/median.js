/** The middle of some values. Twin of median.py. */

/** The middle one, the mean of the two in the middle of an even number, null of none. */
export function median(values) {
  if (!values.length) return null;
  const ordered = [...values].sort((a, b) => a - b);
  const middle = Math.floor(values.length / 2);
  return values.length % 2 ? ordered[middle] : (ordered[middle - 1] + ordered[middle]) / 2.0;
}
