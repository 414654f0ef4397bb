/** The tiles of what is due: one a tank, with all that is asked there; one for the walk along the gauges. */

import { words } from "../../wording/words.js";
import { dueLine, dueWhy, isDue } from "../parts/due_now.js";
import { element } from "../parts/figures.js";
import { setCurrentTank } from "../storage/current_tank.js";

/** Where a tap on what is asked leads, by the page's templates. */
const ASKED = { purge: "tile", look: "tile-out" };

/**
 * @param {any[]} items in walking order @param {any[]} rules @param {Map<string, object>} tanks entries by id
 * @param {{tileOf: Function, nameOf: Function, beers: Map<string, string>}} page how the page makes a tile
 */
export function dueTiles(items, rules, tanks, { tileOf, nameOf, beers }) {
  const shown = items.filter(({ asks }) => asks !== "reading");
  return [...new Set(shown.map(({ tank }) => tank))].map((id) => {
    const asked = shown.filter(({ tank: of }) => of === id);
    const tank = tanks.get(id);
    const first = asked.find(({ asks }) => asks === "purge") ?? asked[0];
    const beer = beers.get(first.batch);
    const title = beer ? words("today.tank_with_beer", { tank: nameOf(tank), beer }) : nameOf(tank);
    const address = first.asks === "purge" ? { tank: id } : { id };
    const made = tileOf(address, title, "", ASKED[first.asks]);
    const tile = made.firstElementChild;
    tile.querySelector("span").remove();
    tile.append(...asked.flatMap((item) => linesOf(item, rules, asked.length > 1)));
    tile.toggleAttribute("data-late", asked.some(isDue));
    made.dataset.of = id;
    tile.addEventListener("click", () => setCurrentTank(tank));
    return made;
  });
}

/** Why is said of what is due; the tank's own interval says so where it does not stand alone. */
function linesOf(item, rules, isBesideOthers) {
  const isOwn = item.rule === "every";
  const line = dueLine(item, rules);
  const says = element("span", { textContent: isOwn && isBesideOthers ? words("today.own_interval", { when: line }) : line });
  says.dataset.rule = item.rule;
  return isOwn || !isDue(item) ? [says] : [says, element("span", { className: "why", textContent: dueWhy(item) })];
}

/** The tanks whose gauge is to be read, on one tile: one walk reads them all. */
export function gaugeTile(items, tanks, { tileOf, nameOf }) {
  const asked = items.filter(({ asks }) => asks === "reading");
  if (!asked.length) return [];
  const names = asked.map(({ tank }) => nameOf(tanks.get(tank))).join(", ");
  const made = tileOf({}, words("today.gauges"), names, "tile-gauges");
  made.firstElementChild.toggleAttribute("data-late", true);
  return [made];
}
