/** The order of the walk: each tank with its place; arrows move it by one, a typed number to there. Saved at once. */

import { words } from "../../wording/words.js";
import { orShowTrouble } from "../parts/trouble.js";
import { saveWalkingOrder } from "../storage/walking.js";

/** @param {HTMLElement} view @param {any[]} tanks entries in their order @param {(tanks: any[]) => void} moved */
export function showOrder(view, tanks, moved) {
  const made = view.querySelector("[data-order-row]").content.firstElementChild;
  view.querySelector("[data-order-rows]").replaceChildren(...tanks.map((tank, place) => {
    const { name } = tank.body;
    const row = document.importNode(made, true);
    const number = row.querySelector("input");
    row.dataset.tank = tank.id;
    row.querySelector("strong").textContent = name;
    number.value = String(place + 1);
    number.setAttribute("aria-label", words("gauges.place_of", { tank: name }));
    number.addEventListener("change", () => move(place, Number(number.value) - 1, "input"));
    for (const [way, step] of [["up", -1], ["down", 1]]) {
      const button = row.querySelector(`[data-${way}]`);
      button.setAttribute("aria-label", words(`gauges.${way}`, { tank: name }));
      button.disabled = place + step < 0 || place + step >= tanks.length;
      button.addEventListener("click", () => move(place, place + step, `[data-${way}]`));
    }
    return row;
  }));

  async function move(from, wanted, used) {
    const to = Number.isInteger(wanted) ? Math.min(tanks.length - 1, Math.max(0, wanted)) : from;
    const order = tanks.filter((each) => each !== tanks[from]);
    order.splice(to, 0, tanks[from]);
    if (!await orShowTrouble(saveWalkingOrder(order))) return;
    showOrder(view, order, moved);
    moved(order);
    view.querySelector("[data-moved]").textContent = words("gauges.moved", { tank: tanks[from].body.name, place: to + 1 });
    const row = view.querySelector(`[data-tank="${tanks[from].id}"]`);
    const again = row.querySelector(used);
    (again.disabled ? row.querySelector("button:enabled, input") : again).focus();
  }
}
