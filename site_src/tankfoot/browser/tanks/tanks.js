/** The tanks page: each tank with a small drawing, what it holds, and what can be done with it. */

import { drawTank } from "../drawing/tank.js";
import { tankFigures } from "../drawing/tank_figures.js";
import { refreshHand, takeInHand } from "../storage/current_tank.js";
import { edited, get, ofKind, put, RecordTrouble } from "../storage/record.js";
import { letGo, settings } from "../storage/settings.js";

const page = document.querySelector("[data-tanks-page]");
const card = page.querySelector("[data-tank-card]");
const trouble = page.querySelector("[data-trouble]");

await inWords(show);
await inWords(offerUndo);
page.dataset.ready = "true";

async function show() {
  const tanks = (await ofKind("tank")).filter(({ deleted }) => !deleted);
  tanks.sort((a, b) => a.body.name.localeCompare(b.body.name, undefined, { numeric: true }));
  page.querySelector("[data-none]").hidden = tanks.length > 0;
  page.querySelector("[data-list]").replaceChildren(...tanks.map(cardOf));
}

function cardOf(entry) {
  const { id, body, demo } = entry;
  const item = document.importNode(card.content, true).firstElementChild;
  const figures = tankFigures(body);
  item.querySelector("[data-name]").textContent = demo ? `${body.name} (invented)` : body.name;
  item.querySelector("[data-pressure]").textContent = figures.pressure ?? "not read";
  item.querySelector("[data-headspace]").textContent = figures.headspace;
  item.querySelector("[data-beer]").textContent = figures.beer_volume;
  item.querySelector("[data-purge]").hash = new URLSearchParams({ tank: id });
  item.querySelector("[data-edit]").hash = new URLSearchParams({ id });
  item.querySelector("[data-purge]").addEventListener("click", () => takeInHand(entry));
  item.querySelector("[data-hand]").addEventListener("click", () => inWords(() => turnHand(entry)));
  showHand(item, id);
  drawTank(item.querySelector("svg"), body, { small: true });
  return item;
}

async function turnHand(entry) {
  if (settings().tank?.id === entry.id) letGo();
  else takeInHand(entry);
  await show();
  page.querySelector(`[data-hand-of="${entry.id}"]`).focus();
}

function showHand(item, id) {
  const isInHand = settings().tank?.id === id;
  const button = item.querySelector("[data-hand]");
  button.dataset.handOf = id;
  button.setAttribute("aria-pressed", String(isInHand));
  button.textContent = isInHand ? "✓ In hand: let go" : "Take in hand";
}

/** A tank deleted a moment ago can be had back. */
async function offerUndo() {
  const id = new URLSearchParams(location.hash.slice(1)).get("deleted");
  const entry = id && await get(id);
  if (!entry?.deleted) return;
  const line = page.querySelector("[data-undo]");
  line.hidden = false;
  line.querySelector("[data-undo-says]").textContent = `${entry.body.name} is deleted.`;
  line.querySelector("button").addEventListener("click", () => inWords(() => undo(entry, line)), { once: true });
}

async function undo(entry, line) {
  const back = edited(entry, entry.body, { deleted: false });
  await put(back);
  refreshHand(back);
  line.hidden = true;
  history.replaceState(null, "", location.pathname);
  await show();
}

async function inWords(work) {
  try {
    await work();
    trouble.textContent = "";
  } catch (error) {
    if (!(error instanceof RecordTrouble)) throw error;
    trouble.textContent = error.message;
  }
}
