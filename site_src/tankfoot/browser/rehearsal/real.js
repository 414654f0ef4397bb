/** A real purge under way on this phone: beside it no rehearsal begins, and one that is under way says so. */

import { words } from "../../wording/words.js";
import { write } from "../parts/changed.js";
import { canRun, nameOf } from "../parts/purge_wait.js";
import { orShowTrouble } from "../parts/trouble.js";
import { unfinishedPurges } from "../storage/record.js";

/** First the one whose port may be open; those of the invented brewery are none. @returns {Promise<object|null>} its entry */
export async function realPurge() {
  const real = (await orShowTrouble(unfinishedPurges()) ?? []).filter(({ demo }) => !demo);
  return real.find(canRun) ?? real[0] ?? null;
}

/** @param {HTMLElement} place where it is said @param {object|null} purge its entry @returns {boolean} whether that is news */
export function sayReal(place, purge) {
  const id = purge?.id ?? "";
  const isNews = id !== "" && place.dataset.real !== id;
  place.dataset.real = id;
  place.hidden = purge === null;
  if (!purge) return false;
  write(place.querySelector("[data-real-says]"), words(`rehearsal.real.${canRun(purge) ? "open" : "begun"}`, { name: nameOf(purge) }));
  place.querySelector("a").hash = new URLSearchParams({ "go-on": id }).toString();
  return isNews;
}
