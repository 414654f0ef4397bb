/** What a camera saw of a purge: its strip, and whether the seen instant counts in place of the tapped one. */

import { outcomeOf } from "../../purge/outcome.js";
import { seenAfter, tappedAfter } from "../../purge/times.js";
import { RefusedText } from "../../quantities/text.js";
import { words } from "../../wording/words.js";
import { secondsText, wholeStrip } from "../parts/run_strip.js";
import { orShowTrouble } from "../parts/trouble.js";
import { corrected, put } from "../storage/record.js";
import { settings } from "../storage/settings.js";

const SAME = 0.05; // s: less is shown as none

/** @param {HTMLElement} page @param {any} purge an entry @param {(latest: object) => void} whenSaved */
export function showSeen(page, purge, whenSaved) {
  const { body } = purge;
  const place = page.querySelector("[data-seen]");
  place.hidden = !body.watched;
  if (place.hidden) return;
  place.querySelector("[data-strip]").replaceChildren(...wholeStrip(body));
  place.querySelector("[data-says]").textContent = says(body);
  const button = place.querySelector("[data-take]");
  button.hidden = body.state !== "saved" || seenAfter(body) === null;
  button.textContent = words(body.watched.taken ? "entry.seen.give_back" : "entry.seen.take");
  button.onclick = async () => {
    const other = await turned(body);
    if (other === null) {
      place.querySelector("[data-says]").textContent = words("entry.seen.cannot");
      return;
    }
    const latest = corrected(purge, other);
    if (await orShowTrouble(put(latest))) whenSaved(latest);
  };
}

/** The body with the other instant counting; null where a reading is past what the sums take. The tap stays in it. */
async function turned(body) {
  const { watched } = body;
  const other = { ...body, watched: { ...watched, taken: !watched.taken } };
  try {
    const { result, agree } = await outcomeOf(other, settings().system);
    return { ...other, result, agree };
  } catch (refused) {
    if (!(refused instanceof RefusedText)) throw refused;
    return null;
  }
}

function says(body) {
  const [seen, tapped] = [seenAfter(body), tappedAfter(body)];
  if (seen === null) return words("entry.seen.nothing");
  const apart = tapped === null ? null : tapped - seen;
  const which = body.watched.taken ? "taken" : "tap";
  if (apart === null) return words(body.watched.taken ? "entry.seen.alone_taken" : "entry.seen.alone");
  const order = Math.abs(apart) < SAME ? "same" : apart > 0 ? "earlier" : "later";
  const seconds = secondsText(Math.abs(apart));
  return [words(`entry.seen.${order}`, { seconds }), words(`entry.seen.counts_${which}`)].join(" ");
}
