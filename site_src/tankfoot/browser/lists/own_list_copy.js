/** Takes a checklist off its page as data, to be adapted as the site's own. */

import { words } from "../../wording/words.js";
import { keepDraft } from "./own_list_draft.js";

const page = document.querySelector("[data-checklist]");
const button = page.querySelector("[data-copy]");

button.addEventListener("click", () => {
  const list = listOf();
  const of = `copy=${page.dataset.checklist}`;
  if (keepDraft({ of, base: list, list })) location.assign(`${button.dataset.to}#${of}`);
  else button.textContent = words("own.not_copied");
});

function listOf() {
  return {
    title: textOf(page, "h1"), condition: textOf(page, ".intro"), completion: textOf(page, ".completion"),
    based_on: button.dataset.basedOn,
    ...(page.querySelector(".picture") ? { picture: "valve-stack" } : {}),
    parts: [...page.querySelectorAll(".part")].map((part) => ({
      title: textOf(part, "legend"), pause: textOf(part, ".pause"), lines: [...part.querySelectorAll(".line")].map(lineOf),
    })),
  };
}

function lineOf(line) {
  const hazard = line.querySelector(".caution p");
  const optional = {
    source: textOf(line, "[data-source]"),
    signal: line.querySelector(".caution")?.dataset.signal,
    consequence: textOf(line, ".caution strong"),
    avoid: hazard && hazard.lastChild !== hazard.firstElementChild ? hazard.lastChild.textContent.trim() : "",
  };
  return {
    id: line.querySelector("[data-line]").dataset.line,
    act: textOf(line, ".act"), value: textOf(line, ".value"), why: textOf(line, "[data-why]"),
    gate: "gate" in line.dataset,
    ...Object.fromEntries(Object.entries(optional).filter(([, text]) => text)),
  };
}

function textOf(box, selector) {
  return box.querySelector(selector)?.textContent.trim();
}
