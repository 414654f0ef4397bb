/** One tank's page: its name and numbers, the drawing that follows them, save and delete. */

import { drawTank } from "../drawing/tank.js";
import { words } from "../../wording/words.js";
import { refreshCurrentTank, tankTexts } from "../storage/current_tank.js";
import { RecordTrouble } from "../storage/database.js";
import { corrected, edited, get, newEntry, put } from "../storage/record.js";
import { settings } from "../storage/settings.js";
import { isSaidInstead, isTouched, touch } from "../parts/fields.js";
import { troubleText } from "../parts/trouble.js";
import { openSum } from "../parts/sum.js";
import { inAddress } from "../parts/address.js";
import { openTankHolds } from "./holds.js";
import { openStack } from "./stack.js";

const LONGEST_NAME = 40;

/** Keys of a tank's body, the results they are taken from, and the fields that change them. */
const FROM_RESULTS = {
  diameter: ["diameter", "circumference"],
  straight_height: ["straight_height", "total_volume"],
  cone_angle: ["cone_angle", "cone_height"],
  beer_volume: ["beer_volume", "beer_level"],
};
const FROM_INPUTS = [
  "head_depth", "head_volume", "bore", "arm_height", "rated_pressure", "hold_pressure", "floor_pressure",
  "temperature", "pressure", "purge_every",
];

const page = document.querySelector("[data-calculator=tank]");
const form = page.querySelector("[data-tank-form]");
const name = document.getElementById("tank-name");
const capWay = form.querySelector("[data-cap-way]");
const asked = inAddress();
const found = asked.get("id") ? await inWords(() => get(asked.get("id"), "tank")) : null;
let entry = found && !found.deleted ? found : null;
let known = entry ? tankTexts(entry.body, settings().system) : {};
const typed = new Map(["name", "stack", "cap-way"].filter((each) => asked.has(each)).map((each) => [each, asked.get(each)]));
let outcome = null;

name.value = typed.get("name") ?? entry?.body.name ?? "";
capWay.value = typed.get("cap-way") ?? entry?.body.cap_way ?? "";
const stack = openStack(form.querySelector("[data-fold=stack]"), firstStack(), () => keep("stack", (stack.parts ?? []).join(" ")));
if (entry) {
  page.querySelector("[data-heading]").textContent = entry.body.name;
  page.querySelector("[data-delete]").hidden = false;
  form.toggleAttribute("data-tried", true);
} else if (asked.get("id") && found !== undefined) {
  const told = page.querySelector("[data-told]");
  told.textContent = words("tank.missing");
  told.hidden = false;
}
const sum = await openSum(page, { starting, shown, alsoKept });
for (const pair of page.querySelectorAll("[data-either]")) openPair(pair);
if (entry) await openTankHolds(page, entry);
openNumbers();
openFold(asked.get("open"));
page.addEventListener("tankfoot-tank", ({ detail }) => follow(detail));
name.addEventListener("input", () => { name.toggleAttribute("data-touched", true); checkName(); keep("name", name.value); });
capWay.addEventListener("input", () => keep("cap-way", capWay.value));
form.addEventListener("submit", (event) => { event.preventDefault(); inWords(save); });
page.querySelector("[data-delete]").addEventListener("click", () => inWords(remove));

/** The tank was changed elsewhere on its page: what nobody has typed follows. */
function follow(tank) {
  [entry, known] = [tank, tankTexts(tank.body, settings().system)];
  dispatchEvent(new Event("tankfoot-current-tank"));
}

/** A field starts with what the tank has, else what holds unless said; never with an example. */
function starting(field, sent) {
  if (sent.has(field.name)) return sent.get(field.name);
  if (isSaidInstead(field)) return "";
  const text = known[`tank.${field.name}`] ?? (entry && field.name === "pressure" ? "" : known[field.name]);
  return text ?? (entry && field.declared.optional ? "" : field.declared.defaults[settings().system] ?? "");
}

/** What stands in the address before what is typed into the sum: which tank, where to go back to, the rest of the form. */
function alsoKept() {
  const kept = entry ? [["id", entry.id]] : [];
  return [...kept, ...(asked.has("go-on") ? [["go-on", asked.get("go-on")]] : []), ...typed];
}

function keep(key, text) {
  typed.set(key, text);
  const kept = inAddress();
  kept.set(key, text);
  history.replaceState(null, "", `#${kept}`);
}

