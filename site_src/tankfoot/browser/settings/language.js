/** The setting of the language: it holds once the phone can speak it. */

import { words } from "../../wording/words.js";
import { speak } from "../parts/speak.js";
import { settings } from "../storage/settings.js";
import { keep } from "./form.js";

const radios = [...document.querySelectorAll("[name=language]")];
const roots = new Map(radios.filter(({ value }) => value).map(({ value, dataset }) => [value, dataset.root]));
const { lang: here } = document.documentElement;
const problem = document.querySelector("[data-no-language]");

for (const radio of radios) radio.addEventListener("change", () => choose(radio.value));
show();

async function choose(language) {
  const wanted = language || phones();
  if (wanted === here) keep({ language });
  else if (!await speak(language, new URL(`${roots.get(wanted)}settings/`, location).href)) {
    problem.textContent = words("app.not_this_language");
    show();
  }
}

/** The language that the phone speaks, where it is here; this page's where it is not. */
function phones() {
  return navigator.languages.map((own) => own.split("-")[0]).find((own) => roots.has(own)) ?? here;
}

function show() {
  for (const radio of radios) radio.checked = radio.value === settings().language;
}
