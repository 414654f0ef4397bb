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
    language: button.dataset.in, copied_from: { list: page.dataset.checklist, version: page.dataset.version },
    ...(page.querySelector(".picture") ? { picture: "valve-stack" } : {}),
    ...("growsOld" in page.dataset ? { grows_old: true } : {}),
    parts: [...page.querySelectorAll(".part")].map((part) => ({
      title: textOf(part, "legend"), pause: textOf(part, ".pause"), lines: [...part.querySelectorAll(".line")].map(lineOf),
    })),
  };
}

function lineOf(line) {
  const hazard = asWritten(line.querySelector(".caution p"));
  hazard?.querySelector("strong").remove();
  const optional = {
    source: textOf(line, "[data-source]"),
    signal: line.querySelector(".caution")?.dataset.signal,
    consequence: textOf(line, ".caution strong"),
    avoid: hazard?.textContent.trim(),
  };
  return {
    id: line.querySelector("[data-line]").dataset.line,
    act: textOf(line, ".act"), value: textOf(line, ".value"), why: textOf(line, "[data-why]"),
    gate: "gate" in line.dataset,
    ...Object.fromEntries(Object.entries(optional).filter(([, text]) => text)),
  };
}

function textOf(box, selector) {
  return asWritten(box.querySelector(selector))?.textContent.trim();
}

/** A copy of a text on the page with its places in braces, so that each phone fills them in for itself. */
function asWritten(text) {
  const copy = text?.cloneNode(true);
  for (const place of copy?.querySelectorAll("[data-shown]") ?? []) place.textContent = place.dataset.shown;
  return copy;
}
