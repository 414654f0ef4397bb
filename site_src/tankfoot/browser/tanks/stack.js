/** What hangs under a tank, in its form: one of the typical stacks, or put together part by part. */

import { typical } from "../../purge/declared.js";
import { problem } from "../../purge/stack.js";
import { words } from "../../wording/words.js";
import { drawPlain } from "../drawing/stack.js";

const ADDED = "clamp"; // what a new part is until it is chosen

/**
 * @param {HTMLElement} fold @param {string[]|null} first from the tank down, null where nothing is known of it
 * @param {() => void} changed is called after each change by the hand
 */
export function openStack(fold, first, changed) {
  const part = (name) => fold.querySelector(`[data-${name}]`);
  const [pick, rows, add, told, picture] = ["typical", "parts", "add", "stack-problem", "plain-stack"].map(part);
  const made = document.querySelector("[data-row-made]").content.firstElementChild;
  let parts = [...first ?? []];

  show();
  pick.addEventListener("change", () => {
    if (pick.value === "own") {
      part("parts-fold").open = true;
      parts = parts.length ? parts : [...typical.usual];
    } else {
      parts = pick.value ? pick.value.split(" ") : [];
    }
    change();
  });
  add.addEventListener("click", () => {
    parts.splice(parts.at(-1) === "hose" ? -1 : parts.length, 0, ADDED);
    change();
  });

  function change() {
    show();
    changed();
  }

  function show() {
    const text = parts.join(" ");
    const why = parts.length ? problem(parts) : null;
    pick.value = [...pick.options].some(({ value }) => value === text) ? text : "own";
    rows.replaceChildren(...parts.map(rowOf));
    add.disabled = parts.length >= Number(rows.dataset.most);
    told.textContent = why ? words(`tank.stack.${why}`) : "";
    picture.toggleAttribute("hidden", parts.length === 0);
    if (parts.length) drawPlain(picture, parts);
  }

  function rowOf(name, place) {
    const row = document.importNode(made, true);
    const [select, up, remove] = ["select", "[data-up]", "[data-remove]"].map((each) => row.querySelector(each));
    const facts = { place: place + 1, part: words(`purge.parts.${name}`) };
    select.value = name;
    select.setAttribute("aria-label", words("tank.stack.part", facts));
    up.setAttribute("aria-label", words("tank.stack.up", facts));
    remove.setAttribute("aria-label", words("tank.stack.remove", facts));
    up.disabled = place === 0;
    select.addEventListener("change", () => { parts[place] = select.value; change(); focusOn(place, "select"); });
    up.addEventListener("click", () => {
      parts.splice(place - 1, 2, parts[place], parts[place - 1]);
      change();
      focusOn(place - 1, "[data-up]");
    });
    remove.addEventListener("click", () => {
      parts.splice(place, 1);
      change();
      focusOn(Math.min(place, parts.length - 1), "[data-remove]");
    });
    return row;
  }

  /** The rows are made anew after each change, and the hand stays where it was. */
  function focusOn(place, selector) {
    const next = rows.children[place]?.querySelector(selector);
    (next && !next.disabled ? next : add).focus();
  }

  return {
    /** From the tank down; null where nothing is said of it. */
    get parts() { return parts.length ? [...parts] : null; },
    get isSound() { return parts.length === 0 || problem(parts) === null; },
  };
}
