/** How many things are due, on the app's icon where the phone can show that; and what has just become due, said once. */

import { words } from "../../wording/words.js";
import { dueLine } from "../parts/due_now.js";

let known = null; // what was due when Today was shown last

/** @param {HTMLElement} page @param {any[]} due @param {any[]} rules @param {Map<string, object>} tanks entries by id */
export function tellDue(page, due, rules, tanks) {
  const ids = due.map(({ tank, key }) => `${tank}.${key}`); // a key is one tank's own
  const fresh = known === null ? [] : due.filter((_, place) => !known.has(ids[place]));
  known = new Set(ids);
  const says = fresh.map((item) => words("today.put_off_one", { tank: tanks.get(item.tank).body.name, what: dueLine(item, rules) }));
  if (says.length) page.querySelector("[data-now-due]").textContent = words("today.now_due", { what: says.join("; ") });
  showBadge(due.length);
}

/** A number on the icon; a phone that has none, or does not allow it, shows none. */
function showBadge(count) {
  const shown = count ? navigator.setAppBadge?.(count) : navigator.clearAppBadge?.();
  shown?.catch((error) => console.info("no badge:", error.name));
}
