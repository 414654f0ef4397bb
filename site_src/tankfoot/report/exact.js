/** A sum that is the same in whatever order its numbers come. Twin of exact.py. */

/** The sum of finite numbers, rounded once: the one nearest to the true sum. @param {Iterable<number>} values */
export function exactSum(values) {
  const partials = []; // of which no two overlap, the smallest first
  for (const value of values) {
    let larger = value;
    let kept = 0;
    for (const partial of partials) {
      const [x, y] = Math.abs(larger) < Math.abs(partial) ? [partial, larger] : [larger, partial];
      larger = x + y;
      const lost = y - (larger - x);
      if (lost !== 0) partials[kept++] = lost;
    }
    partials.length = kept;
    partials.push(larger);
  }
  return rounded(partials);
}

/** The largest partial and what the others make of it; where they lie half way between two, the next one says which. */
function rounded(partials) {
  let high = partials.pop() ?? 0;
  let low = 0;
  while (partials.length) {
    const before = high;
    const next = partials.pop();
    high = before + next;
    low = next - (high - before);
    if (low !== 0) break;
  }
  const under = partials.at(-1) ?? 0;
  if ((low < 0 && under < 0) || (low > 0 && under > 0)) {
    const twice = low * 2;
    const nudged = high + twice;
    if (twice === nudged - high) high = nudged;
  }
  return high + 0;
}
