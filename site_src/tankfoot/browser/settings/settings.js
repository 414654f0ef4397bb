/** The settings page: each change is kept at once. */

import { calculators } from "../../calculators/declared.js";
import { calculatorModule, fieldProblem, readField, reckon } from "../../calculators/reckon.js";
import { local } from "../../quantities/locale.js";
import { settings } from "../storage/settings.js";
import { words } from "../../wording/words.js";
import { ownVoice } from "../parts/speech.js";
import { entry, keep } from "./form.js";
import { problemText } from "../parts/problem_text.js";

const form = document.querySelector("[data-settings]");
const airPressure = await calculatorModule("air-pressure");

/** The field that each typed value must fit, as a calculator declares it. */
const DECLARED_AT = {
  altitude: "air-pressure", air_pressure: "purge-volume", beer_value: "purge-volume",
  room_volume: "room-co2", air_changes: "room-co2", cylinder_mass: "co2-top-up",
};
const TICKS = ["gas_first", "every_step", "watch", "tone", "buzz", "aloud"];
const AS_TYPED = ["beer_value", "room_volume", "air_changes", "cylinder_mass"];

form.addEventListener("submit", (event) => event.preventDefault());
for (const name of ["system", "theme"]) {
  for (const radio of form.elements[name]) {
    radio.checked = settings()[name] === radio.value;
    radio.addEventListener("change", () => {
      keep(name === "system" ? { system: radio.value, units: {} } : { theme: radio.value });
      dispatchEvent(new Event("tankfoot-theme"));
    });
  }
}
entry("currency").value = settings().currency;
entry("currency").addEventListener("input", () => keep({ currency: entry("currency").value.trim() || "$" }));
entry("initials").value = settings().initials;
entry("initials").addEventListener("input", () => keep({ initials: entry("initials").value.trim() }));
for (const name of TICKS) {
  entry(name).checked = settings()[name];
  entry(name).addEventListener("change", () => keep({ [name]: entry(name).checked }));
}
entry("contact_limit").value = String(settings().contact_limit);
entry("contact_limit").addEventListener("change", () => keep({ contact_limit: Number(entry("contact_limit").value) }));
entry("altitude").value = local(settings().altitude);
entry("air_pressure").value = settings().altitude ? "" : local(settings().values.air_pressure ?? "");
for (const name of AS_TYPED) entry(name).value = local(settings().values[name] ?? "");
for (const name of Object.keys(DECLARED_AT)) entry(name).addEventListener("input", () => keepValues());
showWorkedOut();
entry("aloud-voice").hidden = await ownVoice() !== null;

function keepValues() {
  const texts = Object.fromEntries(Object.keys(DECLARED_AT).map((name) => [name, local(entry(name).value.trim())]));
  const sound = Object.keys(DECLARED_AT).filter((name) => isSound(name, texts[name]));
  const values = {};
  for (const name of AS_TYPED) if (sound.includes(name)) values[name] = withUnit(name, texts[name]);
  if (sound.includes("air_pressure")) values.air_pressure = withUnit("air_pressure", texts.air_pressure);
  else if (sound.includes("altitude")) values.air_pressure = fromAltitude(texts.altitude);
  keep({ altitude: sound.includes("altitude") ? texts.altitude : "", values });
  showWorkedOut();
}

/** Whether a value is there and can be read; says what is wrong with one that cannot. */
function isSound(name, text) {
  const id = DECLARED_AT[name];
  const found = text && fieldProblem(calculators[id].fields[name], text, settings().system);
  entry(`${name}-problem`).textContent = found ? problemText(id, { field: name, ...found }) : "";
  return text !== "" && !found;
}

/** The text with the unit that a bare number is in now, so that a later change of system does not move it. */
function withUnit(name, text) {
  const { unit } = readField(calculators[DECLARED_AT[name]].fields[name], text, settings().system);
  return /[0-9.,]$/.test(text) ? `${text} ${unit}` : text;
}

function fromAltitude(text) {
  return reckon("air-pressure", airPressure, { altitude: text }, settings().system).results.air_pressure.text;
}

function showWorkedOut() {
  const { air_pressure: used } = settings().values;
  entry("air_pressure-used").textContent = used
    ? words("settings.air", { pressure: local(used) }) : words("settings.sea_level");
}
