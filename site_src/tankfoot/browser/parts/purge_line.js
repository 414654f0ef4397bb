/** What a purge told, in one line of one unit. */

import { words } from "../../wording/words.js";
import { amountText } from "./figures.js";

/** A purge's losses are bucketfuls, whatever unit its tank is told in. */
export const LOST_KIND = "bucket_volume";

/** @param {any} body of a purge */
export function purgeLine({ state, open, result }) {
  if (state !== "saved") return words(open ? "record.not_finished" : "record.left");
  if (!result.volume_lost) return words("record.not_measured");
  const lost = amountText(result.volume_lost, LOST_KIND).text;
  if (!result.overrun) return words("record.lost", { lost });
  return words("record.lost_overrun", { lost, overrun: amountText(result.overrun, LOST_KIND).text });
}
