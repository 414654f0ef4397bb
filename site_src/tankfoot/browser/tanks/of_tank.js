/** The tank's page is the tank: its picture, what is due, what was read and purged, its sums and lists filled in. */

import { openHolds } from "../../tanks/hold.js";
import { words } from "../../wording/words.js";
import { drawTank } from "../drawing/tank.js";
import { figure } from "../drawing/tank_figures.js";
import { inAddress } from "../parts/address.js";
import { written } from "../parts/dates.js";
import { nextPurge, waitFor } from "../parts/due_now.js";
import { whenDue } from "../parts/due_text.js";
import { purgeLine } from "../parts/purge_line.js";
import { readingShown } from "../parts/reading_shown.js";
import { orShowTrouble } from "../parts/trouble.js";
import { setCurrentTank, tankTexts } from "../storage/current_tank.js";
import { get, latestPurges, unfinishedPurges, unliftedHolds } from "../storage/record.js";
import { settings } from "../storage/settings.js";
import { openBatch } from "./batch.js";
import { showWait } from "./wait.js";

const SHOWN = 5; // purges; the record has them all

const page = document.querySelector("[data-calculator=tank]");
const view = page.querySelector("[data-of-tank]");
const part = (name) => view.querySelector(`[data-${name}]`);

const { found, purges, open, holds } = await orShowTrouble(read()) ?? {};
let current = found; // the tank as it stands now
if (found && !found.deleted) await show();
view.dataset.shown = "true";

async function read() {
  const id = inAddress().get("id");
  if (!id) return {};
  const [found, purges, open, holds] = await Promise.all([get(id, "tank"), latestPurges(id), unfinishedPurges(), unliftedHolds()]);
  return { found, purges, open, holds };
}

async function show() {
  const { id, demo } = current;
  view.hidden = false;
  part("invented").hidden = !demo;
  showBody();
  showPurge(current);
  showPast(id);
  for (const link of view.querySelectorAll("[data-goes-along] a, [data-purge]")) link.addEventListener("click", () => setCurrentTank(current));
  await Promise.all([showDue(current), openBatch(part("batch"), current, begunOf(id), changed)]);
  orShowTrouble(showWait(part("wait"), current)); // nobody waits for it
}

function showBody() {
  const { body } = current;
  drawTank(part("tank-picture"), body);
  part("temperature").hidden = (body.temperature ?? null) === null;
  part("temperature").querySelector("strong").textContent = figure(body.temperature, "temperature") ?? "";
  showSums(body);
}

/** The form of the tank's numbers, on the same page, has to know as well. */
function changed(tank) {
  current = tank;
  showBody();
  page.dispatchEvent(new CustomEvent("tankfoot-tank", { detail: tank }));
}

function begunOf(id) {
  return open.find(({ body }) => body.tank === id);
}

/** A purge that is not finished is gone on with; a tank out of use has none. */
function showPurge({ id }) {
  const link = part("purge");
  link.hash = new URLSearchParams({ tank: id }).toString();
  const begun = begunOf(id);
  if (begun) link.textContent = link.dataset.goOnSays;
  part("purge-row").hidden = !begun && openHolds(holds, id).length > 0;
}

async function showDue(tank) {
  const next = await orShowTrouble(nextPurge(tank));
  const place = part("due");
  place.hidden = !next || openHolds(holds, tank.id).length > 0;
  if (!next) return;
  place.textContent = words("tank.purge_due", { when: whenDue(waitFor(next)) });
  place.toggleAttribute("data-late", waitFor(next) <= 0);
}

function showPast(id) {
  part("no-past").hidden = purges.length > 0;
  part("all-past").parentElement.hidden = purges.length === 0;
  part("all-past").hash = new URLSearchParams({ tank: id }).toString();
  part("past-purges").replaceChildren(...purges.slice(0, SHOWN).map(pastPurge));
}

function pastPurge({ id, created, body }) {
  const made = document.importNode(part("past-purge").content, true).firstElementChild;
  const [before, after] = ["pressure_before", "pressure_after"].map((name) => (
    body.readings[name] ? readingShown(name, body.readings[name]) : null
  ));
  made.firstElementChild.hash = new URLSearchParams({ id }).toString();
  made.querySelector("strong").textContent = [words(`purge.solids.${body.solids}`), written(created)].join(", ");
  made.querySelector("[data-read]").textContent = before && after ? words("tank.gauge_fell", { before, after }) : "";
  made.querySelector("[data-lost]").textContent = purgeLine(body);
  return made;
}

/** The sums that something of this tank goes into. */
function showSums(body) {
  const known = tankTexts(body, settings().system);
  for (const item of view.querySelectorAll("[data-sum]")) {
    const { sum, fields } = item.dataset;
    item.hidden = !fields.split(" ").some((name) => known[`${sum}.${name}`] || known[name]);
  }
}
