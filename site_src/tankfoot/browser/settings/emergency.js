/** The settings that the emergency cards show: the region's number, the site's own numbers and its address. */

import { regions } from "../../checklists/declared.js";
import { words } from "../../wording/words.js";
import { dialled, settings } from "../storage/settings.js";
import { entry, keep } from "./form.js";

const OWN = [1, 2, 3];
const region = entry("region");
const check = document.querySelector("[data-check]");

region.value = settings().region in regions ? settings().region : "";
region.addEventListener("change", () => { keep({ region: region.value, checked: "" }); showRegion(); });
entry("checked").addEventListener("change", () => { keep({ checked: region.value }); showRegion(); });
entry("site-name").value = settings().site.name;
entry("site-address").value = settings().site.address;
for (const id of ["site-name", "site-address"]) entry(id).addEventListener("input", keepSite);
for (const place of OWN) {
  const own = settings().site.numbers[place - 1];
  entry(`own-label-${place}`).value = own?.label ?? "";
  entry(`own-number-${place}`).value = own?.number ?? "";
  for (const part of ["label", "number"]) entry(`own-${part}-${place}`).addEventListener("input", keepSite);
}
showRegion();
document.querySelector("[data-settings]").dataset.numbersReady = "true";

/** Says where the chosen number is from, and asks once whether it is the local one. */
function showRegion() {
  const name = region.value;
  document.querySelector("[data-region-source]").textContent = name
    ? region.selectedOptions[0].dataset.source
    : words("settings.no_region");
  check.hidden = !name || settings().checked === name;
  entry("checked").checked = false;
  dispatchEvent(new Event("tankfoot-shown"));
  document.querySelector("[data-check-number]").textContent = name ? regions[name][0] : "";
}

function keepSite() {
  const numbers = OWN.map((place) => ({
    label: entry(`own-label-${place}`).value.trim(),
    number: entry(`own-number-${place}`).value.trim(),
  }));
  for (const place of OWN) {
    const { number } = numbers[place - 1];
    entry(`own-problem-${place}`).textContent = number === "" || dialled(number)
      ? "" : words("settings.not_dialled");
  }
  keep({ site: { name: entry("site-name").value.trim(), address: entry("site-address").value.trim(), numbers } });
}
