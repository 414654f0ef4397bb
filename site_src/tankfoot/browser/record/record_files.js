/** The record out of the phone and into it: export file, table of purges, an import that asks first. */

import { purgesCsv } from "../../office/csv_export.js";
import { mergeEntries } from "../../office/merge.js";
import { checkSize, exportFile, readBytes } from "../../office/transfer.js";
import { fileSentence } from "../../wording/sentences.js";
import { words } from "../../wording/words.js";
import { refreshCurrentTank } from "../storage/current_tank.js";
import { allIds, everything, getStored, takeIn } from "../storage/record.js";
import { settings } from "../storage/settings.js";
import { damageOf, nameOfDamaged } from "./damaged.js";
import { element } from "../parts/figures.js";
import { shareFile } from "../parts/share_file.js";
import { orShowTrouble } from "../parts/trouble.js";

const CLOCKS_APART = 5 * 60e3; // ms; the clocks of two phones are never quite the same
const MOST_REFUSALS = 20; // shown; a spoilt file may have thousands
const ACTIONS = ["new", "newer", "older", "same", "refused"];

/** @param {HTMLElement} page @param {() => Promise<void>} whenChanged */
export function offerFiles(page, whenChanged) {
  const plan = page.querySelector("[data-plan]");
  const writer = plan.querySelector("[data-write]");
  const input = page.querySelector("[data-import]");
  const say = (...lines) => { page.querySelector("[data-files-say]").replaceChildren(...lines); };
  let waiting = null;

  const putAway = () => {
    waiting = null;
    plan.hidden = true;
    input.value = "";
  };

  async function shareAs(type, ending, text) {
    const name = `tankfoot-${new Date().toISOString().slice(0, 10)}.${ending}`;
    await shareFile(new File([text], name, { type }));
    return words("files.made", { file: name });
  }

  /** All that can be read: a damaged entry goes along as it is, and is named. */
  async function exportAll() {
    const ids = await orShowTrouble(allIds());
    const stored = ids && await orShowTrouble(getStored(ids));
    if (!stored) return;
    const text = await exportFile(stored.filter(Boolean), page.dataset.version);
    const made = await shareAs("application/json", "json", text);
    const damaged = ids.filter((id, place) => damageOf(stored[place]) !== null);
    const lines = damaged.map((id) => element("li", {}, linkTo(id, nameOfDamaged(stored[ids.indexOf(id)]))));
    say(made, ...lines.length ? [element("ul", { className: "tiles" }, ...lines)] : []);
  }

  async function exportTable() {
    const entries = await orShowTrouble(everything());
    if (entries) say(await shareAs("text/csv", "csv", await purgesCsv(entries, settings().system)));
  }

  async function look(file) {
    say("");
    plan.hidden = true;
    waiting = await contentsOf(file);
    if (!waiting) {
      input.value = "";
      say(words("files.gone", { file: file.name }));
      return;
    }
    const mine = await orShowTrouble(everything());
    if (!mine) return;
    const merged = mergeEntries(mine, waiting.entries, waiting.problems);
    plan.querySelector("[data-plan-says]").replaceChildren(...inWords(merged.plan));
    plan.querySelector("[data-ahead]").hidden = !waiting.entries.some(isAhead);
    writer.hidden = merged.changed.length === 0;
    plan.hidden = false;
  }

  /** What is here may have changed since it was looked at. */
  async function write() {
    writer.disabled = true; // a second tap meanwhile is none
    const changed = await orShowTrouble(takeIn(waiting.entries));
    writer.disabled = false;
    if (!changed) return;
    for (const entry of changed.filter(({ kind }) => kind === "tank")) refreshCurrentTank(entry);
    putAway();
    say(words("files.imported", { count: changed.length }));
    await whenChanged();
  }

  page.querySelector("[data-export]").addEventListener("click", exportAll);
  page.querySelector("[data-csv]").addEventListener("click", exportTable);
  input.addEventListener("change", () => { if (input.files[0]) look(input.files[0]); });
  writer.addEventListener("click", write);
  page.querySelector("[data-leave]").addEventListener("click", putAway);
}

/** What a file holds; nothing where it is gone, or has changed since it was chosen. */
async function contentsOf(file) {
  const tooLarge = checkSize(file.size);
  if (tooLarge) return { entries: [], problems: [tooLarge] };
  let content;
  try {
    content = await file.arrayBuffer();
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
    return undefined;
  }
  return readBytes(content);
}

/** An entry changed in the future by this phone's clock would win over every change made here until then. */
function isAhead({ edited }) {
  return Date.parse(edited) > Date.now() + CLOCKS_APART;
}

function linkTo(id, textContent) {
  const href = `entry/#${new URLSearchParams({ id })}`;
  return element("a", { className: "tile", href }, element("strong", { textContent }));
}

function inWords(plan) {
  const counts = ACTIONS
    .map((action) => [action, plan.filter((step) => step.action === action).length])
    .filter(([, count]) => count > 0)
    .map(([action, count]) => words(`files.plan.${action}`, { count }));
  const refusals = plan.filter(({ action }) => action === "refused").slice(0, MOST_REFUSALS);
  const lines = plan.length ? [...counts, ...refusals.map(({ problem }) => fileSentence(problem))] : [words("files.no_entries")];
  return lines.map((textContent) => element("li", { textContent }));
}
