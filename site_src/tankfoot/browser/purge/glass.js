/** The camera at the glass, where a site wants it: its button while a port may be open, and what it saw after Closed. */

import { instantOf } from "../../purge/machine.js";
import { seenAfter, tappedAfter } from "../../purge/times.js";
import { words } from "../../wording/words.js";
import { settings } from "../storage/settings.js";
import { usualSpan } from "./usual_change.js";

const RUNS = ["run", "flowing", "beer"];
const OFFERED = ["after", "result"];

/**
 * @param {HTMLElement} page @param {() => object|null} current the purge under way
 * @param {(work: Promise<boolean>) => Promise<boolean>} kept says on the screen what is on the disk
 * @param {() => void} changed shows the purge anew
 */
export function openGlass(page, current, kept, changed) {
  const place = page.querySelector("[data-glass]");
  const on = place.querySelector("[data-glass-on]");
  const offer = page.querySelector("[data-glass-offer]");
  let room = null; // the modules of the watching, once they are wanted
  let watching = null; // under way
  let isOpening = false;

  on.addEventListener("click", start);
  for (const button of offer.querySelectorAll("[data-take]")) {
    button.addEventListener("click", async () => {
      const { watched } = current().body;
      if (await kept(current().keep({ watched: { ...watched, taken: button.dataset.take === "yes" } }))) changed();
    });
  }

  async function start() {
    if (isOpening || watching) return;
    isOpening = true;
    const run = current();
    room ??= await import("../watch/watching.js");
    try {
      const of = { purge: run.id, beer: lastBeer(run), usual: usualSpan, ended };
      watching = await room.openWatching(page, of);
      if (watching) tellTrouble(null);
      on.hidden = watching !== null;
    } finally {
      isOpening = false;
    }
    show();
  }

  /** @param {string|null} why the camera gives no picture any more */
  function ended(why) {
    watching = null;
    on.hidden = false;
    tellTrouble(why);
  }

  function tellTrouble(why) {
    on.querySelector("[data-label]").textContent = words(why ? `watch.trouble.${why}` : "watch.on");
    page.toggleAttribute("data-glass-trouble", why !== null);
  }

  function show() {
    const run = current();
    const { state } = run.body;
    const isRunning = RUNS.includes(state);
    place.hidden = !isRunning || !(settings().watch || watching);
    page.toggleAttribute("data-watches", !place.hidden);
    showOffer(run);
    if (watching && (!isRunning || watching.purge !== run.id)) watching.end(null);
    if (isRunning) goOn(run);
    else if (isKept(run)) keep(run);
  }

  async function goOn(run) {
    const opened = instantOf(run.body.events, "opened");
    const says = page.querySelector(`[data-step=${run.body.state}] [data-glass-says]`);
    if (watching) watching.show({ opened, says, isTold: run.body.state === "beer" });
    else if (settings().watch && opened !== null && !isOpening && await isLeftOff(run, opened)) await start();
  }

  /** Whether a reload came in between: then the camera goes on, unless the phone would ask first. */
  async function isLeftOff(run, opened) {
    if (room) return false;
    room = await import("../watch/watching.js");
    return room.isUnderWay(run.id, opened) && room.isAllowed();
  }

  /** What was seen goes into the purge once the port is closed, and is forgotten once the purge is saved. */
  async function keep(run) {
    room ??= await import("../watch/watching.js");
    if (run.isOver) return room.forget(run.id);
    const watched = room.watchedOf(run.id);
    if (!watched || watched.colours === run.body.watched?.colours) return undefined;
    if (await kept(run.keep({ watched }))) showOffer(run);
    return undefined;
  }

  function showOffer(run) {
    const { watched, state } = run.body;
    const text = OFFERED.includes(state) && watched ? offered(run.body) : null;
    offer.hidden = text === null;
    if (text === null) return;
    offer.querySelector("[data-offer-says]").textContent = text;
    for (const button of offer.querySelectorAll("[data-take]")) {
      button.hidden = (button.dataset.take === "yes") === watched.taken;
    }
  }

  return { show };
}

/** What the camera saw that the hand's tap does not say, in words; null where both say the same, or it saw nothing. */
function offered(body) {
  const [seen, tapped] = [seenAfter(body), tappedAfter(body)];
  if (seen === null) return null;
  const seconds = Math.round(seen);
  if (body.watched.taken) return words("watch.offer.taken", { seconds });
  if (tapped === null) return words("watch.offer.untapped", { seconds });
  const earlier = Math.round(tapped - seen);
  if (earlier === 0) return null;
  return words(earlier > 0 ? "watch.offer.earlier" : "watch.offer.later", { seconds: Math.abs(earlier) });
}

/** Whether something may have been seen of a run that is over. */
function isKept({ body: { events, watched } }) {
  return instantOf(events, "closed") !== null && (settings().watch || watched !== undefined);
}

/** The beer's colour at the end of the tank's last watched run. */
function lastBeer({ past }) {
  return past?.find(({ watched }) => watched?.beer_colour)?.watched.beer_colour ?? null;
}
