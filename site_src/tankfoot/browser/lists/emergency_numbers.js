/** The numbers on an emergency card: of the region that was set, and the site's own. Nothing set: the card says so. */

import { regions } from "../../checklists/declared.js";
import { language } from "../../quantities/declared.js";
import { filled } from "../../wording/sentences.js";
import { noteCard } from "../storage/card_opened.js";
import { dialled, settings } from "../storage/settings.js";
import { element } from "../parts/figures.js";

noteCard();
const { region, site } = settings();
const [number, also, called] = regions[region] ?? [];
const isForeign = document.documentElement.lang !== language; // a card in English beside the site's own: as region is

if (number) {
  for (const link of document.querySelectorAll("[data-number]")) {
    link.href = `tel:${number}`;
    link.removeAttribute("data-unset");
    link.querySelector("span").textContent = link.dataset.says;
    link.querySelector("strong").textContent = number;
  }
  for (const note of document.querySelectorAll("[data-no-region]")) note.hidden = true;
  for (const note of document.querySelectorAll("[data-region]")) {
    note.textContent = filled(also ? note.dataset.two : note.dataset.one, { region: isForeign ? region : called, number: also });
    note.hidden = false;
  }
}
for (const place of document.querySelectorAll("[data-own-numbers]")) {
  place.append(...site.numbers.filter((own) => dialled(own.number)).map((own) => ownNumber(own, place.dataset.says)));
}
const address = [site.name, site.address].filter(Boolean).join(", ");
for (const place of document.querySelectorAll("[data-address]")) {
  place.hidden = address === "";
  place.append(element("strong", { textContent: address }));
}
document.querySelector("main").dataset.ready = "true";

function ownNumber({ label, number: own }, unnamed) {
  return element("a", { className: "own-number", href: `tel:${dialled(own)}` },
    element("span", { textContent: label || unnamed }), " ", element("strong", { textContent: own }));
}
