/** Which tank is purged. */

import { byName } from "../parts/by_name.js";
import { ofKind } from "../storage/record.js";
import { settings } from "../storage/settings.js";
import { element } from "../parts/figures.js";
import { orShowTrouble } from "../parts/trouble.js";
import { inAddress } from "../parts/address.js";

/** Shows the tanks to pick from; resolves to the one asked for in the address or the current one, or null. */
export async function showTanks(page, pick) {
  const tanks = byName(await orShowTrouble(ofKind("tank")) ?? []);
  const asked = inAddress().get("tank") ?? settings().tank?.id;
  page.querySelector("[data-no-tanks]").hidden = tanks.length > 0;
  page.querySelector("[data-tanks]").replaceChildren(...tanks.map((entry) => {
    const radio = element("input", { type: "radio", name: "tank", value: entry.id, checked: entry.id === asked });
    radio.addEventListener("change", () => pick(entry));
    return element("label", {}, radio, element("span", { textContent: entry.body.name }));
  }));
  return tanks.find(({ id }) => id === asked) ?? null;
}
