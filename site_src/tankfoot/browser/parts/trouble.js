/** Trouble with the record, told on the page instead of thrown away. */

import { words } from "../../wording/words.js";
import { RecordTrouble } from "../storage/database.js";

/** Why the record cannot be used now, in words. @param {RecordTrouble} trouble */
export function troubleText({ code }) {
  return words(`storage.${code}`);
}

/** What `work` resolves to, or undefined after the page said why it could not be done. */
export async function orShowTrouble(work) {
  const place = document.querySelector("[data-trouble]");
  try {
    const done = await work;
    place.textContent = "";
    return done;
  } catch (error) {
    if (!(error instanceof RecordTrouble)) throw error;
    place.textContent = troubleText(error);
    place.scrollIntoView({ block: "center" });
    return undefined;
  }
}
