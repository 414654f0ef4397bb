/** What the settings page is typed into, and how each change of it is kept. */

import { words } from "../../wording/words.js";
import { saveSettings } from "../storage/settings.js";

/** Keeps changes at once, and says whether this browser does. */
export function keep(changes) {
  document.querySelector("[data-saved]").textContent = words(
    saveSettings(changes) ? "settings.kept" : "settings.not_kept",
  );
}

export function entry(id) {
  return document.getElementById(id);
}
