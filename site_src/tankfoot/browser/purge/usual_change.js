/**
 * When the colour usually changes here: said beside the tank's name before the valve is opened and while it runs. It is
 * silent where too little is known, and never takes the place of looking.
 */

import { pastOf, restBetween } from "../../purge/past.js";
import { changeInterval } from "../../usual/change.js";
import { words } from "../../wording/words.js";
import { hide, write } from "../parts/changed.js";
import { minutes } from "../parts/minutes.js";
import { RecordTrouble } from "../storage/database.js";
import { fillingsOf, pastElsewhere } from "../storage/past.js";

const STEP = 5; // s: an end is shown to so many, outwards

const page = document.querySelector("[data-purge]");
const place = document.querySelector("[data-usual-change]");
let asked = null; // the id of the purge that the past was read for
let span = null; // when its colour usually changes
let last = null; // what was said last

/**
 * @param {HTMLElement} section of the step that the purge is at @param {object} run
 * @param {number|null} gone seconds since it was opened, null before that
 */
export function showUsualChange(section, run, gone) {
  if (!run.keeper.isRehearsal) lookBack(run); // what is usual in real tanks says nothing of one that is not
  const isHidden = span === null || !section.hasAttribute("data-tells-change");
  hide(place, isHidden);
  if (isHidden) return;
  const [low, high] = [Math.floor(span.low / STEP) * STEP, Math.ceil(span.high / STEP) * STEP];
  const says = gone === null || gone < low ? "before" : gone < high ? "now" : "late";
  place.toggleAttribute("data-begins", says === "now" && last === "before"); // not where the page came back later
  if (last !== says) place.dataset.when = last = says;
  write(part("says"), words(`purge.change.${says}`, { low: minutes(low), high: minutes(high) }));
  write(part("from"), says === "before" ? fromWhat(span) : "");
}

/** When the colour of the purge under way usually changes, s; null where too little is known. */
export function usualSpan() {
  return span;
}

/** Reads the past once a purge is begun and its page is there, when nobody waits for it. */
function lookBack(run) {
  if (asked === run.id || !run.isBegun || !run.past || !run.tank || !page.dataset.ready) return;
  [asked, span, last] = [run.id, null, null];
  spanOf(run).then((found) => { if (asked === run.id) span = found; });
}

async function spanOf({ past, tank, body }) {
  const [lent, fillings] = await lentOrNothing(tank, past);
  const was = pastOf([...past, ...lent], { [tank.id]: fillings });
  const shut = was.findLast((each) => each.tank === tank.id)?.closed ?? null;
  const rest = restBetween(shut, new Date().toISOString(), fillings);
  const told = was.filter(({ solids, seconds }) => solids === body.solids && seconds !== null);
  const isOwn = (each) => each.tank === tank.id;
  return changeInterval(told.filter(isOwn), told.filter((each) => !isOwn(each)), rest);
}

async function lentOrNothing(tank, past) {
  try {
    return await Promise.all([pastElsewhere(tank), fillingsOf(tank, past)]);
  } catch (error) {
    if (!(error instanceof RecordTrouble)) throw error;
    console.info("nothing borrowed:", error.code);
    return [[], []];
  }
}

function fromWhat({ count, borrowed }) {
  const here = words("purge.change.here", { count });
  return borrowed ? words("purge.change.borrowed", { here, borrowed }) : words("purge.change.own", { here });
}

function part(name) {
  return place.querySelector(`[data-${name}]`);
}
