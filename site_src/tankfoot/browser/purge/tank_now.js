/** What a purge leaves behind: what the tank holds now, and when it is due again. */

import { openHolds } from "../../tanks/hold.js";
import { words } from "../../wording/words.js";
import { drawTank } from "../drawing/tank.js";
import { tankFigures } from "../drawing/tank_figures.js";
import { written } from "../parts/dates.js";
import { nextPurge, waitFor } from "../parts/due_now.js";
import { whenDue } from "../parts/due_text.js";
import { reasonsOf } from "../parts/held.js";
import { holdsOfTank } from "../storage/holds.js";

/** @param {HTMLElement} here the section of the step @param {object} run */
export async function showTankNow(here, run) {
  const place = here.querySelector("[data-tank-now]");
  if (!place) return;
  const { tank, keeper } = run;
  place.hidden = !tank || keeper.isRehearsal;
  if (place.hidden) return;
  const { beer_volume: beer, headspace, pressure } = tankFigures(tank.body);
  const facts = { tank: tank.body.name, beer, headspace, pressure: pressure ?? words("tank.not_read") };
  drawTank(place.querySelector("svg"), tank.body, { small: true });
  place.querySelector("[data-holds]").textContent = words("purge.tank_now", facts);
  place.querySelector("[data-due-again]").textContent = await dueAgain(tank);
  place.querySelector("a").hash = new URLSearchParams({ id: tank.id }).toString();
}

async function dueAgain(tank) {
  const holds = openHolds(await holdsOfTank(tank.id), tank.id);
  if (holds.length) return words("purge.held_now", { why: reasonsOf(holds) });
  const next = await nextPurge(tank);
  if (!next) return words("purge.no_rhythm");
  return words("purge.due_again", { when: written(next.from, "weekday"), wait: whenDue(waitFor(next)) });
}
