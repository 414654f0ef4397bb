/** Today: tanks out of use, a purge to go on with, the tanks that are due, and what comes next. */

import { regions } from "../../checklists/declared.js";
import { openHolds } from "../../tanks/hold.js";
import { stackLeft } from "../../purge/left.js";
import { LATEST, tables } from "../../purge/machine.js";
import { words } from "../../wording/words.js";
import { byName } from "../parts/by_name.js";
import { written } from "../parts/dates.js";
import { dueNow, isDue } from "../parts/due_now.js";
import { element } from "../parts/figures.js";
import { reasonsOf } from "../parts/held.js";
import { offerLost } from "../parts/loss.js";
import { ofKind, unfinishedPurges, unliftedHolds } from "../storage/record.js";
import { settings } from "../storage/settings.js";
import { isShaped, isSound } from "../storage/sound.js";
import { beersIn } from "../storage/stays.js";
import { orShowTrouble } from "../parts/trouble.js";
import { offerCalendar } from "./calendar.js";
import { dueTiles, gaugeTile } from "./due_tiles.js";
import { offerToPutOff } from "./put_off.js";
import { tellDue } from "./reminder.js";
import { showRound } from "./round_tile.js";

const NEXT = 5; // tanks shown that are not due yet
const EVERY = 60_000; // ms: while Today is open, what becomes due shows
const SIGNALS = { open: "DANGER", pressure: "WARNING" }; // by how a stack was left, where that can hurt someone

const page = document.querySelector("[data-today]");
const templates = Object.fromEntries(["tile", "tile-out", "tile-unread", "tile-gauges"].map((name) => (
  [name, page.querySelector(`[data-${name}]`).content.firstElementChild]
)));

await orShowTrouble(show());
page.dataset.ready = "true";
offerCalendar(page.querySelector("[data-calendar]"));
offerLost(page, () => orShowTrouble(show()));
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible") orShowTrouble(show());
});
setInterval(() => { if (document.visibilityState === "visible") orShowTrouble(show()); }, EVERY);
addEventListener("pageshow", ({ persisted }) => {
  if (persisted) location.reload(); // the settings may have changed meanwhile
});

async function show() {
  const [unfinished, tanks, holds] = await Promise.all([unfinishedPurges(isShaped), ofKind("tank"), unliftedHolds()]);
  const open = unfinished.filter(isSound);
  const held = byName(tanks).filter(({ id }) => openHolds(holds, id).length > 0);
  list("[data-held]", held.map((tank) => heldTile(tank, openHolds(holds, tank.id))));
  list("[data-open]", [...open.map(openTile), ...unfinished.filter((purge) => !open.includes(purge)).map(unreadTile)]);
  await Promise.all([showRound(page, tanks.length > 0), showDue(tanks, held)]);
  page.querySelector("[data-no-region]").hidden = settings().region in regions;
  page.querySelector("[data-no-tanks]").hidden = tanks.length > 0;
}

async function showDue(tanks, held) {
  const { items, rules, stays } = await dueNow(tanks);
  const byId = new Map(tanks.map((tank) => [tank.id, tank]));
  const beers = await beersIn(stays);
  const due = items.filter(isDue);
  const later = items.filter(({ state }) => state === "later");
  const making = { tileOf: (address, title, says, name) => tileOf(address, title, says, templates[name]), nameOf, beers };
  list("[data-due]", [...dueTiles(due, rules, byId, making), ...gaugeTile(due, byId, making)]);
  const soonest = [...new Set(later.map(({ tank }) => tank))].slice(0, NEXT);
  list("[data-next]", dueTiles(later.filter(({ tank }) => soonest.includes(tank)), rules, byId, making));
  offerToPutOff(page, due, rules, byId, () => orShowTrouble(show()));
  page.querySelector("[data-no-times]").hidden = !tanks.length || items.length + held.length > 0;
  page.querySelector("[data-nothing-due]").hidden = !items.length || due.length > 0;
  page.querySelector("[data-calendar]").disabled = due.length + later.length === 0;
  tellDue(page, due, rules, byId);
}

function heldTile(entry, holds) {
  return tileOf({ id: entry.id }, nameOf(entry), reasonsOf(holds), templates["tile-out"]);
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
  const made = tileOf({ id }, words("today.unread", { tank }), written(created), templates["tile-unread"]);
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

function nameOf({ demo, body: { name } }) {
  return demo ? words("tank.invented", { name }) : name;
}

function tileOf(address, title, says, template = templates.tile) {
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
