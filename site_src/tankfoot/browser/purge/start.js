/** What is purged: the tank, and what must be known of it before a purge begins. */

import { byName } from "../parts/by_name.js";
import { element } from "../parts/figures.js";
import { reasonsOf } from "../parts/held.js";
import { orShowTrouble } from "../parts/trouble.js";
import { openHoldsOf } from "../storage/holds.js";
import { ofKind } from "../storage/record.js";
import { settings } from "../storage/settings.js";

/**
 * Shows the tanks to pick from; `pick` is called with the one that is picked, at first with the one asked for.
 *
 * @param {string|null} asked the id of a tank @param {object[]} running purges that have a port open now
 */
export async function showChoice(page, asked, running, pick) {
  const found = await orShowTrouble(ofKind("tank"));
  const tanks = byName(found ?? []);
  const chosen = tanks.find(({ id }) => id === (asked ?? settings().tank?.id)) ?? null;
  page.querySelector("[data-no-tanks]").hidden = !found || tanks.length > 0;
  page.querySelector("[data-tanks]").replaceChildren(...tanks.map((entry) => {
    const radio = element("input", { type: "radio", name: "tank", value: entry.id, checked: entry === chosen });
    radio.addEventListener("change", () => take(entry));
    return element("label", {}, radio, element("span", { textContent: entry.body.name }));
  }));
  page.querySelector("[data-hand]").value = settings().initials;
  await take(chosen);

  async function take(tank) {
    await pick(tank);
    const holds = tank ? await orShowTrouble(openHoldsOf(tank.id)) ?? [] : [];
    showHeld(page.querySelector("[data-step=choose] [data-held]"), tank, holds);
    page.querySelector("[data-port-open]").hidden = running.length === 0;
    const isNoWay = holds.length > 0 || running.length > 0;
    page.querySelector("[data-step=choose] [data-event=begin]").hidden = isNoWay;
    page.toggleAttribute("data-no-begin", isNoWay);
  }
}

/** Says why a tank is out of use, where it is. @param {HTMLElement} place @param {object[]} holds that are not lifted */
export function showHeld(place, tank, holds) {
  place.hidden = holds.length === 0;
  if (!holds.length) return;
  place.querySelector("[data-held-why]").textContent = reasonsOf(holds);
  place.querySelector("[data-held-link]").hash = new URLSearchParams({ id: tank.id }).toString();
}
