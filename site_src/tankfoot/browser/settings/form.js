/** What the settings page is typed into, and how each change of it is kept. */

import { saveSettings } from "../storage/settings.js";

/** Keeps changes at once, and says whether this browser does. */
export function keep(changes) {
  document.querySelector("[data-saved]").textContent = saveSettings(changes)
    ? "Kept on this phone."
    : "This browser refuses to remember: the change holds until the app is closed.";
}

export function entry(id) {
  return document.getElementById(id);
}
