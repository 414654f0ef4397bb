/** Corrects a finished purge: its notes and what was measured. The figures follow from the readings. */

import { calculators } from "../../calculators/declared.js";
import { fieldProblem } from "../../calculators/reckon.js";
import { outcomeOf } from "../../purge/outcome.js";
import { readings as declared } from "../../purge/declared.js";
import { local } from "../../quantities/locale.js";
import { corrected, put } from "../storage/record.js";
import { settings } from "../storage/settings.js";
import { words } from "../../wording/words.js";
import { inUnit } from "../parts/fields.js";
import { readingUnit } from "../parts/reading_unit.js";
import { element } from "../parts/figures.js";
import { orShowTrouble } from "../parts/trouble.js";
import { problemText } from "../parts/problem_text.js";

const MEASURED = ["pressure_after", "flow", "collected_volume", "collected_mass"]; // may be empty, offered always
const GIVEN = ["headspace", "temperature", "pressure_before", "beer_share"]; // offered where they were read

/** @param {() => any} latestOf the entry as it stands @param {(latest: object) => void} whenSaved */
export function offerCorrection(page, recordWords, latestOf, whenSaved) {
  const form = page.querySelector("[data-correct] form");
  const saved = form.querySelector("[data-saved]");
  const notes = form.querySelector("#notes");
  const { body: found } = latestOf();
  const names = [...GIVEN.filter((name) => found.readings[name]), ...MEASURED];
  const fields = names.map((name) => fieldOf(name, recordWords.readings[name], found.readings[name] ?? ""));
  notes.value = found.notes;
  form.querySelector("[data-fields]").replaceChildren(...fields.map(({ box }) => box));

  async function save() {
    saved.textContent = "";
    const wrong = fields.filter((field) => !check(field));
    if (wrong.length) {
      wrong[0].input.focus();
      return;
    }
    const purge = latestOf();
    const body = await correctedBody(purge, notes.value.trim(), fields);
    if (!body) return;
    if (JSON.stringify(body) === JSON.stringify(purge.body)) {
      saved.textContent = words("entry.correct.same");
      return;
    }
    // the tank may have been filled since, so that nothing follows for it
    const tankStays = body.tank && body.result.volume_lost?.value !== purge.body.result.volume_lost?.value;
    const latest = corrected(purge, body);
    if (!await orShowTrouble(put(latest))) return;
    saved.textContent = [words("entry.correct.saved"), tankStays && words("entry.correct.tank_stays")].filter(Boolean).join(" ");
    whenSaved(latest);
  }

  form.addEventListener("submit", (event) => { event.preventDefault(); save(); });
}

function fieldOf(name, label, text) {
  const input = element("input", { type: "text", id: `reading-${name}`, value: local(text), maxLength: 40 });
  const problem = element("p", { className: "problem", id: `reading-${name}-problem`, role: "alert" });
  input.setAttribute("aria-describedby", problem.id);
  const heading = element("label", { htmlFor: input.id, textContent: label });
  return { name, input, problem, box: element("div", { className: "field" }, heading, input, problem) };
}

/** Whether a field's text can be read; says so beside it where not. */
function check({ name, input, problem }) {
  const text = local(input.value.trim());
  const [calculator, field] = declared[name];
  const mayBeEmpty = text === "" && MEASURED.includes(name);
  const found = mayBeEmpty ? null : fieldProblem(calculators[calculator].fields[field], text, settings().system);
  problem.textContent = found ? problemText(calculator, { field, ...found }) : "";
  if (found) input.setAttribute("aria-invalid", "true");
  else input.removeAttribute("aria-invalid");
  return !found;
}

/** The figures stay to the last digit where only the notes changed. */
async function correctedBody(purge, notes, fields) {
  const { readings } = purge.body;
  const changed = fields.map(({ name, input }) => [name, inItsUnit(name, local(input.value.trim()))])
    .filter(([name, text]) => text !== (readings[name] ?? ""));
  const body = { ...purge.body, notes };
  if (!changed.length) return body;
  const read = { ...body, readings: { ...readings, ...Object.fromEntries(changed) } };
  const { result, agree } = await outcomeOf(read, settings().system);
  return { ...read, result, agree };
}

/** A bare number gets the unit it was read in: it has to say the same after the units of the phone were changed. */
function inItsUnit(name, text) {
  return inUnit(text, readingUnit(name));
}
