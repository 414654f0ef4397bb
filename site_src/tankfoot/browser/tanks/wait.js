/** "Wait a day?" on a tank's page: what a day more of rest did to the beer lost here, or that nobody can tell yet. */

import { pastOf } from "../../purge/past.js";
import { formatIn } from "../../quantities/format.js";
import { local } from "../../quantities/locale.js";
import { LATEST_RESTS, restEffect } from "../../usual/rest.js";
import { words } from "../../wording/words.js";
import { LOST_KIND } from "../parts/purge_line.js";
import { fillingsOf, pastOfTank } from "../storage/past.js";
import { unitOf } from "../storage/units.js";

/** Of the kind of solids that came out last. @param {HTMLElement} place @param {any} tank its entry */
export async function showWait(place, tank) {
  const purges = await pastOfTank(tank, LATEST_RESTS);
  const was = pastOf(purges, { [tank.id]: await fillingsOf(tank, purges) });
  place.hidden = was.length === 0;
  if (!was.length) return;
  const { solids } = was[was.length - 1];
  const told = was.filter((each) => each.solids === solids && each.rest !== null && each.loss !== null);
  const effect = restEffect(told);
  const kind = words(`purge.solids.${solids}`);
  place.querySelector("[data-says]").textContent = effect ? saidOf(effect, kind) : words("tank.wait.unknown", { kind, count: told.length });
}

function saidOf({ a_day: aDay, low, high, count }, kind) {
  const [least, amount, most] = [low, aDay, high].map(Math.abs).sort((a, b) => a - b);
  const unit = unitOf(LOST_KIND);
  const [from, to] = [least, most].map((value) => local(formatIn(value, unit, 2)));
  return words(`tank.wait.${aDay < 0 ? "saved" : "cost"}`, { kind, amount: local(formatIn(amount, unit, 2)), from, to, count });
}
