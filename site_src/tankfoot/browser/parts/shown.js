/** The places in a page's texts that the region and the units fill in: on a fresh phone the build has done it. */

import { shown } from "../../checklists/shown.js";
import { settings } from "../storage/settings.js";
import { unitsShown } from "../storage/units.js";

fill();
addEventListener("tankfoot-shown", fill);

function fill() {
  const units = unitsShown();
  for (const place of document.querySelectorAll("[data-shown]")) {
    place.textContent = shown(place.dataset.shown, settings().region, units);
  }
}
