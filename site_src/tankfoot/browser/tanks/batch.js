/** "In the tank" on a tank's page: the batch, how much beer follows from what was noted, and what happens to it now. */

import { words } from "../../wording/words.js";
import { written } from "../parts/dates.js";
import { amountText, figure } from "../parts/figures.js";
import { orShowTrouble } from "../parts/trouble.js";
import { batchIn, haveBack, takeBack, takenOver, write } from "../storage/batches.js";
import { get } from "../storage/record.js";
import { beerOf, openQuick } from "./batch_quick.js";
import { openStory } from "./batch_story.js";

const JUST_NOW = 700; // ms in which a second tap was meant for what "Undo" has come to stand over. Common practice, no source

/**
 * @param {HTMLElement} view @param {any} first the tank's entry @param {any} begun a purge of it that is under way
 * @param {(tank: any) => void} changed is called with the tank's entry after each change of it
 */
export async function openBatch(view, first, begun, changed) {
  const part = (name) => view.querySelector(`[data-${name}]`);
  const undo = part("undo");
  let tank = first;
  let found = null;
  let takesBack = null;
  let told = -Infinity;

  const showQuick = openQuick(view, save);
  const showStory = openStory(view, {
    mended: async (what) => { await showAgain(); tell(words("batch.mended", { what }), null); },
    deleted: async (act, what) => { await showAgain(); tell(words("batch.deleted", { what }), () => haveBack(act)); },
  });
  undo.querySelector("button").addEventListener("click", ({ timeStamp }) => {
    if (takesBack && timeStamp - told > JUST_NOW) goBack(takesBack);
  });
  part("take-over").addEventListener("click", () => save(takenOver(tank, found.beer.value), null));
  await showAgain();
  view.hidden = false;

  /** Writes what a tap says, at once. @param {string|null} what null for the tank's own volume alone */
  async function save(act, what) {
    if (!await orShowTrouble(write(act))) return;
    await showAgain();
    const says = what === null
      ? words("batch.taken_over", { volume: volume(tank.body.beer_volume) })
      : words("batch.noted", { time: written(Date.now(), "timeOfDay"), what });
    const left = act.left.map((name) => words("batch.too_much", { tank: name }));
    tell([says, ...left].join(" "), () => takeBack(act));
  }

  async function goBack(work) {
    takesBack = null;
    if (!await orShowTrouble(work())) return;
    await showAgain();
    undo.hidden = true;
  }

  function tell(says, work) {
    takesBack = work;
    undo.querySelector("[data-says]").textContent = says;
    undo.querySelector("button").hidden = work === null;
    undo.hidden = false;
    told = performance.now();
  }

  async function showAgain() {
    const latest = await orShowTrouble(get(tank.id, "tank"));
    const read = latest && await orShowTrouble(batchIn(latest));
    if (!read) return;
    if (latest.edited !== tank.edited) changed(latest);
    [tank, found] = [latest, read];
    showWhat();
    showBeer();
    showQuick(tank, found);
    showStory(found);
  }

  function showWhat() {
    const { life: { batch, since }, id } = found;
    part("beer").textContent = batch === null ? "" : beerOf(found);
    part("since").textContent = batch === null ? nothing(since, id) : words("batch.since", { when: written(since) });
    part("begun").hidden = !begun || batch !== null;
    part("begun").querySelector("a").hash = new URLSearchParams({ "go-on": begun?.id ?? "" }).toString();
  }

  function nothing(since, id) {
    if (since === null) return words("batch.unknown");
    return [words("batch.empty", { when: written(since) }), id && words("batch.held", { beer: beerOf(found) })].filter(Boolean).join(" ");
  }

  function showBeer() {
    const { beer, moved, life } = found;
    const sure = part("sure");
    sure.hidden = life.batch === null;
    part("beer-in").replaceChildren(...(beer ? [figure(words("batch.beer_in"), { ...beer, uncertainty: beer.uncertainty || null }, "tank_volume")] : []));
    sure.textContent = beer ? howSure(beer, moved) : words("batch.no_beer");
    const isOff = beer !== null && Math.abs(beer.value - tank.body.beer_volume) > beer.uncertainty
      && volume(beer.value) !== volume(tank.body.beer_volume);
    part("differs").hidden = !isOff;
    if (!isOff) return;
    part("differs").querySelector("[data-says]").textContent = words("batch.differs", { own: volume(tank.body.beer_volume) });
    part("take-over").textContent = words("batch.take_over", { volume: volume(beer.value) });
  }
}

function howSure({ uncertainty, unknown }, all) {
  return [
    words("batch.sure"),
    uncertainty ? "" : words("batch.no_spread"),
    unknown ? words("batch.nobody_said", { count: unknown, all }) : "",
  ].filter(Boolean).join(" ");
}

function volume(value) {
  return amountText({ value, uncertainty: null }, "tank_volume").text;
}
