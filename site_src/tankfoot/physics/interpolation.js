/** A smooth curve through a table that never overshoots it. Twin of interpolation.py. */

export function pchipSlopes(xs, ys) {
  const h = xs.slice(1).map((x, i) => x - xs[i]);
  const d = h.map((width, i) => (ys[i + 1] - ys[i]) / width);
  const slopes = [endSlope(h[0], h[1], d[0], d[1])];
  for (let i = 1; i < d.length; i += 1) {
    if (d[i - 1] * d[i] <= 0.0) {
      slopes.push(0.0);
    } else {
      const w1 = 2.0 * h[i] + h[i - 1];
      const w2 = h[i] + 2.0 * h[i - 1];
      slopes.push((w1 + w2) / (w1 / d[i - 1] + w2 / d[i]));
    }
  }
  slopes.push(endSlope(h.at(-1), h.at(-2), d.at(-1), d.at(-2)));
  return slopes;
}

function endSlope(h0, h1, d0, d1) {
  const slope = ((2.0 * h0 + h1) * d0 - h0 * d1) / (h0 + h1);
  if (slope * d0 <= 0.0) return 0.0;
  if (d0 * d1 <= 0.0 && Math.abs(slope) > 3.0 * Math.abs(d0)) return 3.0 * d0;
  return slope;
}

export function pchip(xs, ys, slopes, x) {
  let i = 0;
  while (i < xs.length - 2 && x >= xs[i + 1]) i += 1;
  const h = xs[i + 1] - xs[i];
  const t = (x - xs[i]) / h;
  const u = 1.0 - t;
  return (
    ys[i] * (1.0 + 2.0 * t) * u * u
    + h * slopes[i] * t * u * u
    + ys[i + 1] * t * t * (3.0 - 2.0 * t)
    - h * slopes[i + 1] * t * t * u
  );
}
