/** One sum on a page: every keystroke goes through the same steps that Python made the page with. */

import { calculators } from "../../calculators/declared.js";
import { calculatorModule, reckon } from "../../calculators/reckon.js";
import { formatResult } from "../../quantities/format.js";
import { local } from "../../quantities/locale.js";
import { saveSettings, settings } from "../storage/settings.js";
import { calculatorWords } from "../../wording/declared.js";
import { words } from "../../wording/words.js";
import { showCurrency } from "./currency.js";
import {
  fill, fillExample, fillUnits, findFields, flipSign, isTouched, pairUp, rememberUnit, showIn, siOf, startingText, textOf,
  touch,
} from "./fields.js";
import { inAddress } from "./address.js";
import { problemText } from "./problem_text.js";

/**
 * Brings the sum inside `root` (an element with data-calculator) to life.
 *
 * @param {HTMLElement} root
 * @param {object} [ways] starting: what stands in a field at first. shown: called with every outcome and the fields.
 *   alsoKept: pairs that stand in the address before what was typed.
 */
export async function openSum(root, { starting = startingText, shown = () => {}, alsoKept = () => [] } = {}) {
  const id = root.dataset.calculator;
  const twin = await calculatorModule(id);
  const declared = calculators[id]; // it came with the twin
  const sum = { root, id, declared, twin, fields: findFields(root, declared), starting, shown, alsoKept };
  pairUp(sum.fields, twin.ALTERNATIVES ?? []);
  listen(sum);
  start(sum);
  addEventListener("hashchange", () => start(sum));
  addEventListener("tankfoot-current-tank", () => start(sum));
  root.dataset.ready = "true";
  return sum;
}

function listen(sum) {
  for (const field of sum.fields) {
    for (const input of [field.entry, field.spread]) {
      input?.addEventListener("input", () => { touch(field); show(sum); });
    }
    field.entry.addEventListener("focus", () => field.entry.select());
    field.unit.addEventListener("change", () => changeUnit(sum, field));
    field.box.querySelector("[data-flip]")?.addEventListener("click", () => {
      flipSign(field);
      touch(field);
      show(sum);
    });
  }
  for (const choice of sum.root.querySelectorAll("[data-result-unit]")) {
    choice.addEventListener("change", () => { rememberUnit(choice.dataset.kind, choice.value); show(sum); });
  }
  for (const choice of sum.root.querySelectorAll("[name=system]")) {
    choice.addEventListener("change", () => changeSystem(sum, choice.value));
  }
  sum.root.querySelector("[data-send]")?.addEventListener("click", () => send(sum));
  sum.root.querySelector("form")?.addEventListener("submit", (event) => event.preventDefault());
}

function start(sum) {
  const sent = inAddress();
  const radio = sum.root.querySelector(`[name=system][value=${settings().system}]`);
  if (radio) radio.checked = true;
  for (const select of sum.root.querySelectorAll("select[data-kind]")) fillUnits(select);
  for (const field of sum.fields) {
    const text = sum.starting(field, sent);
    if (sent.has(field.name)) {
      touch(field);
      fill(field, text);
      unfold(field);
    } else if (!isTouched(field)) {
      fillExample(field, text);
    }
  }
  show(sum);
}

/** A unit chosen at a field says what was read: the number stays, unless it is still the example. */
function changeUnit(sum, field) {
  rememberUnit(field.declared.kind, field.unit.value);
  if (!isTouched(field)) fillExample(field, sum.starting(field, new URLSearchParams()));
  show(sum);
}

/** A system chosen for the whole app keeps every quantity that was typed and turns its number. */
function changeSystem(sum, system) {
  const kept = new Map(sum.fields.filter(isTouched).map((field) => [field, siOf(field)]));
  saveSettings({ system, units: {} });
  for (const select of sum.root.querySelectorAll("select[data-kind]")) fillUnits(select);
  for (const field of sum.fields) {
    if (!kept.has(field)) fillExample(field, sum.starting(field, new URLSearchParams()));
    else if (kept.get(field) !== null) {
      showIn(field, kept.get(field), field.unit.value);
      if (field.spread) field.spread.value = "";
    }
  }
  show(sum);
}

function show(sum) {
  const texts = Object.fromEntries(sum.fields.map((field) => [field.name, textOf(field)]));
  const outcome = reckon(sum.id, sum.twin, texts, settings().system);
  const { results, problems, remarks } = outcome;
  for (const field of sum.fields) showProblem(sum, field, problems.find(({ field: name }) => name === field.name));
  for (const place of sum.root.querySelectorAll("[data-result]")) showResult(place, results[place.dataset.result] ?? null);
  showNoAnswer(sum, problems[0]);
  showRemarks(sum, remarks);
  keepInAddress(sum, texts);
  sum.shown(outcome, sum.fields);
}

/** Where every number could be read and the sum still has no answer, the answer's place says why. */
function showNoAnswer({ root, id }, problem) {
  const place = root.querySelector("[data-no-result]");
  place.hidden = !problem;
  if (!problem || !("unread" in place.dataset)) return;
  place.textContent = Object.hasOwn(calculatorWords[id].refusals, problem.code) ? problemText(id, problem) : words("sum.unread");
}

function showProblem(sum, field, problem) {
  const sentence = problem ? problemText(sum.id, problem) : "";
  if (field.problem.textContent !== sentence) field.problem.textContent = sentence;
  if (problem) {
    field.entry.setAttribute("aria-invalid", "true");
    unfold(field);
  } else {
    field.entry.removeAttribute("aria-invalid");
  }
}

/** A folded field that a link or a problem speaks of is shown. */
function unfold({ box }) {
  box.closest("details")?.setAttribute("open", "");
}

function showResult(place, result) {
  const choice = place.querySelector("select");
  const shown = result && choice ? formatResult(result.value, result.uncertainty, choice.value) : result;
  place.toggleAttribute("data-empty", result === null);
  showCurrency(place.querySelector("[data-text]"), local(shown?.text ?? "–"));
  showCurrency(place.querySelector("[data-spread]"), local(shown?.give_or_take ?? ""));
  place.querySelector("[data-doubtful]").hidden = !result?.doubtful;
}

function showRemarks(sum, remarks) {
  const place = sum.root.querySelector("[data-remarks]");
  if (!place) return;
  place.replaceChildren(...remarks.map((name) => {
    const line = document.createElement("p");
    line.textContent = calculatorWords[sum.id].remarks[name];
    return line;
  }));
}

/** What was typed stands in the address, so that the sum can be sent and comes back after a reload. */
function keepInAddress(sum, texts) {
  const typed = sum.fields.filter((field) => isTouched(field) && texts[field.name] !== "");
  const kept = [...sum.alsoKept(), ...typed.map(({ name }) => [name, texts[name]])];
  const fragment = kept.length ? `#${new URLSearchParams(kept)}` : "";
  if (fragment !== location.hash) history.replaceState(null, "", fragment || location.pathname);
}

async function send(sum) {
  const texts = sum.fields.map((field) => [field.name, textOf(field)]).filter(([, text]) => text !== "");
  const address = `${location.href.split("#")[0]}#${new URLSearchParams(texts)}`;
  const told = sum.root.querySelector("[data-sent]");
  try {
    if (navigator.share) {
      await navigator.share({ title: document.title, url: address });
    } else {
      await navigator.clipboard.writeText(address);
      told.textContent = words("sum.copied");
    }
  } catch (error) {
    if (error.name === "AbortError") return;
    history.replaceState(null, "", new URL(address).hash);
    told.textContent = words("sum.in_address");
  }
}
