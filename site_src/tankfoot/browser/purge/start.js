/** Which tank is purged, and a purge that has not begun yet. */

import { newEntry, ofKind } from "../storage/record.js";
import { settings } from "../storage/settings.js";
import { tankTexts } from "../storage/current_tank.js";
import { element } from "../parts/figures.js";
import { orTell } from "../parts/trouble.js";

/** Shows the tanks to pick from; resolves to the one asked for in the address or in hand, or null. */
export async function showTanks(page, pick) {
  const tanks = (await orTell(ofKind("tank")) ?? []).filter(({ deleted }) => !deleted);
  tanks.sort((a, b) => a.body.name.localeCompare(b.body.name, undefined, { numeric: true }));
  const asked = new URLSearchParams(location.hash.slice(1)).get("tank") ?? settings().tank?.id;
  page.querySelector("[data-no-tanks]").hidden = tanks.length > 0;
  page.querySelector("[data-tanks]").replaceChildren(...tanks.map((entry) => {
    const radio = element("input", { type: "radio", name: "tank", value: entry.id, checked: entry.id === asked });
    radio.addEventListener("change", () => pick(entry));
    return element("label", {}, radio, element("span", { textContent: entry.body.name }));
  }));
  return tanks.find(({ id }) => id === asked) ?? null;
}

const FROM_THE_TANK = [
  "headspace", "temperature", "air_pressure", "rated_pressure", "pressure_found", "target_pressure", "floor_pressure",
  "beer_value",
];

/** @param {object|null} tank the tank's entry */
export function freshPurge(tank) {
  const known = tank ? tankTexts(tank.body, settings().system) : {};
  const texts = { ...settings().values, ...known, target_pressure: known.hold_pressure };
  const readings = Object.fromEntries(FROM_THE_TANK.filter((name) => texts[name]).map((name) => [name, texts[name]]));
  const body = {
    tank: tank?.id ?? null, tank_name: tank?.body.name ?? "", solids: "trub", state: "choose", open: 1, events: [],
    readings, gas_shut: null, result: {}, agree: null, notes: "", photo: null,
  };
  return { ...newEntry("purge", body), demo: tank?.demo ?? false };
}
