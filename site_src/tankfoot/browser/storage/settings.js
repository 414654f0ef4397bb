/** What this phone remembers of its person's choices: a small object in localStorage. */

const KEY = "tankfoot-settings";

/**
 * system: of units. units: the unit last chosen for a kind of quantity. values: texts that stand in for a field's
 * default on every page, by field name (air_pressure, beer_value). tank: the current one, {id, name, values}, its
 * texts likewise, or null. region: whose emergency number the cards show, a name in regions.js, or "". checked: the
 * region whose number a person has compared with the local one. site: what a caller reads out, and its own numbers.
 * initials: of the one who ticks lists and purges. tone, buzz: whether a tap of a purge that is saved is heard, or felt.
 * aloud: whether each of its screens is read aloud. gas_first: the tank is at pressure before the stack is hooked up.
 */
const FRESH = {
  system: "us", theme: "auto", currency: "$", altitude: "", units: {}, values: {}, tank: null,
  initials: "", tone: false, buzz: false, aloud: false, gas_first: false, region: "", checked: "", site: { name: "", address: "", numbers: [] },
};

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
    if (!localStorage) return false; // a web view that keeps nothing has null there
    localStorage.setItem(KEY, JSON.stringify(held));
    return true;
  } catch (error) {
    if (error instanceof DOMException) return false;
    throw error;
  }
}

/** No tank is the current one any more. */
export function clearCurrentTank() {
  return saveSettings({ tank: null });
}

/** What a phone dials for a number as people write it, RFC 3966; "" where it is none. */
export function dialled(text) {
  const digits = text.replace(/[\s()./-]/g, "");
  return /^\+?[0-9*#]{2,20}$/.test(digits) ? digits.replaceAll("#", "%23") : "";
}

function stored() {
  try {
    return JSON.parse(localStorage?.getItem(KEY) ?? "{}");
  } catch (error) {
    if (error instanceof DOMException || error instanceof SyntaxError) return {};
    throw error;
  }
}
