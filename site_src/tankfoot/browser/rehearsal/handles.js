/** What a hand turns, opens and shuts at the simulated tank: buttons and one slider, each with its name and how it stands. */

import { words } from "../../wording/words.js";
import { write } from "../parts/changed.js";
import { name, set } from "./sights.js";
import { shown } from "./told.js";

// How far the flow valve is open at each notch: it is the first crack that matters.
const NOTCHES = [0, 0.02, 0.04, 0.06, 0.08, 0.1, 0.15, 0.2, 0.3, 0.5, 1];
const SETTINGS = [0, 1e4, 2e4, 4e4, 6e4, 7e4, 8e4, 1e5, 1.6e5]; // Pa of the regulator
// The two places of what is turned with one tap; what hangs there again is chosen once the outer clamp is off.
const TURNS = {
  "isolation": [0.0, 1.0], "gas": [false, true], "tank-side": ["closed", "open"], "outer": ["open", "open"],
  "vent": [0.0, 0.1], "blow-off": [0.0, 1.0], "pipe-end": ["in", "clear"], "bleed": [false, true], "away": [false, true],
};

/** @param {HTMLElement} pane @param {HTMLElement} more what is seldom turned @param {(row: {act: string, to: any}) => void} act */
export function openHandles(pane, more, act) {
  const flow = pane.querySelector("[data-sim-flow]");
  const leave = pane.querySelector("[data-sim-leave]");
  const places = [...document.querySelectorAll("[data-turn]")];
  let isHeld = false; // the slider is under the thumb: where it stands is the thumb's
  let handles = null;

  flow.addEventListener("input", () => {
    isHeld = true;
    act({ act: "flow-valve", to: NOTCHES[flow.value] });
  });
  flow.addEventListener("change", () => { isHeld = false; });
  for (const place of places) {
    place.addEventListener("click", () => {
      const [still, turned] = TURNS[place.dataset.turn];
      act({ act: place.dataset.turn, to: standing(place.dataset.turn) === still ? turned : still });
    });
  }
  for (const place of document.querySelectorAll("[data-do]")) {
    place.addEventListener("click", () => act({ act: place.dataset.do, to: valueOf(place) }));
  }
  leave.addEventListener("click", () => act({ act: "away", to: !handles.away }));
  const regulator = more.querySelector("[data-sim-regulator]");
  regulator.append(...SETTINGS.map((each) => new Option(shown(each, "gauge_pressure"), each)));
  for (const place of more.querySelectorAll("select")) {
    place.addEventListener("change", () => act({ act: place.name, to: place.name === "regulator" ? Number(place.value) : place.value }));
  }

  function standing(turn) {
    return handles[turn.replaceAll("-", "_")];
  }

  /** @param {object} now seen.handles */
  function show(now) {
    if (handles === null || Object.keys(now).some((each) => now[each] !== handles[each])) showAll(now);
  }

  function showAll(now) {
    handles = now;
    for (const place of places) {
      const { turn } = place.dataset;
      const how = howOf(turn, standing(turn));
      if (place.dataset.how === how) continue;
      name(place, words(`rehearsal.handle.${turn}`, { how: words(`rehearsal.how.${how}`) }));
      set(place, "data-how", how);
      const shows = place.querySelector("[data-shows-how]");
      if (shows) write(shows, words(`rehearsal.how.${how}`));
    }
    const notch = NOTCHES.findLastIndex((each) => each <= now.flow_valve);
    if (!isHeld && Number(flow.value) !== notch) flow.value = String(notch);
    const share = Math.round(now.flow_valve * 100);
    set(flow, "aria-valuetext", words("rehearsal.open", { share }));
    write(pane.querySelector("[data-sim-flow-says]"), words("rehearsal.share", { share }));
    for (const place of more.querySelectorAll("select")) {
      const nearest = SETTINGS.toSorted((a, b) => Math.abs(a - now.regulator) - Math.abs(b - now.regulator))[0];
      const at = String(place.name === "regulator" ? nearest : now[place.name]);
      if (place.value !== at) place.value = at;
    }
    set(pane, "data-outer", now.outer);
    write(leave, words(now.away ? "rehearsal.go_back" : "rehearsal.go"));
    set(pane, "data-away", now.away ? "" : null);
  }

  return { show };
}

function valueOf({ dataset: { to } }) {
  return to === "true" ? true : to === "false" ? false : to;
}

function howOf(turn, value) {
  if (turn === "outer" || turn === "pipe-end") return value;
  if (turn === "gas") return value ? "on" : "off";
  if (turn === "away") return value ? "gone" : "here";
  return value === "closed" || value === 0 || value === false ? "shut" : "open";
}
