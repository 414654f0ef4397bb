/** One answer about what purges cost, as the page shows it: figures, sentences, tables. */

import { units } from "../../quantities/declared.js";
import { tells } from "../../usual/purges.js";
import { listed, words } from "../../wording/words.js";
import { element, figure } from "../parts/figures.js";
import { unitOf } from "../storage/units.js";
import { written } from "../parts/dates.js";
import { showMisses } from "./misses.js";
import { showBatches, showChart, showGroups } from "./pictures.js";
import { amountOf, amountSaid, cellsOf, KINDS, short, tableOf } from "./told.js";

const LEFT = ["volume_lost", "solids", "beer_in_solids", "overrun"]; // the whole, and what it is the sum of

/** @param {HTMLElement} page @param {any} told see reckoned.js */
export async function show(page, told) {
  const part = (name) => page.querySelector(`[data-${name}]`);
  const beers = new Map(told.beers.map(([id, { beer, created }]) => [id, words("cost.batch", { beer, day: written(created, "shortDay") })]));
  part("seen").hidden = told.trust === null;
  part("headline").replaceChildren(...headline(told.figures));
  part("says").replaceChildren(...sentences(told).map((textContent) => element("li", { textContent })));
  part("figures").replaceChildren(tableOf([words("cost.columns.sum"), words("cost.columns.median")], allFigures(told.figures)));
  showMisses(page, told.misses);
  showChart(page, told.overruns);
  showGroups(page, told.groups.map(([key, figures]) => [groupName(part("by").value, key, beers), figures]), told.figures);
  showBatches(page, told.batches.map(([id, figures]) => [beers.get(id), figures]));
  if (told.trust) await (await import("./seen.js")).showSeen(page, told);
}

/** The overrun first, and what it is worth; then what is saved. */
function headline(figures) {
  const told = ["overrun", "money_overrun", "saved", "money_saved"].filter((name) => figures[name].told > 0);
  return told.map((name) => {
    const made = figure(labelOf(name), amountOf(figures[name]), KINDS[name]);
    made.dataset.told = name;
    if (!tells(amountOf(figures[name]))) made.append(element("p", { className: "doubt", textContent: words("cost.tells_too_little") }));
    return made;
  });
}

function labelOf(name) {
  const own = { overrun: "cost.overrun", money_overrun: "cost.overrun_worth", saved: "cost.saved" };
  return words(Object.hasOwn(own, name) ? own[name] : `cost.measures.${name}`);
}

function sentences({ figures, share, baseline, isWhole }) {
  const { beer_in_solids: carried } = figures;
  const found = [];
  if (addUp(figures)) {
    found.push(words("cost.parts", Object.fromEntries(LEFT.map((name) => [name, short(figures[name].sum, "bucket_volume")]))));
  }
  if (carried.told) {
    const assumed = short(carried.assumed, "bucket_volume");
    found.push(words(carried.assumed > 0 ? "cost.carried" : "cost.carried_measured", { ...amountSaid(carried, "bucket_volume"), assumed }));
  }
  if (share) {
    found.push(words("cost.share", {
      count: share.batches, share: short(share.lost / share.filled, "share"), lost: short(share.lost, "tank_volume"), filled: short(share.filled, "tank_volume"),
    }));
    if (share.packed > 0) found.push(packed(share));
  }
  const kinds = Object.entries(baseline).map(([kind, { seconds }]) => words("cost.saved_kind", {
    kind: words(`purge.solids.${kind}`), seconds: short(seconds, "duration"),
  }));
  const count = Object.values(baseline).reduce((all, { purges }) => all + purges, 0);
  if (kinds.length) found.push(words("cost.saved_from", { count, kinds: listed(kinds) }));
  else if (isWhole) found.push(words("cost.no_baseline"));
  if (!figures.money_beer.told) found.push(words("cost.not_priced"));
  return found;
}

/** Whether the parts are told of every purge that tells the whole. */
function addUp(figures) {
  return figures.volume_lost.told > 0 && LEFT.every((name) => figures[name].told === figures.volume_lost.told);
}

/** Of each barrel, say, that is left to pack: so much. */
function packed({ lost, packed: left }) {
  const unit = unitOf("tank_volume");
  return words("cost.packed", { unit: `1 ${unit}`, each: short(lost / left * units[unit].factor, "bucket_volume") });
}

/** @returns {[string, string[]][]} every measure that any purge tells */
function allFigures(figures) {
  return Object.keys(KINDS).filter((name) => figures[name].told > 0).map((name) => [labelIn(name), cellsOf(figures[name], KINDS[name])]);
}

function labelIn(name) {
  return words(`cost.measures.${name}`);
}

function groupName(by, key, beers) {
  if (by === "solids") return words(`purge.solids.${key}`);
  if (by === "batches") return beers.get(key) ?? key.slice(0, 8);
  if (by === "tanks") return key || words("cost.no_tank");
  return by === "months" ? written(`${key}-15T12:00:00.000Z`, "month") : key;
}
