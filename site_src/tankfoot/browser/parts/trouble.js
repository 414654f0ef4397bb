/** Trouble with the record, told on the page instead of thrown away. */

import { words } from "../../wording/words.js";
import { RecordTrouble } from "../storage/database.js";

let acts = 0; // what the hand did on this page, counted
let told = -1; // the act whose trouble is told

for (const type of ["click", "change", "submit", "visibilitychange"]) {
  document.addEventListener(type, () => { acts += 1; }, { capture: true });
}

/** Why the record cannot be used now, in words. @param {RecordTrouble} trouble */
export function troubleText({ code }) {
  return words(`storage.${code}`);
}

/**
 * What `work` resolves to, or undefined after the page said why it could not be done. What is told stays until a later
 * act succeeds: of several reads for one page, one that went well does not hide one that did not.
 */
export async function orShowTrouble(work) {
  const act = acts;
  const place = document.querySelector("[data-trouble]");
  try {
    const done = await work;
    if (place && act > told) place.textContent = "";
    return done;
  } catch (error) {
    if (!(error instanceof RecordTrouble)) throw error;
    if (place) tell(place, error, act);
    else console.info("no record:", error.code); // an emergency card: it needs nothing of it, and nothing stands before it
    return undefined;
  }
}

function tell(place, trouble, act) {
  if (act === told && place.textContent) return;
  told = act;
  place.textContent = troubleText(trouble);
  place.scrollIntoView({ block: "center" });
}
