/** One best value from several measurements of the same thing. Twin of combine.py. */

const COVERAGE = 2.0;

export function inverseVarianceMean(values, uncertainties) {
  let weight = 0.0;
  let total = 0.0;
  values.forEach((value, i) => {
    const share = 1.0 / (uncertainties[i] * uncertainties[i]);
    weight += share;
    total += share * value;
  });
  return [total / weight, 1.0 / Math.sqrt(weight)];
}

export function agree(values, uncertainties) {
  return values.every((a, i) => values.slice(i + 1).every((b, j) => {
    const [ua, ub] = [uncertainties[i], uncertainties[i + 1 + j]];
    return Math.abs(a - b) <= COVERAGE * Math.sqrt(ua * ua + ub * ub);
  }));
}
