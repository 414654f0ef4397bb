/** What this phone remembers of its person's choices. */

import { kinds } from "../../quantities/declared.js";
import { offered, readQuantity, RefusedText } from "../../quantities/text.js";
import { CONTACT_LIMIT } from "../../rounds/waits.js";
import { openMemory } from "./memory.js";

const KEY = "tankfoot-settings";

/**
 * system: of units. units: the unit last chosen for a kind of quantity. values: texts that stand in for a field's
 * default on every page, by field name (air_pressure, beer_value, cylinder_mass). tank: the current one, {id, name, values}, its
 * texts likewise, or null. region: whose emergency number the cards show, a name in regions.js, or "". checked: the
 * region whose number a person has compared with the local one. site: what a caller reads out, and its own numbers.
 * initials: of the one who ticks lists and purges. watch: the guided purge
 * offers to watch the glass with the camera. tone, buzz: whether a tap of a purge that is saved is heard, or felt.
 * aloud: whether each of its screens is read aloud. gas_first: the tank is at pressure before the stack is hooked up.
 * contact_limit: s past the contact time after which a wetted port is wetted again.
 * every_step: the site wants every step on a screen of its own, whoever is at the tank. one_step: the id of a purge that
 * its hand walks one step at a time, though it was begun at the short pace. language: chosen by hand, "" as the phone
 * speaks; before_drawn.js reads it.
 */
const FRESH = {
  system: "us", theme: "auto", currency: "$", altitude: "", units: {}, values: {}, tank: null,
  initials: "", tone: false, buzz: false, aloud: false, watch: false, gas_first: false, contact_limit: CONTACT_LIMIT,
  every_step: false, one_step: "", language: "", region: "", checked: "", site: { name: "", address: "", numbers: [] },
};
/** Their kinds of quantity. */
const VALUES = {
  air_pressure: "absolute_pressure", beer_value: "beer_value", room_volume: "room_volume", air_changes: "air_changes",
  cylinder_mass: "gas_mass",
};
const TEXTS = ["currency", "altitude", "initials", "one_step", "language", "region", "checked"];
const FLAGS = ["tone", "buzz", "aloud", "watch", "gas_first", "every_step"];
/** What a member has to be; one that is not is as it was fresh, so that no page has to look twice. */
const FITS = {
  ...Object.fromEntries(TEXTS.map((name) => [name, isText])),
  ...Object.fromEntries(FLAGS.map((name) => [name, isFlag])),
  system: (found) => Object.hasOwn(kinds.temperature, found),
  theme: (found) => ["auto", "light", "dark"].includes(found),
  units: (found) => isTexts(found) && Object.entries(found).every(([kind, symbol]) => isOffered(kind, symbol)),
  values: (found) => isTexts(found) && Object.entries(found).every(([name, text]) => isQuantity(text, VALUES[name])),
  tank: (found) => found === null || (isText(found?.id) && isText(found.name) && isTexts(found.values)),
  contact_limit: (found) => Number.isFinite(found) && found >= 0,
  site: (found) => isText(found?.name) && isText(found.address) && Array.isArray(found.numbers)
    && found.numbers.every((own) => isText(own?.label) && isText(own.number)),
};

const memory = openMemory(KEY);
let held = null;

for (const type of ["storage", "tankfoot-remembered"]) addEventListener(type, () => { held = null; });

/** @returns {typeof FRESH} */
export function settings() {
  held ??= sound(memory.glance());
  return held;
}

/** Changes some settings, here at once. @returns {Promise<boolean>} true once they are on the disk, false where they cannot be */
export function saveSettings(changes) {
  held = { ...settings(), ...changes };
  return memory.save(changes);
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

function sound(found) {
  return Object.fromEntries(Object.entries(FRESH).map(([name, fresh]) => [
    name, Object.hasOwn(found, name) && FITS[name](found[name]) ? found[name] : fresh,
  ]));
}

function isText(found) {
  return typeof found === "string";
}

function isFlag(found) {
  return typeof found === "boolean";
}

function isTexts(found) {
  return typeof found === "object" && found !== null && !Array.isArray(found) && Object.values(found).every(isText);
}

function isOffered(kind, symbol) {
  return Object.hasOwn(kinds, kind) && Object.keys(kinds[kind]).some((system) => offered(kind, system).includes(symbol));
}

function isQuantity(text, kind) {
  try {
    return kind !== undefined && readQuantity(text, kind, offered(kind, "us")[0]) !== null;
  } catch (refused) {
    if (!(refused instanceof RefusedText)) throw refused;
    return false;
  }
}
