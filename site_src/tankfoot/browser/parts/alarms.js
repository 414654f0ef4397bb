/** Work that is under way, on every page: a contact time that is over is told by its tank's name, unless beer runs. */

import { words } from "../../wording/words.js";
import { RecordTrouble } from "../storage/database.js";
import { unfinishedPurges } from "../storage/record.js";
import { alarm } from "./device.js";
import { canRun, nameOf, waitOf } from "./purge_wait.js";

const EVERY = 1000; // ms
const READ_EVERY = 30e3; // ms: what another window did meanwhile
const AT_WORK = 3600e3; // ms since the last tap of a purge: no new version of the app is offered
const RUNG = "tankfoot-rung"; // in this window: what was told by a sound already

const place = document.querySelector("[data-alarm]");
const link = place.querySelector("a");
let open = []; // purges under way

read(true);
setInterval(() => read(), READ_EVERY);
setInterval(() => look(), EVERY);
addEventListener("tankfoot-saved", () => read(true));
document.addEventListener("visibilitychange", () => read());

async function read(hasMoved = false) {
  if (document.hidden) return;
  open = await unfinishedOrNone();
  look(hasMoved);
}

/** On a purge's page the line comes and goes with the screen alone, so that nothing moves under a finger. */
function look(hasMoved = false) {
  const isAtWork = open.some(({ edited }) => Date.now() - Date.parse(edited) < AT_WORK);
  document.documentElement.toggleAttribute("data-at-work", isAtWork);
  const over = open.some(canRun) ? [] : open.filter((entry) => waitOf(entry).what === "over");
  ring(over);
  const others = over.filter(({ id }) => !isShownHere(id));
  if (hasMoved || !document.querySelector("[data-purge]")) place.hidden = others.length === 0;
  if (!others.length) return;
  const says = words("alarm.over", { tanks: others.map(nameOf).join(", ") });
  if (link.textContent !== says) link.textContent = says;
  link.hash = new URLSearchParams({ "go-on": others[0].id }).toString();
}

/** A purge has its own clock on its page, and a row of the round. */
function isShownHere(id) {
  return document.querySelector("[data-round]") !== null || document.querySelector("[data-purge]")?.dataset.shows === id;
}

/** Once for each wetting. */
function ring(over) {
  const told = JSON.parse(sessionStorage.getItem(RUNG) ?? "[]");
  const fresh = over.map(({ id, body }) => `${id} ${body.events.length}`).filter((each) => !told.includes(each));
  if (!fresh.length) return;
  sessionStorage.setItem(RUNG, JSON.stringify([...told, ...fresh]));
  alarm();
}

async function unfinishedOrNone() {
  try {
    return await unfinishedPurges();
  } catch (error) {
    if (!(error instanceof RecordTrouble)) throw error;
    console.info("no alarms:", error.code);
    return [];
  }
}
