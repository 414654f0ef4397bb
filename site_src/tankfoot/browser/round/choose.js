/** Which tanks a round has: those that are due are ticked, those out of use cannot be. */

import { openHolds } from "../../tanks/hold.js";
import { byName } from "../parts/by_name.js";
import { dueNow, isDue } from "../parts/due_now.js";
import { element } from "../parts/figures.js";
import { reasonsOf } from "../parts/held.js";
import { orShowTrouble } from "../parts/trouble.js";
import { newEntry, ofKind, unliftedHolds } from "../storage/record.js";
import { saveSettings, settings } from "../storage/settings.js";

/** @param {HTMLElement} place @param {(round: object) => Promise<void>} begin is given the entry, not yet written */
export async function chooseTanks(place, begin) {
  const [tanks, holds] = await orShowTrouble(Promise.all([ofKind("tank"), unliftedHolds()])) ?? [[], []];
  const due = await dueAmong(tanks);
  place.querySelector("[data-no-tanks]").hidden = tanks.length > 0;
  for (const each of place.querySelectorAll("[data-some-tanks]")) each.hidden = tanks.length === 0;
  place.querySelector("[data-tanks]").replaceChildren(
    ...byName(tanks).map((tank) => tickOf(tank, openHolds(holds, tank.id), due.includes(tank.id))),
  );
  const hand = place.querySelector("[data-hand]");
  hand.value = settings().initials;
  const button = place.querySelector("[data-begin]");
  const ticked = () => byName(tanks).filter(({ id }) => place.querySelector(`[value="${id}"]`).checked);
  const showButton = () => { button.disabled = ticked().length === 0; };
  place.querySelector("[data-tanks]").onchange = showButton;
  showButton();
  button.onclick = async () => {
    button.disabled = true; // a second tap meanwhile is none
    const initials = hand.value.trim();
    await saveSettings({ initials });
    const chosen = ticked();
    const rows = chosen.map(({ id, body }) => ({ tank: id, tank_name: body.name, left_out: null, pressure: null, read: null }));
    const body = { initials: initials || null, tanks: rows, ended: null, open: 1 };
    await begin({ ...newEntry("round", body), demo: chosen.every(({ demo }) => demo) });
    showButton();
  };
}

/** The tanks in which a purge is due. */
async function dueAmong(tanks) {
  const { items } = await orShowTrouble(dueNow(tanks)) ?? { items: [] };
  return items.filter((item) => item.asks === "purge" && isDue(item)).map(({ tank }) => tank);
}

function tickOf({ id, body }, holds, isDue) {
  const input = element("input", { type: "checkbox", value: id, checked: isDue && !holds.length, disabled: holds.length > 0 });
  const why = holds.length ? [element("span", { className: "value", textContent: reasonsOf(holds) })] : [];
  return element("label", { className: "tick" }, input, " ", element("span", { className: "act", textContent: body.name }), " ", ...why);
}
