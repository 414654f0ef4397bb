/** The way back to the round that the tank is one of; none while beer can run. */

import { latestRound } from "../storage/rounds.js";
import { orShowTrouble } from "../parts/trouble.js";

/** @param {HTMLElement} page @param {object} run the purge that is shown */
export async function showWayToRound(page, run) {
  const round = run.tank && !run.step.running ? await orShowTrouble(latestRound()) : null;
  const isOne = round && round.body.ended === null && round.body.tanks.some(({ tank }) => tank === run.tank.id);
  page.querySelector("[data-to-round]").hidden = !isOne || run.step.running;
}
