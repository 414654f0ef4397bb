/** The round that is under way, first on Today, with what each of its tanks waits for; else the way to a new one. */

import { words } from "../../wording/words.js";
import { element } from "../parts/figures.js";
import { waitOf } from "../parts/purge_wait.js";
import { latestRound, purgesOf } from "../storage/rounds.js";

const OVER = ["done", "left", "left-out"];

/** @param {HTMLElement} page @param {boolean} hasTanks */
export async function showRound(page, hasTanks) {
  const round = await latestRound();
  const isOpen = round !== null && round.body.ended === null;
  page.querySelector("[data-round-now]").hidden = !isOpen;
  page.querySelector("[data-round-new]").hidden = isOpen || !hasTanks;
  if (!isOpen) return;
  const purges = await purgesOf(round);
  const waits = round.body.tanks.map(({ tank, tank_name: name, left_out: out }) => (
    { name, what: out === null ? waitOf(purges.get(tank) ?? null).what : "left-out" }
  ));
  const done = waits.filter(({ what }) => OVER.includes(what)).length;
  page.querySelector("[data-round-says]").textContent = words("round.progress", { done, count: waits.length });
  page.querySelector("[data-round-waits]").replaceChildren(...waits.map(({ name, what }) => (
    element("span", { textContent: words("round.next", { tank: name, waits: words(`round.waits.${what}`, { left: "" }) }) })
  )));
}
