/** The end of a round: what left, tank by tank, on one scale; what was left out, and why. */

import { LAST } from "../../purge/machine.js";
import { drawn } from "../drawing/section.js";
import { amountText, element } from "../parts/figures.js";
import { words } from "../../wording/words.js";

const WIDE = 320;
const STEP = 34; // px from bar to bar
const BAR = 22;
const KIND = "bucket_volume";

/** @param {HTMLElement} place @param {object} round its entry @param {Map<string, object>} purges by tank */
export function showEnd(place, round, purges) {
  const told = round.body.tanks.filter(({ tank }) => purges.get(tank)?.body.state === LAST).map(({ tank, tank_name: name }) => {
    const { volume_lost: lost, overrun } = purges.get(tank).body.result;
    return { name, lost: lost ?? null, overrun: (lost && overrun) || null };
  });
  const lines = told.map(lineOf);
  place.querySelector("[data-lost]").replaceChildren(...lines.map((textContent) => element("li", { textContent })));
  place.querySelector("[data-picture]").replaceChildren(...told.some(({ lost }) => lost) ? [picture(told, lines)] : []);
  const all = told.reduce((sum, { lost }) => sum + (lost?.value ?? 0), 0);
  place.querySelector("[data-to-empty]").textContent = all ? words("round.to_empty", { amount: textOf({ value: all }) }) : "";
  const out = round.body.tanks.filter(({ left_out: why }) => why !== null);
  place.querySelector("[data-not-done]").hidden = out.length === 0;
  place.querySelector("[data-left-out]").replaceChildren(...out.map(({ tank_name: tank, left_out: why }) => (
    element("li", { textContent: words("round.left_out", { tank, why }) })
  )));
}

function lineOf({ name: tank, lost, overrun }) {
  if (!lost) return words("round.not_measured", { tank });
  const text = textOf(lost);
  if (!overrun) return words("round.lost", { tank, lost: text });
  return words("round.lost_overrun", { tank, lost: text, overrun: textOf(overrun) });
}

function textOf({ value }) {
  return amountText({ value, uncertainty: null }, KIND).text;
}

/** One bar a tank; what came after the colour change is hollow at its end. */
function picture(told, lines) {
  const most = Math.max(...told.map(({ lost }) => lost?.value ?? 0));
  const svg = drawn("svg", { class: "round-end", viewBox: `0 0 ${WIDE} ${told.length * (STEP + 18)}`, role: "img" });
  svg.append(drawn("title", {}, lines.join(" ")));
  for (const [place, { name, lost, overrun }] of told.entries()) {
    const y = place * (STEP + 18);
    const whole = ((WIDE - 2) * (lost?.value ?? 0)) / most;
    const after = whole * Math.min(1, (overrun?.value ?? 0) / (lost?.value || 1));
    svg.append(
      drawn("text", { x: 0, y: y + 14 }, name),
      drawn("rect", { class: "before", x: 1, y: y + 20, width: whole - after, height: BAR }),
      drawn("rect", { class: "after", x: 1 + whole - after, y: y + 20, width: after, height: BAR }),
    );
  }
  return svg;
}
