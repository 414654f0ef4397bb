/** The current tank, which the hand is at: what is known of it, as texts that fill in every calculator and checklist. */

import { offered, readQuantity } from "../../quantities/text.js";
import { formatIn } from "../../quantities/format.js";
import { NORMAL_PRESSURE } from "../../physics/gas.js";
import { lastPressure, ventedGas } from "../../tanks/gas.js";
import { tankShape } from "../../tanks/shape.js";
import { clearCurrentTank, saveSettings, settings } from "./settings.js";

/** Field names and what the tank says of each: its kind of quantity, and the value in SI. */
const FIELDS = {
  headspace: ["tank_volume", (body, shape) => shape.headspace],
  beer_volume: ["tank_volume", (body) => body.beer_volume],
  temperature: ["temperature", (body) => body.temperature],
  temperature_before: ["temperature", (body) => body.temperature],
  pressure: ["gauge_pressure", lastPressure],
  pressure_before: ["gauge_pressure", lastPressure],
  pressure_found: ["gauge_pressure", (body) => body.pressure],
  hold_pressure: ["gauge_pressure", (body) => body.hold_pressure],
  rated_pressure: ["gauge_pressure", (body) => body.rated_pressure],
  floor_pressure: ["gauge_pressure", (body) => body.floor_pressure],
  bore: ["bore", (body) => body.bore],
  liquid_head: ["head", (body, shape) => shape.level],
  arm_height: ["length", (body) => body.arm_height],
  tank_diameter: ["length", (body) => body.diameter],
  cone_angle: ["angle", (body) => body.cone_angle],
  "air-purge.volume": ["tank_volume", (body, shape) => shape.headspace],
  "room-co2.released_mass": ["gas_mass", (body) => ventedGas(body, airPressure())],
  "tank.diameter": ["length", (body) => body.diameter],
  "tank.straight_height": ["length", (body) => body.straight_height],
  "tank.head_depth": ["length", (body) => body.head_depth],
  "tank.head_volume": ["tank_volume", (body) => body.head_volume],
  "tank.pressure": ["gauge_pressure", (body) => body.pressure],
  "tank.purge_every": ["clock_time", (body) => body.purge_every],
};

/** Pa, as this site's settings have it. */
export function airPressure() {
  const { air_pressure: typed } = settings().values;
  return typed ? readQuantity(typed, "absolute_pressure", "kPa").si : NORMAL_PRESSURE;
}

/** @returns {Object<string, string>} texts by field name, in a system's units; nothing for what is not known */
export function tankTexts(body, system, digits) {
  const shape = tankShape(body);
  const texts = {};
  for (const [name, [kind, value]] of Object.entries(FIELDS)) {
    const si = value(body, shape);
    if (si !== null && si !== undefined) texts[name] = formatIn(si, offered(kind, system)[0], digits);
  }
  return { ...texts, ...topUp(body, system) };
}

/** A top-up goes from the last reading to the hold pressure; where one is not known the page must ask. */
function topUp({ pressure, hold_pressure: hold }, system) {
  const [unit] = offered("gauge_pressure", system);
  const textOf = (si) => ((si ?? null) === null ? "" : formatIn(si, unit));
  return {
    "co2-top-up.pressure_before": textOf(pressure),
    "co2-top-up.pressure_after": textOf(hold),
  };
}

/** Makes a tank the current one; returns false where the phone refuses to remember it. */
export function setCurrentTank({ id, body }) {
  return saveSettings({ tank: { id, name: body.name, values: tankTexts(body, settings().system) } });
}

/** A tank that changed: if it is the current one, what it says changes with it. */
export function refreshCurrentTank(entry) {
  if (settings().tank?.id !== entry.id) return;
  if (entry.deleted) clearCurrentTank();
  else setCurrentTank(entry);
}
