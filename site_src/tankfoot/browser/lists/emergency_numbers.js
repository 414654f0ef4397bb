/** The numbers on an emergency card: of the region that was set, and the site's own. Nothing set: the card says so. */

import { regions } from "../../checklists/declared.js";
import { words } from "../../wording/words.js";
import { noteCard } from "../storage/card_opened.js";
import { dialled, settings } from "../storage/settings.js";
import { element } from "../parts/figures.js";

noteCard();
const { region, site } = settings();
const [number, also] = regions[region] ?? [];

if (number) {
  for (const link of document.querySelectorAll("[data-number]")) {
    link.href = `tel:${number}`;
    link.removeAttribute("data-unset");
    link.querySelector("span").textContent = words("emergency.call");
    link.querySelector("strong").textContent = number;
  }
  for (const note of document.querySelectorAll("[data-no-region]")) note.hidden = true;
  for (const note of document.querySelectorAll("[data-region]")) {
    note.textContent = words(also ? "emergency.region_also" : "emergency.region", { region, number: also });
    note.hidden = false;
  }
}
for (const place of document.querySelectorAll("[data-own-numbers]")) {
  place.append(...site.numbers.filter((own) => dialled(own.number)).map(ownNumber));
}
const address = [site.name, site.address].filter(Boolean).join(", ");
for (const place of document.querySelectorAll("[data-address]")) {
  place.hidden = address === "";
  place.append(element("strong", { textContent: address }));
}
document.querySelector("main").dataset.ready = "true";

function ownNumber({ label, number: own }) {
  return element("a", { className: "own-number", href: `tel:${dialled(own)}` },
    element("span", { textContent: label || words("emergency.own") }), " ", element("strong", { textContent: own }));
}
