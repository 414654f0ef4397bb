/** When something is due, as a hand says it. */

import { inDaysOrHours } from "../../tanks/due.js";
import { locale } from "../../quantities/locale.js";
import { words } from "../../wording/words.js";

/** "due 3 days ago", "due in 26 hours", "due now". @param {number} wait s */
export function whenDue(wait) {
  const found = inDaysOrHours(wait);
  if (!found) return words("today.due_now");
  const [count, unit] = found;
  const long = new Intl.NumberFormat(locale(), { style: "unit", unit, unitDisplay: "long" }).format(count);
  return words(wait > 0 ? "today.due_in" : "today.due_ago", { wait: long });
}
