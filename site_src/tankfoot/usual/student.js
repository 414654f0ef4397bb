/** Student's t: the chance of less, and what is not passed with a chance. Twin of student.py. */

const SHIFTED = 25.0;
const TERMS = [1.0, -1 / 8, 1 / 128, 5 / 1024, -21 / 32768, -399 / 262144, 869 / 4194304, 39325 / 33554432];
const FRACTION_CLOSE = 3e-16;
const MOST_FRACTIONS = 500;
const MOST_STEPS = 60;
const STEP_CLOSE = 1e-15;

/** Gamma(x + 1/2) / Gamma(x), for x > 0. */
export function halfStep(x) {
  let ratio = 1.0;
  let shifted = x;
  while (shifted < SHIFTED) {
    ratio *= shifted / (shifted + 0.5);
    shifted += 1.0;
  }
  const series = TERMS.reduceRight((sum, term) => sum / shifted + term, 0.0);
  return ratio * Math.sqrt(shifted) * series;
}

/** The chance that Student's t with `freedom` degrees of freedom (>= 1, whole or not) is less than `t`. */
export function studentChance(t, freedom) {
  const [between, beyond] = parted(Math.abs(t), freedom);
  return t >= 0.0 ? 0.5 + between : beyond;
}

/** The chance between 0 and t >= 0, and of more than t, each right in its last digits however small it is. */
function parted(t, freedom) {
  const [share, left] = [t * t / (freedom + t * t), freedom / (freedom + t * t)];
  const [a, b] = [0.5, 0.5 * freedom];
  const front = 0.5 * halfStep(b) * Math.sqrt(share / Math.PI) * Math.pow(left, b);
  if (share < (a + 1.0) / (a + b + 2.0)) {
    const between = front * fraction(share, a, b) / a;
    return [between, 0.5 - between];
  }
  const beyond = front * fraction(left, b, a) / b;
  return [0.5 - beyond, beyond];
}

function fraction(x, a, b) {
  let d = 1.0 / (1.0 - (a + b) * x / (a + 1.0));
  let [c, found] = [1.0, d];
  for (let m = 1; m < MOST_FRACTIONS; m += 1) {
    const even = m * (b - m) * x / ((a + 2 * m - 1.0) * (a + 2 * m));
    const odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1.0));
    const before = found;
    for (const term of [even, odd]) {
      [d, c] = [1.0 / (1.0 + term * d), 1.0 + term / c];
      found *= c * d;
    }
    if (Math.abs(found - before) < FRACTION_CLOSE * found) break;
  }
  return found;
}

/** What Student's t with `freedom` degrees of freedom (>= 1) is less than with a `chance`, 0 < chance < 1. */
export function studentQuantile(chance, freedom) {
  if (!(chance > 0.0 && chance < 1.0) || !(freedom >= 1.0)) {
    throw new RangeError(`${chance} with ${freedom} degrees of freedom: give a chance between 0 and 1, and at least 1`);
  }
  const height = halfStep(0.5 * freedom) / Math.sqrt(Math.PI);
  const root = Math.sqrt(freedom);
  let angle = 0.0;
  for (let count = 0; count < MOST_STEPS; count += 1) {
    const missing = Math.abs(chance - 0.5) - parted(root * Math.tan(angle), freedom)[0];
    const step = missing / (height * Math.pow(Math.cos(angle), freedom - 1.0));
    angle += step;
    if (Math.abs(step) <= STEP_CLOSE * angle) break;
  }
  return Math.sign(chance - 0.5) * root * Math.tan(angle);
}
