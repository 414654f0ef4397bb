/** A damaged entry: said what is wrong with it, and it can be exported or taken out of the record. */

import { exportFile } from "../../office/transfer.js";
import { discard, getStored } from "../storage/record.js";
import { damageOf, nameOfDamaged } from "./damaged.js";
import { handOn } from "../parts/share_file.js";
import { orTell } from "../parts/trouble.js";

export async function showDamaged(page, id) {
  const stored = await orTell(getStored([id]));
  if (!stored) return;
  const [entry] = stored;
  page.querySelector("[data-heading]").textContent = nameOfDamaged(entry);
  const section = page.querySelector("[data-damaged]");
  section.querySelector("[data-damage]").textContent = damageOf(entry);
  section.querySelector("[data-export-it]").hidden = entry === undefined;
  section.querySelector("[data-export-it]").addEventListener("click", async () => {
    const text = await exportFile([entry], page.dataset.version);
    await handOn(new File([text], "tankfoot-damaged-entry.json", { type: "application/json" }));
  });
  section.querySelector("[data-discard]").addEventListener("click", async () => {
    if (await orTell(discard(id).then(() => true))) location.replace("../");
  });
  section.hidden = false;
}
