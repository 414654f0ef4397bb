/** The fields that go with an event of a batch: an amount with its unit, and days. What was typed is kept as typed. */

import { events as kinds } from "../../batches/declared.js";
import { fieldProblem } from "../../calculators/reckon.js";
import { local } from "../../quantities/locale.js";
import { offered } from "../../quantities/text.js";
import { problemTemplates } from "../../wording/declared.js";
import { filled } from "../../wording/sentences.js";
import { words } from "../../wording/words.js";
import { inUnit } from "../parts/fields.js";
import { plainNumber } from "../parts/plain_number.js";
import { settings } from "../storage/settings.js";
import { unitOf } from "../storage/units.js";
import { localFacts } from "../parts/problem_text.js";

const LARGEST = { tank_volume: 20000, bucket_volume: 200, solids_mass: 50000 }; // m³, m³, kg: what a record may hold, and no slip
const MOST_DAYS = 400; // as the record has it

/** A field of a form: its box, what is typed into it, and what is wrong with that. @param {HTMLElement} form */
export function fieldIn(form, name) {
  const box = form.querySelector(`[data-of="${name}"]`);
  const [input, problem] = [box.querySelector("input") ?? box.querySelector("select"), box.querySelector("[data-problem]")];
  return {
    box,
    input,
    get text() { return input.value.trim(); },
    tell(says) {
      problem.textContent = says;
      if (says) input.setAttribute("aria-invalid", "true");
      else input.removeAttribute("aria-invalid");
      if (says) input.focus();
      return says === "";
    },
  };
}

/** @param {HTMLElement} form */
export function openFields(form) {
  const [amount, days] = ["amount", "days"].map((name) => fieldIn(form, name));
  const label = amount.box.querySelector("[data-label]");
  const unit = amount.box.querySelector("select");
  let kind = null;
  let name = "";

  return {
    /** Asks for what goes with an event; `known` stands in the fields. */
    show(event, known = { amount: null, days: null }) {
      kind = kinds[event].amount;
      amount.box.hidden = kind === null;
      days.box.hidden = !kinds[event].days;
      for (const field of [amount, days]) field.tell("");
      amount.input.value = local(known.amount ?? "");
      days.input.value = known.days === null ? "" : local(String(known.days));
      if (kind === null) return;
      name = words(`batch.amount.${event}`);
      label.textContent = name;
      unit.replaceChildren(...offered(kind, settings().system).map((symbol) => new Option(symbol, symbol)));
      unit.value = unitOf(kind);
    },
    /** What was typed: {amount, days}; null where it cannot be read, which is said beside it. */
    read() {
      const text = kind !== null && amount.text ? inUnit(local(amount.text), unit.value) : null;
      if (text !== null && !amount.tell(problemWith(text, kind, name))) return null;
      const typed = days.box.hidden ? "" : days.text;
      const count = plainNumber(typed);
      const isRight = typed === "" || (count !== null && count <= MOST_DAYS);
      if (!days.tell(isRight ? "" : words("batch.bad_days"))) return null;
      return { amount: text, days: count };
    },
    first: () => (amount.box.hidden ? null : amount.input),
  };
}

function problemWith(text, kind, label) {
  const found = fieldProblem({ kind, low: 0, high: LARGEST[kind] }, text, settings().system);
  return found ? filled(problemTemplates[found.code], { label, ...localFacts(found.facts) }) : "";
}
