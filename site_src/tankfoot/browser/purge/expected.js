/** What usually comes out of a tank, and how many buckets take it: said where a hand is asked where it goes. */

import { bucketHolds } from "../../purge/declared.js";
import { units } from "../../quantities/declared.js";
import { formatIn } from "../../quantities/format.js";
import { local } from "../../quantities/locale.js";
import { bucketsFor, expectedLoss } from "../../usual/expected.js";
import { words } from "../../wording/words.js";
import { readingUnit } from "../parts/reading_unit.js";

/** @param {HTMLElement} page at its first step @param {object} run its latest purges are read */
export function showExpected(page, run) {
  const place = page.querySelector("[data-expected]");
  const show = () => {
    const says = expectedOf(page, run);
    place.hidden = says === null;
    place.textContent = says ? `${says.volume} ${words("purge.expected.take", says)}` : "";
  };
  for (const input of page.querySelectorAll("[name=solids]")) input.onchange = show;
  show();
}

/** The volume in a sentence, and the buckets; null where nothing is known. @returns {{volume: string, buckets: string}|null} */
export function expectedOf(page, { past }) {
  const expected = expectedLoss(past ?? [], page.querySelector("[name=solids]:checked").value);
  if (expected === null) return null;
  const { value, count, of_kind: isOfKind } = expected;
  const unit = readingUnit("collected_volume");
  const [bucket, { factor }] = [bucketHolds[unit], units[unit]];
  return {
    volume: words(`purge.expected.${isOfKind ? "of_kind" : "of_any"}`, { count, volume: local(formatIn(value, unit, 2)) }),
    buckets: words("purge.expected.buckets", { count: bucketsFor(value, bucket * factor), size: `${bucket} ${unit}` }),
  };
}
