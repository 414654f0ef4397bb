/** Prices, and which purges "saved" is counted from: an entry of the record, so that every phone and the office have it. */

import { local } from "../../quantities/locale.js";
import { entryProblems } from "../../office/entry_check.js";
import { PRICES } from "../../report/meaning.js";
import { startOfDay } from "../../batches/wall_clock.js";
import { words } from "../../wording/words.js";
import { currencyText } from "../parts/currency.js";
import { orShowTrouble } from "../parts/trouble.js";
import { corrected, newEntry, put } from "../storage/record.js";
import { settings } from "../storage/settings.js";
import { unitOf } from "../storage/units.js";

const BARE = /^[0-9., ]+$/;

/**
 * @param {HTMLElement} place @param {() => any} current the entry that counts, or null @param {() => void} whenSaved
 * @returns {() => void} fills in what that entry says
 */
export function offerBasis(place, current, whenSaved) {
  const part = (name) => place.querySelector(`[data-${name}]`);
  const entries = Object.keys(PRICES).map((name) => [name, place.querySelector(`[data-price=${name}]`)]);
  for (const [name] of entries) place.querySelector(`[data-unit-of=${name}]`).textContent = currencyText(unitOf(PRICES[name]));
  part("saved-from").addEventListener("change", () => { part("of-period").hidden = part("saved-from").value !== "period"; });
  part("save").addEventListener("click", save);
  return fill;

  function fill() {
    const body = current()?.body;
    for (const [name, field] of entries) field.value = local(currencyText(body?.[name] ?? (name === "beer_value" ? settings().values.beer_value : null) ?? ""));
    const isPeriod = Boolean(body?.since || body?.until);
    part("saved-from").value = isPeriod ? "period" : "first";
    part("of-period").hidden = !isPeriod;
    for (const end of ["since", "until"]) part(end).value = body?.[end] ? dayOf(body[end]) : "";
  }

  async function save() {
    const isPeriod = part("saved-from").value === "period";
    const days = ["since", "until"].map((name) => (isPeriod && part(name).value ? instantOf(part(name).value) : null));
    const prices = Object.fromEntries(entries.map(([name, field]) => [name, priceIn(local(field.value), PRICES[name])]));
    const body = { ...prices, currency: settings().currency, since: days[0], until: days[1] };
    const before = current();
    const changed = before ? corrected(before, body) : newEntry("cost-basis", body);
    const problem = isPeriod && days.every((day) => day === null) ? "cost.basis_no_period"
      : entryProblems(changed).length ? "cost.basis_not_right" : null;
    part("problem").textContent = problem ? currencyText(words(problem)) : "";
    part("saved").textContent = "";
    if (problem || !await orShowTrouble(put(changed))) return;
    part("saved").textContent = words("cost.basis_saved");
    whenSaved();
  }
}

/** As it is kept: with its unit, and "$" for whatever the site's money is. */
function priceIn(typed, kind) {
  const text = typed.trim().replaceAll(settings().currency, () => "$");
  if (text === "") return null;
  return BARE.test(text) ? `${text} ${unitOf(kind)}` : text;
}

function instantOf(day) {
  return startOfDay(new Date(`${day}T12:00:00`).toISOString(), 0, Intl.DateTimeFormat().resolvedOptions().timeZone);
}

function dayOf(instant) {
  return new Intl.DateTimeFormat("sv-SE").format(new Date(instant)); // as a field of a date wants it
}
