/** A damaged entry: said what is wrong with it, and it can be exported or taken out of the record. */

import { exportFile } from "../../office/transfer.js";
import { discard, getStored } from "../storage/record.js";
import { damageOf, nameOfDamaged } from "./damaged.js";
import { shareFile } from "../parts/share_file.js";
import { orShowTrouble } from "../parts/trouble.js";

/** @returns {Promise<boolean>} false where nothing is wrong with it */
export async function showDamaged(page, id) {
  const stored = await orShowTrouble(getStored([id]));
  if (!stored) return true;
  const [entry] = stored;
  const damage = damageOf(entry);
  if (damage === null) return false;
  page.querySelector("[data-heading]").textContent = nameOfDamaged(entry);
  const section = page.querySelector("[data-damaged]");
  section.querySelector("[data-damage]").textContent = damage;
  section.querySelector("[data-export-it]").hidden = entry === undefined;
  section.querySelector("[data-export-it]").addEventListener("click", async () => {
    const text = await exportFile([entry], page.dataset.version);
    await shareFile(new File([text], "tankfoot-damaged-entry.json", { type: "application/json" }));
  });
  section.querySelector("[data-discard]").addEventListener("click", async () => {
    if (await orShowTrouble(discard(id))) location.replace("../");
  });
  section.hidden = false;
  return true;
}
