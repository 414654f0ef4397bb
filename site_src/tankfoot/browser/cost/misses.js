/** What went nearly wrong in a period, by month; never by person. */

import { words } from "../../wording/words.js";
import { written } from "../parts/dates.js";
import { element } from "../parts/figures.js";
import { tableOf } from "./told.js";

const COUNTS = ["wrong", "stops", "cards", "skipped"];

/** @param {HTMLElement} page @param {[string, any][]} months */
export function showMisses(page, months) {
  const part = (name) => page.querySelector(`[data-${name}]`);
  const rows = months.map(([month, told]) => [written(`${month}-15T12:00:00.000Z`, "month"), COUNTS.map((name) => String(told[name]))]);
  const reasons = months.flatMap(([, told]) => told.reasons);
  part("misses-none").hidden = rows.length > 0;
  part("misses").hidden = rows.length === 0;
  part("misses").replaceChildren(tableOf(COUNTS.map((name) => words(`cost.columns.${name}`)), rows));
  part("reasons").hidden = reasons.length === 0;
  part("reasons").querySelector("ul").replaceChildren(...reasons.map(([reason, count]) => (
    element("li", { textContent: count > 1 ? words("cost.reason", { reason, count }) : reason })
  )));
}
