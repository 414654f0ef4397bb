/** The page that a deletion leads back to: what was deleted a moment ago can be had back. */

import { edited, get, put } from "../storage/record.js";
import { orShowTrouble } from "./trouble.js";
import { inAddress } from "./address.js";

/** @param {string} kind @param {() => Promise<void>} showAgain shows the page's entries, the one that is back among them */
export async function offerUndo(kind, showAgain) {
  const id = inAddress().get("deleted");
  const entry = id && await orShowTrouble(get(id, kind));
  if (!entry?.deleted) return;
  const line = document.querySelector("[data-undo]");
  line.hidden = false;
  line.querySelector("button").addEventListener("click", async () => {
    const back = edited(entry, entry.body, { deleted: false });
    if (!await orShowTrouble(put(back))) return;
    line.hidden = true;
    history.replaceState(null, "", location.pathname);
    await showAgain();
  });
}
