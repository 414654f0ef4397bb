/** What the settings page is typed into, and how each change of it is kept. */

import { words } from "../../wording/words.js";
import { saveSettings } from "../storage/settings.js";

const says = document.querySelector("[data-saved]");

/** Keeps changes at once, and says so once they are on the disk, or that this browser does not. */
export async function keep(changes) {
  says.textContent = "";
  says.textContent = words(await saveSettings(changes) ? "settings.kept" : "settings.not_kept");
}

export function entry(id) {
  return document.getElementById(id);
}
