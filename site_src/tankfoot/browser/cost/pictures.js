/** The pictures of what purges cost, each with its numbers in a table behind it. */

import { words } from "../../wording/words.js";
import { written } from "../parts/dates.js";
import { amountText } from "../parts/figures.js";
import { amountSaid, cellsOf, KINDS, short, tableOf } from "./told.js";

const IN_TABLE = ["overrun", "money_overrun", "beer_in_solids", "solids", "co2_mass", "seconds", "money"];

/** @param {HTMLElement} page @param {{at: string, value: number, uncertainty: number}[]} overruns in the order of time */
export function showChart(page, overruns) {
  const part = (name) => page.querySelector(`[data-${name}]`);
  part("chart-table").replaceChildren(tableOf([words("cost.measures.overrun")], [...overruns].reverse().map(({ at, ...amount }) => {
    const { text, give_or_take: spread } = amountText(amount, KINDS.overrun);
    return [written(at, "shortDayAndTime"), [`${text} ${spread}`.trim()]];
  })));
}

/** @param {HTMLElement} page @param {[string, any][]} groups names and figures @param {any} all */
export function showGroups(page, groups, all) {
  const part = (name) => page.querySelector(`[data-${name}]`);
  const told = groups.filter(([, { overrun }]) => overrun.told > 0);
  const [name, most] = told.reduce((largest, each) => (largest && largest[1].overrun.sum >= each[1].overrun.sum ? largest : each), null) ?? [];
  part("most").textContent = told.length > 1 ? words("cost.most", { name, ...amountSaid(most.overrun, KINDS.overrun), all: short(all.overrun.sum, KINDS.overrun) }) : "";
  const shown = IN_TABLE.filter((measure) => all[measure].told > 0);
  part("dots-table").replaceChildren(tableOf([words("cost.columns.purges"), ...shown.map((measure) => words(`cost.measures.${measure}`))],
    groups.map(([group, figures]) => [group, [String(figures.purges), ...shown.map((measure) => cellsOf(figures[measure], KINDS[measure])[0])]])));
}

/** @param {HTMLElement} page @param {[string, any][]} batches names and figures, none where they are not asked for */
export function showBatches(page, batches) {
  page.querySelector("[data-batches]").hidden = batches.length === 0;
}
