/** The record out of the phone and into it: export file, table of purges, an import that asks first. */

import { purgesCsv } from "../office/csv_export.js";
import { mergeEntries } from "../office/merge.js";
import { checkSize, exportFile, readFile } from "../office/transfer.js";
import { refreshHand } from "../storage/hand.js";
import { everything, put } from "../storage/record.js";
import { settings } from "../storage/settings.js";
import { element } from "./figures.js";
import { handOn } from "./hand_on.js";
import { orTell } from "./trouble.js";

const MOST_REFUSALS = 20; // shown; a spoilt file may have thousands
const DOES = {
  new: "new: added",
  newer: "newer in the file: replace what is here, which is not kept",
  older: "older in the file: what is here stays",
  same: "the same: nothing to do",
  refused: "problems: those entries are left out",
};

/** @param {HTMLElement} page @param {() => Promise<void>} whenChanged */
export function offerFiles(page, whenChanged) {
  const plan = page.querySelector("[data-plan]");
  const input = page.querySelector("[data-import]");
  const say = (words) => { page.querySelector("[data-files-say]").replaceChildren(words); };
  let waiting = null;

  const putAway = () => {
    waiting = null;
    plan.hidden = true;
    input.value = "";
  };

  async function makeFile(type, ending, make) {
    const entries = await orTell(everything());
    if (!entries) return;
    const name = `tankfoot-${new Date().toISOString().slice(0, 10)}.${ending}`;
    await handOn(new File([await make(entries)], name, { type }));
    say(`${name}: made.`);
  }

  async function look(file) {
    say("");
    plan.hidden = true;
    const tooLarge = checkSize(file.size);
    waiting = tooLarge ? { entries: [], problems: [tooLarge] } : await readFile(await file.text());
    const mine = await orTell(everything());
    if (!mine) return;
    const merged = mergeEntries(mine, waiting.entries, waiting.problems);
    plan.querySelector("[data-plan-says]").replaceChildren(...inWords(merged.plan));
    plan.querySelector("[data-write]").hidden = merged.changed.length === 0;
    plan.hidden = false;
  }

  /** What is here may have changed since it was looked at: merged once more, written in one go. */
  async function write() {
    const mine = await orTell(everything());
    if (!mine) return;
    const { changed } = mergeEntries(mine, waiting.entries);
    if (!await orTell(put(...changed).then(() => true))) return;
    for (const entry of changed.filter(({ kind }) => kind === "tank")) refreshHand(entry);
    putAway();
    say(`Imported: ${changed.length} written.`);
    await whenChanged();
  }

  page.querySelector("[data-export]").addEventListener("click", () => (
    makeFile("application/json", "json", (entries) => exportFile(entries, page.dataset.version))
  ));
  page.querySelector("[data-csv]").addEventListener("click", () => (
    makeFile("text/csv", "csv", (entries) => purgesCsv(entries, settings().system))
  ));
  input.addEventListener("change", () => { if (input.files[0]) look(input.files[0]); });
  page.querySelector("[data-write]").addEventListener("click", write);
  page.querySelector("[data-leave]").addEventListener("click", putAway);
}

function inWords(plan) {
  const counts = Object.entries(DOES)
    .map(([action, words]) => [plan.filter((step) => step.action === action).length, words])
    .filter(([count]) => count > 0)
    .map(([count, words]) => `${count} ${words}`);
  const refusals = plan.filter(({ action }) => action === "refused").slice(0, MOST_REFUSALS).map(({ why }) => why);
  const lines = plan.length ? [...counts, ...refusals] : ["The file holds no entries."];
  return lines.map((textContent) => element("li", { textContent }));
}
