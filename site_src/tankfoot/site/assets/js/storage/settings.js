/** What this phone remembers of its person's choices: a small object in localStorage. */

const KEY = "tankfoot-settings";

/**
 * system: of units. units: the unit last chosen for a kind of quantity. values: texts that stand in for a field's
 * default on every page, by field name (air_pressure, beer_value). tank: the one in hand, {id, name, values}, its
 * texts likewise, or null.
 */
const FRESH = { system: "us", theme: "auto", currency: "$", altitude: "", units: {}, values: {}, tank: null };

let held = null;

/** @returns {typeof FRESH} */
export function settings() {
  held ??= { ...FRESH, ...stored() };
  return held;
}

/** Changes some settings; returns false where the phone refuses to remember them. */
export function saveSettings(changes) {
  held = { ...settings(), ...changes };
  try {
    localStorage.setItem(KEY, JSON.stringify(held));
    return true;
  } catch (error) {
    if (error instanceof DOMException) return false;
    throw error;
  }
}

function stored() {
  try {
    return JSON.parse(localStorage.getItem(KEY) ?? "{}");
  } catch (error) {
    if (error instanceof DOMException || error instanceof SyntaxError) return {};
    throw error;
  }
}
