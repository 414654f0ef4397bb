/** One root of one function, bracketed. Twin of roots.py. */

const ROOT_TOLERANCE = 1e-13;
const MOST_STEPS = 200;

export function brentRoot(fn, low, high) {
  let [a, b] = [low, high];
  let [fa, fb] = [fn(a), fn(b)];
  if (fa === 0.0) return a;
  if (fb === 0.0) return b;
  if (!(fa * fb < 0.0)) {
    throw new RangeError(`no change of sign between ${low} and ${high}: give a bracket around the root`);
  }
  let [c, fc] = [a, fa];
  let step = b - a;
  let lastStep = step;
  for (let count = 0; count < MOST_STEPS; count += 1) {
    if (Math.abs(fc) < Math.abs(fb)) {
      [a, b, c] = [b, c, b];
      [fa, fb, fc] = [fb, fc, fb];
    }
    const tolerance = ROOT_TOLERANCE * (Math.abs(b) + 1e-300);
    const middle = 0.5 * (c - b);
    if (Math.abs(middle) <= tolerance || fb === 0.0) break;
    if (Math.abs(lastStep) < tolerance || Math.abs(fa) <= Math.abs(fb)) {
      step = lastStep = middle;
    } else {
      const s = fb / fa;
      let p;
      let q;
      if (a === c) {
        [p, q] = [2.0 * middle * s, 1.0 - s];
      } else {
        const [t, r] = [fa / fc, fb / fc];
        p = s * (2.0 * middle * t * (t - r) - (b - a) * (r - 1.0));
        q = (t - 1.0) * (r - 1.0) * (s - 1.0);
      }
      [p, q] = p > 0.0 ? [p, -q] : [-p, q];
      if (2.0 * p < Math.min(3.0 * middle * q - Math.abs(tolerance * q), Math.abs(lastStep * q))) {
        [lastStep, step] = [step, p / q];
      } else {
        step = lastStep = middle;
      }
    }
    [a, fa] = [b, fb];
    b += Math.abs(step) > tolerance ? step : (middle > 0.0 ? tolerance : -tolerance);
    fb = fn(b);
    if ((fb > 0.0) === (fc > 0.0)) {
      [c, fc] = [a, fa];
      step = lastStep = b - a;
    }
  }
  return b;
}
