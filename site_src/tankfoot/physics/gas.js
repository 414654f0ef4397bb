/** Carbon dioxide as a real gas at cellar conditions. Twin of gas.py. */

export const GAS_CONSTANT = 8.314462618;
export const CO2_MOLAR_MASS = 0.0440095;
export const NORMAL_TEMPERATURE = 273.15;
export const NORMAL_PRESSURE = 101325.0;

export function co2SecondVirial(temperature) {
  const t = temperature;
  return 1e-6 * (-1636.75 + t * (12.0408 + t * (-3.27957e-2 + t * 3.16528e-5)));
}

export function co2Compressibility(pressure, temperature) {
  return 1.0 + co2SecondVirial(temperature) * pressure / (GAS_CONSTANT * temperature);
}

export function co2Density(pressure, temperature) {
  const z = co2Compressibility(pressure, temperature);
  return pressure * CO2_MOLAR_MASS / (z * GAS_CONSTANT * temperature);
}

export function co2NormalDensity() {
  return co2Density(NORMAL_PRESSURE, NORMAL_TEMPERATURE);
}
