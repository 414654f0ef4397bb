/** Colours, and how far two are apart. Twin of colour.py, which has the sources. */

const TO_XYZ = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]];
const FULL = 255.0;
const DARKEST = 1e-4;
const STEPS = 1e6;
const OPPOSITE = 180.0 + 1e-9;

/** @typedef {[number, number, number]} Three red, green, blue, or L*, a*, b* */

/** Linear light, 0 to 1, of sRGB, 0 to 255. @param {number[]} rgb @returns {Three} */
export function light(rgb) {
  return /** @type {Three} */ (rgb.map((channel) => rounded(linear(channel / FULL))));
}

function linear(u) {
  return u <= 0.04045 ? u / 12.92 : ((u + 0.055) / 1.055) ** 2.4;
}

/** sRGB in whole numbers, 0 to 255; what is brighter than white is white. @param {number[]} light @returns {Three} */
export function srgb(light) {
  const of = (one) => Math.floor(rounded(FULL * bent(Math.min(Math.max(one, 0.0), 1.0))) + 0.5);
  return /** @type {Three} */ (light.map(of));
}

function bent(v) {
  return v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1.0 / 2.4) - 0.055;
}

/** What the glass sends back of the light that the reference shows. @param {Three} glass @param {Three} reference */
export function ratio(glass, reference) {
  return /** @type {Three} */ (glass.map((one, i) => rounded(one / Math.max(reference[i], DARKEST))));
}

/** CIELAB of linear light, D65. @param {Three} given @returns {Three} */
export function lab([r, g, b]) {
  const [x, y, z] = TO_XYZ.map((row) => f((row[0] * r + row[1] * g + row[2] * b) / (row[0] + row[1] + row[2])));
  return [rounded(116.0 * y - 16.0), rounded(500.0 * (x - y)), rounded(200.0 * (y - z))];
}

function f(t) {
  return t > (6.0 / 29.0) ** 3 ? t ** (1.0 / 3.0) : (t * (29.0 / 6.0) ** 2) / 3.0 + 4.0 / 29.0;
}

/** How colourful. @param {Three} colour */
export function chroma([, a, b]) {
  return Math.sqrt(a * a + b * b);
}

/** CIEDE2000 between two colours in CIELAB. @param {Three} one @param {Three} other */
export function difference(one, other) {
  const mean = 0.5 * (chroma(one) + chroma(other));
  const stretch = 1.0 + 0.5 * (1.0 - high(mean));
  const [[c1, h1], [c2, h2]] = [one, other].map(([, a, b]) => polar(stretch * a, b));
  const turn = c1 * c2 > 0.0 ? turned(h1, h2) : 0.0;
  const hue = c1 * c2 > 0.0 ? meanHue(h1, h2) : h1 + h2;
  const [lightness, colourful] = [0.5 * (one[0] + other[0]) - 50.0, 0.5 * (c1 + c2)];
  const t = 1.0 - 0.17 * cos(hue - 30.0) + 0.24 * cos(2.0 * hue) + 0.32 * cos(3.0 * hue + 6.0)
    - 0.20 * cos(4.0 * hue - 63.0);
  const dl = (other[0] - one[0]) / (1.0 + (0.015 * lightness * lightness) / Math.sqrt(20.0 + lightness * lightness));
  const dc = (c2 - c1) / (1.0 + 0.045 * colourful);
  const dh = (2.0 * Math.sqrt(c1 * c2) * Math.sin(radians(0.5 * turn))) / (1.0 + 0.015 * colourful * t);
  const blue = (hue - 275.0) / 25.0;
  const bent = -2.0 * high(colourful) * Math.sin(radians(60.0 * Math.exp(-blue * blue)));
  return rounded(Math.sqrt(Math.max(dl * dl + dc * dc + dh * dh + bent * dc * dh, 0.0)));
}

function high(c) {
  return Math.sqrt(c ** 7 / (c ** 7 + 25.0 ** 7));
}

function polar(a, b) {
  const degrees = (Math.atan2(b, a) * 180.0) / Math.PI;
  return [Math.sqrt(a * a + b * b), degrees < 0.0 ? degrees + 360.0 : degrees];
}

function turned(h1, h2) {
  const turn = h2 - h1;
  if (turn > OPPOSITE) return turn - 360.0;
  return turn < -OPPOSITE ? turn + 360.0 : turn;
}

function meanHue(h1, h2) {
  const both = h1 + h2;
  if (Math.abs(h1 - h2) <= OPPOSITE) return 0.5 * both;
  return 0.5 * (both < 360.0 ? both + 360.0 : both - 360.0);
}

const radians = (degrees) => (degrees * Math.PI) / 180.0;
const cos = (degrees) => Math.cos(radians(degrees));

/** To a millionth, halves upwards. @param {number} value */
export function rounded(value) {
  return Math.floor(value * STEPS + 0.5) / STEPS + 0.0;
}
