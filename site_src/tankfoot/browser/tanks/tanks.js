/** The tanks page: each tank with a small drawing, what it holds, and what can be done with it. */

import { openHolds } from "../../tanks/hold.js";
import { drawTank } from "../drawing/tank.js";
import { tankFigures } from "../drawing/tank_figures.js";
import { words } from "../../wording/words.js";
import { byName } from "../parts/by_name.js";
import { reasonsOf } from "../parts/held.js";
import { orShowTrouble } from "../parts/trouble.js";
import { refreshCurrentTank, setCurrentTank } from "../storage/current_tank.js";
import { edited, get, ofKind, put, unliftedHolds } from "../storage/record.js";
import { inAddress } from "../parts/address.js";

const page = document.querySelector("[data-tanks-page]");
const card = page.querySelector("[data-tank-card]");

await orShowTrouble(show());
await orShowTrouble(offerUndo());
page.dataset.ready = "true";

async function show() {
  const [tanks, holds] = await Promise.all([ofKind("tank"), unliftedHolds()]);
  page.querySelector("[data-none]").hidden = tanks.length > 0;
  page.querySelector("[data-walk-row]").hidden = tanks.length === 0;
  page.querySelector("[data-list]").replaceChildren(
    ...byName(tanks).map((entry) => cardOf(entry, openHolds(holds, entry.id))),
  );
}

function cardOf(entry, holds) {
  const { id, body, demo } = entry;
  const item = document.importNode(card.content, true).firstElementChild;
  const figures = tankFigures(body);
  const name = item.querySelector("[data-tank]");
  name.textContent = demo ? words("tank.invented", body) : body.name;
  name.hash = new URLSearchParams({ id });
  item.querySelector("[data-pressure]").textContent = figures.pressure ?? words("tank.not_read");
  item.querySelector("[data-headspace]").textContent = figures.headspace;
  item.querySelector("[data-beer]").textContent = figures.beer_volume;
  item.querySelector("[data-purge]").hash = new URLSearchParams({ tank: id });
  item.querySelector("[data-purge]").addEventListener("click", () => setCurrentTank(entry));
  showHeld(item, holds);
  drawTank(item.querySelector("svg"), body, { small: true });
  return item;
}

/** A tank out of use is not purged; its page, one tap away, is where it is put back into use. */
function showHeld(item, holds) {
  const place = item.querySelector("[data-held]");
  if (!holds.length) {
    place.remove();
    return;
  }
  item.querySelector("[data-purge]").hidden = true;
  place.querySelector("[data-held-why]").textContent = reasonsOf(holds);
}

/** A tank deleted a moment ago can be had back. */
async function offerUndo() {
  const id = inAddress().get("deleted");
  const entry = id && await get(id, "tank");
  if (!entry?.deleted) return;
  const line = page.querySelector("[data-undo]");
  line.hidden = false;
  line.querySelector("[data-undo-says]").textContent = words("tank.deleted", { name: entry.body.name });
  line.querySelector("button").addEventListener("click", () => orShowTrouble(undo(entry, line)), { once: true });
}

async function undo(entry, line) {
  const back = edited(entry, entry.body, { deleted: false });
  await put(back);
  refreshCurrentTank(back);
  line.hidden = true;
  history.replaceState(null, "", location.pathname);
  await show();
}
