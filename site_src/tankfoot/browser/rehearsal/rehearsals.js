/** The list of rehearsals: the one under way, and what the log says of past ones. */

import { REHEARSAL } from "../../purge/pace.js";
import { element } from "../parts/figures.js";
import { trainingText } from "../parts/list_runs.js";
import { own } from "../parts/lookup.js";
import { orShowTrouble } from "../parts/trouble.js";
import { ofKind } from "../storage/record.js";
import { keptRehearsal } from "../storage/rehearsal.js";
import { realPurge, sayReal } from "./real.js";

const PAST = 10; // rows shown

const page = document.querySelector("[data-rehearsals]");
const tiles = [...page.querySelectorAll("[data-scenario]")];
const titles = Object.fromEntries(tiles.map((tile) => [tile.dataset.scenario, tile.querySelector("strong").textContent]));

const addresses = new Map(tiles.map((tile) => [tile, `${tile.href}#scenario=${tile.dataset.scenario}&anew`]));

await lookForReal();
document.addEventListener("visibilitychange", () => { if (!document.hidden) lookForReal(); });
addEventListener("pageshow", ({ persisted }) => { if (persisted) lookForReal(); });
const kept = await orShowTrouble(keptRehearsal());
if (kept && !kept.isOver && own(titles, kept.scenario)) {
  page.querySelector("[data-under-way]").hidden = false;
  page.querySelector("[data-under-way-title]").textContent = titles[kept.scenario];
}
const past = (await orShowTrouble(ofKind("training")) ?? [])
  .filter(({ body }) => body.exercise === REHEARSAL)
  .sort((a, b) => (a.created < b.created ? 1 : -1)).slice(0, PAST);
page.querySelector("[data-no-past]").hidden = past.length > 0;
page.querySelector("[data-past]").replaceChildren(...past.map((entry) => element("li", { textContent: trainingText(entry) })));
page.dataset.ready = "true";

/** Beside a real purge the tiles can be read, and lead nowhere. */
async function lookForReal() {
  const real = await realPurge();
  sayReal(page.querySelector("[data-real]"), real);
  for (const [tile, address] of addresses) {
    if (real) tile.removeAttribute("href");
    else tile.href = address;
  }
}
