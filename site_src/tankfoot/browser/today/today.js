/** Today: tanks out of use, a purge to go on with, the tanks that are due, and what comes next. */

import { regions } from "../../checklists/declared.js";
import { openHolds } from "../../tanks/hold.js";
import { stackLeft } from "../../purge/left.js";
import { LATEST, tables } from "../../purge/machine.js";
import { words } from "../../wording/words.js";
import { byName } from "../parts/by_name.js";
import { written } from "../parts/dates.js";
import { whenDue, withWaits } from "../parts/due_text.js";
import { element } from "../parts/figures.js";
import { reasonsOf } from "../parts/held.js";
import { offerLost } from "../parts/loss.js";
import { setCurrentTank } from "../storage/current_tank.js";
import { ofKind, unfinishedPurges } from "../storage/record.js";
import { settings } from "../storage/settings.js";
import { isShaped, isSound } from "../storage/sound.js";
import { orShowTrouble } from "../parts/trouble.js";
import { showRound } from "./round_tile.js";

const NEXT = 5; // tanks shown that are not due yet
const SIGNALS = { open: "DANGER", pressure: "WARNING" }; // by how a stack was left, where that can hurt someone

const page = document.querySelector("[data-today]");
const [tile, tileOut, tileUnread] = ["tile", "tile-out", "tile-unread"].map((name) => page.querySelector(`[data-${name}]`).content.firstElementChild);

await orShowTrouble(show());
page.dataset.ready = "true";
offerLost(page, () => orShowTrouble(show()));
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible") orShowTrouble(show());
});
addEventListener("pageshow", ({ persisted }) => {
  if (persisted) location.reload(); // the settings may have changed meanwhile
});

async function show() {
  const [unfinished, tanks, holds] = await Promise.all([unfinishedPurges(isShaped), ofKind("tank"), ofKind("tank-hold")]);
  const open = unfinished.filter(isSound);
  const held = byName(tanks).filter(({ id }) => openHolds(holds, id).length > 0);
  const timed = tanks.filter((tank) => tank.body.purge_every && !held.includes(tank));
  const ordered = await withWaits(timed);
  const due = ordered.filter(({ wait }) => wait <= 0);
  list("[data-held]", held.map((tank) => heldTile(tank, openHolds(holds, tank.id))));
  list("[data-open]", [...open.map(openTile), ...unfinished.filter((purge) => !open.includes(purge)).map(unreadTile)]);
  list("[data-due]", due.map(dueTile));
  list("[data-next]", ordered.slice(due.length, due.length + NEXT).map(dueTile));
  await showRound(page, tanks.length > 0);
  page.querySelector("[data-no-region]").hidden = settings().region in regions;
  page.querySelector("[data-no-tanks]").hidden = tanks.length > 0;
  page.querySelector("[data-no-times]").hidden = !tanks.length || timed.length + held.length > 0;
  page.querySelector("[data-nothing-due]").hidden = !timed.length || due.length > 0;
}

function heldTile(entry, holds) {
  return tileOf({ id: entry.id }, nameOf(entry), reasonsOf(holds), tileOut);
}

function openTile({ id, body, created, demo }) {
  const name = body.tank_name || words(`purge.solids.${body.solids}`);
  const tank = demo ? words("tank.invented", { name }) : name;
  const made = tileOf({ "go-on": id }, words("today.go_on_with", { tank }), written(created));
  const isStopped = Object.hasOwn(tables[LATEST], body.state) && tables[LATEST][body.state].stop === true;
  made.firstElementChild.classList.add("lead");
  made.firstElementChild.append(
    ...(isStopped ? [element("span", { textContent: words(`purge.stops.${body.state}`) })] : []),
    ...leftLines(body),
  );
  return made;
}

/** One that no screen can go on with is still told of: beer may run. */
function unreadTile({ id, body, created }) {
  const tank = body.tank_name || words(`purge.solids.${body.solids}`);
  const made = tileOf({ id }, words("today.unread", { tank }), written(created), tileUnread);
  made.firstElementChild.append(...leftLines(body));
  return made;
}

function leftLines({ events, state }) {
  const left = stackLeft(events, state);
  return left ? [leftLine(left)] : [];
}

/** How the stack was left, with a signal word where it can hurt someone. */
function leftLine(left) {
  const signal = SIGNALS[left];
  const says = words(`today.left.${left}`);
  if (!signal) return element("span", { textContent: says });
  const word = element("b", { textContent: words(`signals.${signal}`) });
  return element("span", { className: `hazard ${signal.toLowerCase()}` }, word, ` ${says}`);
}

function dueTile({ entry, wait }) {
  const made = tileOf({ tank: entry.id }, nameOf(entry), whenDue(wait));
  made.firstElementChild.toggleAttribute("data-late", wait <= 0);
  made.firstElementChild.addEventListener("click", () => setCurrentTank(entry));
  return made;
}

function nameOf({ demo, body: { name } }) {
  return demo ? words("tank.invented", { name }) : name;
}

function tileOf(address, title, says, template = tile) {
  const made = document.importNode(template, true);
  made.firstElementChild.hash = new URLSearchParams(address);
  made.querySelector("strong").textContent = title;
  made.querySelector("span").textContent = says;
  return made;
}

function list(place, tiles) {
  const section = page.querySelector(place);
  section.hidden = tiles.length === 0;
  section.querySelector("ul").replaceChildren(...tiles);
}
