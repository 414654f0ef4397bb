/** What is due can be put off, one thing at a time, for some days, with a reason that is kept. */

import { startOfDay } from "../../batches/wall_clock.js";
import { words } from "../../wording/words.js";
import { dueLine, nowInstant, zone } from "../parts/due_now.js";
import { element } from "../parts/figures.js";
import { orShowTrouble } from "../parts/trouble.js";
import { newEntry, put } from "../storage/record.js";
import { settings } from "../storage/settings.js";

/**
 * @param {HTMLElement} page @param {any[]} items those that are due @param {any[]} rules
 * @param {Map<string, object>} tanks entries by id @param {() => Promise<void>} showAgain
 */
export function offerToPutOff(page, items, rules, tanks, showAgain) {
  const place = page.querySelector("[data-put-off]");
  const part = (name) => place.querySelector(`[data-${name}]`);
  place.hidden = items.length === 0;
  if (place.open) return; // what a hand is writing stays
  part("what").replaceChildren(...items.map((item, place) => element("option", {
    value: String(place),
    textContent: words("today.put_off_one", { tank: tanks.get(item.tank).body.name, what: dueLine(item, rules) }),
  })));
  part("problem").textContent = "";
  part("put-off-now").onclick = async () => {
    const why = part("why").value.trim();
    part("problem").textContent = why ? "" : words("today.why_first");
    if (!why) return part("why").focus();
    const { key, tank } = items[Number(part("what").value)];
    const until = startOfDay(nowInstant(), Number(part("days").value), zone());
    const body = { item: key, tank, until, why, by: settings().initials || null };
    if (!await orShowTrouble(put({ ...newEntry("postponement", body), demo: tanks.get(tank).demo }))) return;
    part("why").value = "";
    place.open = false;
    await showAgain();
  };
}
