/** What purges cost: asks the thread that reads the record, and shows each answer as it comes. */

import { words } from "../../wording/words.js";
import { byName } from "../parts/by_name.js";
import { settings } from "../storage/settings.js";
import { newThread } from "../storage/thread.js";
import { written } from "../parts/dates.js";
import { orShowTrouble, troubleText } from "../parts/trouble.js";
import { offerBasis } from "./basis.js";
import { show } from "./shown.js";

const THREAD = "browser/cost/thread";

const thread = globalThis.Worker ? newThread(THREAD) : null; // at once: it takes as long to start as the page
const page = document.querySelector("[data-cost]");
const part = (name) => page.querySelector(`[data-${name}]`);
let number = 0; // of what was asked last
let basis = null; // the entry that counts, as the last answer had it
const fillBasis = offerBasis(part("basis"), () => basis, ask);

for (const name of ["period", "tank", "by"]) part(name).addEventListener("change", ask);
if (thread) thread.onmessage = ({ data }) => take(data);
part("print").addEventListener("click", () => window.print());
addEventListener("beforeprint", () => { for (const fold of page.querySelectorAll("details:not([data-basis])")) fold.open = true; });
ask();

function ask() {
  number += 1;
  const { system, values } = settings();
  const asked = {
    period: part("period").value || "latest", tank: part("tank").value, by: part("by").value,
    zone: Intl.DateTimeFormat().resolvedOptions().timeZone, system, beerValue: values.beer_value ?? null,
  };
  if (thread) thread.postMessage({ number, asked });
  else answerHere(number, asked);
}

/** A browser without threads reckons in the page. */
async function answerHere(asking, asked) {
  const { answerTo } = await import("./asked.js");
  await orShowTrouble(answerTo(asked, (told) => take({ number: asking, told })));
}

async function take(data) {
  if (data.number !== number) return;
  if (data.trouble) part("trouble").textContent = troubleText({ code: data.trouble });
  else if (data.told.months) await showAnswer(data.told, data.number);
  else part("progress").textContent = words(part("shown").hidden ? "cost.reading" : "cost.more", data.told);
}

async function showAnswer(told, asked) {
  const isEmpty = told.months.length === 0;
  basis = told.basis;
  if (!page.dataset.ready) fillBasis();
  offerTanks(told);
  part("none").hidden = !isEmpty || !told.isWhole;
  part("demo").hidden = !told.isDemo;
  for (const name of ["choice", "shown"]) part(name).hidden = isEmpty;
  part("progress").textContent = told.isWhole ? "" : words("cost.more", told);
  if (!isEmpty) {
    offerPeriods(told);
    await show(page, told);
  }
  if (asked !== number) return; // another one was asked for meanwhile
  page.dataset.ready = told.isWhole ? "whole" : "true";
  if (!performance.getEntriesByName("cost-shown").length) performance.mark("cost-shown");
  if (told.isWhole) performance.mark("cost-whole");
}

function offerTanks({ tanks, tank }) {
  part("tank").replaceChildren(new Option(words("record.all_tanks"), ""), ...byName(tanks).map(({ id, body }) => new Option(body.name, id)));
  part("tank").value = tank;
}

/** Periods that have purges, the latest first; what was chosen stays chosen. */
function offerPeriods({ months, period }) {
  const options = months.map((month) => new Option(written(`${month}-15T12:00:00.000Z`, "month"), month));
  part("period").replaceChildren(...options, new Option(words("cost.year"), "year"), new Option(words("cost.all"), "all"));
  part("period").value = period;
}