function firstStack() {
  return typed.has("stack") ? typed.get("stack").split(" ").filter(Boolean) : entry?.body.stack ?? null;
}

/** The form waits behind the tank itself, unless it is a new one's, or what was typed into it came back. */
function openNumbers() {
  const numbers = page.querySelector("[data-numbers]");
  numbers.toggleAttribute("data-new", !entry);
  numbers.open = !entry || asked.has("open") || typed.size > 0 || sum.fields.some(isTouched);
}

/** A link may lead to one of the folds; a purge that did is gone on with from here. */
function openFold(asks) {
  const fold = form.querySelector(`[data-fold="${CSS.escape(asks ?? "")}"]`);
  if (fold) fold.open = true;
  fold?.scrollIntoView();
  const back = page.querySelector("[data-back]");
  back.hidden = !asked.has("go-on");
  back.querySelector("a").hash = new URLSearchParams({ "go-on": asked.get("go-on") ?? "" }).toString();
}

function shown(latest, fields) {
  outcome = latest;
  const isWhole = latest.problems.length === 0;
  const drawing = page.querySelector("[data-drawing]");
  drawing.toggleAttribute("data-stale", !isWhole);
  if (!isWhole) return;
  page.querySelector("[data-no-drawing]").toggleAttribute("hidden", true);
  drawing.toggleAttribute("hidden", false);
  drawTank(drawing, bodyFrom(latest, fields));
}

/** Two ways to say one thing: one is shown, a button goes to the other. */
function openPair(pair) {
  const field = sum.fields.find((each) => each.name === pair.dataset.either);
  const button = pair.querySelector("[data-swap]");
  const turn = (isSecond) => {
    for (const each of [field, field.instead]) each.box.toggleAttribute("data-swapped", (each === field) !== isSecond);
    button.textContent = isSecond ? button.dataset.toFirst : button.dataset.toSecond;
  };
  turn(isTouched(field));
  button.addEventListener("click", () => {
    const isSecond = field.box.hasAttribute("data-swapped");
    turn(isSecond);
    const chosen = isSecond ? field : field.instead;
    touch(chosen);
    chosen.entry.focus();
    chosen.entry.dispatchEvent(new Event("input"));
  });
}

/** The tank's body as the form has it; what nobody touched stays as it was, to the last digit. */
function bodyFrom({ inputs, results }, fields) {
  const body = { ...entry?.body, name: name.value.trim(), stack: stack.parts, cap_way: capWay.value.trim() || null };
  const touched = fields.filter(isTouched).map((field) => field.name);
  const isNew = (names) => !entry || names.some((each) => touched.includes(each));
  for (const [key, names] of Object.entries(FROM_RESULTS)) {
    if (isNew(names)) body[key] = results[key].value;
  }
  for (const key of FROM_INPUTS) {
    if (isNew([key])) body[key] = inputs[key]?.si ?? null;
  }
  return body;
}

function checkName() {
  const problem = document.getElementById("tank-name-problem");
  const isGood = name.value.trim() !== "" && name.value.trim().length <= LONGEST_NAME;
  problem.textContent = isGood ? "" : words("tank.no_name");
  if (isGood) name.removeAttribute("aria-invalid");
  else name.setAttribute("aria-invalid", "true");
  return isGood;
}

async function save() {
  form.toggleAttribute("data-tried", true);
  const isNamed = checkName();
  const told = page.querySelector("[data-not-saved]");
  told.textContent = "";
  if (!isNamed || outcome.problems.length > 0 || !stack.isSound) {
    told.textContent = words("tank.not_saved");
    if (!stack.isSound) openFold("stack");
    page.querySelector("[aria-invalid]")?.focus();
    return;
  }
  const body = bodyFrom(outcome, sum.fields);
  const saved = entry ? corrected(entry, body) : newEntry("tank", body);
  if (!entry || JSON.stringify(body) !== JSON.stringify(entry.body)) await put(saved);
  refreshCurrentTank(saved);
  location.replace(asked.has("go-on") ? page.querySelector("[data-back] a").href : "../");
}

async function remove() {
  const gone = edited(entry, entry.body, { deleted: true });
  await put(gone);
  refreshCurrentTank(gone);
  location.replace(`../#deleted=${gone.id}`);
}

async function inWords(work) {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof RecordTrouble)) throw error;
    tell(troubleText(error));
    page.querySelector("[data-not-saved]").textContent = troubleText(error);
    return undefined;
  }
}

function tell(text) {
  page.querySelector("[data-trouble]").textContent = text;
}
