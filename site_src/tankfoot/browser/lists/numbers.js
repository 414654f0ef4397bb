/** The numbers on a list: sums worked out for the current tank, each beside the way to the whole sum. */

import { calculators } from "../../calculators/declared.js";
import { calculatorModule, reckon } from "../../calculators/reckon.js";
import { formatPlain, formatResult, withUnit } from "../../quantities/format.js";
import { local } from "../../quantities/locale.js";
import { settings } from "../storage/settings.js";
import { calculatorWords } from "../../wording/declared.js";
import { filled } from "../../wording/sentences.js";
import { words } from "../../wording/words.js";
import { isTouched, tankText, textOf } from "../parts/fields.js";
import { amountText, element } from "../parts/figures.js";
import { openSum } from "../parts/sum.js";
import { problemText } from "../parts/problem_text.js";

const LONG = 300; // s: from here on a time is read in minutes

for (const place of document.querySelectorAll("[data-numbers]")) await open(place);

async function open(place) {
  const twin = await calculatorModule(place.dataset.numbers);
  if (place.dataset.calculator) {
    await openSum(place, { shown: (_, fields) => show(place, twin, fields) });
    return;
  }
  show(place, twin, []);
  addEventListener("tankfoot-current-tank", () => show(place, twin, []));
  place.dataset.ready = "true";
}

function show(place, twin, fields) {
  const id = place.dataset.numbers;
  const { system } = settings();
  const inputs = Object.entries(calculators[id].fields).map(([name, declared]) => inputOf(id, name, declared, fields));
  const texts = Object.fromEntries(inputs.map(({ name, text }) => [name, text]));
  const { inputs: readings, results, remarks, problems } = reckon(id, twin, texts, system);
  for (const figure of place.querySelectorAll("[data-result]")) showFigure(id, figure, results[figure.dataset.result]);
  const shown = Object.fromEntries(inputs.map(({ name }) => [name, shortened(readings[name]) ?? ""]));
  for (const label of place.querySelectorAll("[data-label]")) {
    label.textContent = filled(label.dataset.label, shown);
  }
  const trouble = place.querySelector("[data-no-result]");
  trouble.hidden = problems.length === 0;
  trouble.textContent = problems.length ? problemText(id, problems[0]) : "";
  place.querySelector("[data-remarks]").replaceChildren(
    ...remarks.map((name) => element("p", { textContent: calculatorWords[id].remarks[name] })));
  const asked = inputs.filter(({ declared, text }) => declared.defaults[system] === null && text !== "");
  showFrom(place, asked.map((input) => ({ ...input, text: shown[input.name] || local(input.text) })));
  const known = inputs.filter(({ from, text }) => (from === "typed" || from === "tank") && text !== "");
  place.querySelector("h2 a").hash = new URLSearchParams(known.map(({ name, text }) => [name, text]));
}

/** An input's text and where it is from: typed here, the current tank, the site's settings, the example. */
function inputOf(id, name, declared, fields) {
  const field = fields.find((one) => one.name === name);
  const texts = {
    typed: field && isTouched(field) ? textOf(field) : undefined,
    tank: tankText({ sum: id, name, declared }),
    settings: settings().values[name],
    example: declared.examples[settings().system] ?? "",
  };
  const from = Object.keys(texts).find((source) => texts[source] !== undefined);
  return { name, declared, label: calculatorWords[id].labels[name], from, text: texts[from] };
}

/** What went in with as many digits as one reads at a glance. */
function shortened(reading) {
  return reading && local(withUnit(formatPlain(reading.value, 4), reading.unit));
}

function showFigure(id, figure, result) {
  const kind = calculators[id].results[figure.dataset.result];
  const { text, give_or_take: spread } = result ? resultText(result, kind) : { text: "–", give_or_take: "" };
  figure.querySelector("[data-text]").textContent = text;
  figure.querySelector("[data-spread]").textContent = spread ?? "";
  figure.querySelector("[data-doubtful]").hidden = !result?.doubtful;
}

function resultText(result, kind) {
  const inMinutes = kind === "duration" && result.value >= LONG && !settings().units.duration;
  if (!inMinutes) return amountText(result, kind);
  const { text, give_or_take: spread } = formatResult(result.value, result.uncertainty, "min");
  return { text: local(text), give_or_take: local(spread ?? "") };
}

/** Says what went in and where each of it is from; an example never passes for the tank's own. */
function showFrom(place, inputs) {
  const line = place.querySelector("[data-from]");
  const sources = ["typed", "tank", "settings", "example"].filter((source) => inputs.some(({ from }) => from === source));
  line.textContent = sources.map((source) => {
    const own = inputs.filter(({ from }) => from === source).map(({ label, text }) => `${label} ${text}`);
    const named = words(`numbers.sources.${source}`, { tank: settings().tank?.name });
    return words("numbers.from", { source: named, inputs: own.join(" · ") });
  }).join(" ");
  place.toggleAttribute("data-example", sources.includes("example") && !sources.includes("typed") && !sources.includes("tank"));
}
