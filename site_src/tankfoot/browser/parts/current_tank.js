/** The line that says which tank a page is filled in from, and its button. */

import { words } from "../../wording/words.js";
import { clearCurrentTank, settings } from "../storage/settings.js";

const line = document.querySelector("[data-current-tank]");
line.querySelector("button").addEventListener("click", () => {
  clearCurrentTank();
  show();
  dispatchEvent(new Event("tankfoot-current-tank"));
});
show();

function show() {
  const { tank } = settings();
  line.hidden = tank === null;
  if (tank === null) return;
  const filled = isFilled(tank);
  line.querySelector("[data-current-tank-says]").textContent = words(filled ? "tank.filled_from" : "tank.in_use_here");
  line.querySelector("[data-current-tank-rest]").hidden = !filled;
  const link = line.querySelector("a");
  link.textContent = tank.name;
  link.hash = new URLSearchParams({ id: tank.id }).toString();
}

/** Whether any field of a sum on this page is known from the tank. */
function isFilled({ values }) {
  return [...document.querySelectorAll("[data-field]")].some((box) => {
    const { calculator } = box.closest("[data-calculator]")?.dataset ?? {};
    return values[`${calculator}.${box.dataset.field}`] ?? values[box.dataset.field];
  });
}
