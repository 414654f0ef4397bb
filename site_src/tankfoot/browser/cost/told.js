/** How figures of many purges are told: their kinds, their texts, a table of them. */

import { words } from "../../wording/words.js";
import { amountText, element } from "../parts/figures.js";

/** What is counted, and the kind of quantity that it is. */
export const KINDS = {
  overrun: "bucket_volume", money_overrun: "money", saved: "bucket_volume", money_saved: "money",
  beer_in_solids: "bucket_volume", solids: "bucket_volume", volume_lost: "bucket_volume",
  co2_mass: "gas_mass", seconds: "stay", money: "money", money_beer: "money", money_co2: "money", money_hand: "money",
};
const FEW_DIGITS = 3;

export function amountOf({ sum, uncertainty }) {
  return { value: sum, uncertainty };
}

/** The sum of a figure and its ±, as a sentence takes them. */
export function amountSaid(made, kind) {
  const { text, give_or_take: spread } = amountText(amountOf(made), kind);
  return { text, spread };
}

/** In three digits, without a ±. */
export function short(si, kind) {
  return amountText({ value: Number(si.toPrecision(FEW_DIGITS)), uncertainty: null }, kind).text;
}

/** The sum with its ±; the median and of how many. */
export function cellsOf(made, kind) {
  const { text, spread } = amountSaid(made, kind);
  const usual = made.median === null ? "–" : words("cost.of", { count: made.told, text: short(made.median, kind) });
  return [`${text} ${spread}`.trim(), usual];
}

/** @param {string[]} heads of the columns but the first @param {[string, string[]][]} rows */
export function tableOf(heads, rows) {
  return element("table", {},
    element("thead", {}, element("tr", {}, element("td"), ...heads.map((textContent) => element("th", { scope: "col", textContent })))),
    element("tbody", {}, ...rows.map(([name, cells]) => element("tr", {}, element("th", { scope: "row", textContent: name }),
      ...cells.map((textContent) => element("td", { textContent }))))));
}
