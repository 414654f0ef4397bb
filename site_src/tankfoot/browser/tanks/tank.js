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
const asked = inAddress();
const found = asked.get("id") ? await inWords(() => get(asked.get("id"))) : undefined;
const entry = found && !found.deleted ? found : null;
const known = entry ? tankTexts(entry.body, settings().system) : {};
let outcome = null;

name.value = asked.get("name") ?? entry?.body.name ?? "";
if (entry) {
  page.querySelector("[data-heading]").textContent = entry.body.name;
  page.querySelector("[data-delete]").hidden = false;
  form.toggleAttribute("data-tried", true);
} else if (asked.get("id")) {
  tell(words("tank.missing"));
}
const sum = await openSum(page, { starting, shown, alsoKept });
for (const pair of page.querySelectorAll("[data-either]")) openPair(pair);
name.addEventListener("input", () => { name.toggleAttribute("data-touched", true); checkName(); keepName(); });
form.addEventListener("submit", (event) => { event.preventDefault(); inWords(save); });
page.querySelector("[data-delete]").addEventListener("click", () => inWords(remove));

/** A field starts with what the tank has, else what holds unless said; never with an example. */
function starting(field, sent) {
  if (sent.has(field.name)) return sent.get(field.name);
  if (isSaidInstead(field)) return "";
  const text = known[`tank.${field.name}`] ?? (entry && field.name === "pressure" ? "" : known[field.name]);
  return text ?? (entry && field.declared.optional ? "" : field.declared.defaults[settings().system] ?? "");
}

/** What stands in the address with what was typed: which tank, and its name while it is being changed. */
function alsoKept() {
  const kept = entry ? [["id", entry.id]] : [];
  return name.hasAttribute("data-touched") || asked.has("name") ? [...kept, ["name", name.value]] : kept;
}

function keepName() {
  const kept = inAddress();
  kept.set("name", name.value);
  history.replaceState(null, "", `#${kept}`);
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
  const body = { stack: null, cap_way: null, ...entry?.body, name: name.value.trim() };
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
  if (!isNamed || outcome.problems.length > 0) {
    told.textContent = words("tank.not_saved");
    page.querySelector("[aria-invalid]")?.focus();
    return;
  }
  const body = bodyFrom(outcome, sum.fields);
  const saved = entry ? corrected(entry, body) : newEntry("tank", body);
  if (!entry || JSON.stringify(body) !== JSON.stringify(entry.body)) await put(saved);
  refreshCurrentTank(saved);
  location.replace("../");
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
