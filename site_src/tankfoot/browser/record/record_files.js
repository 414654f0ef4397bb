/** Files of other phones into the record: an import that looks, says what it would do, and asks first. */

import { mergeEntries } from "../../office/merge.js";
import { checkSize, readBytes } from "../../office/transfer.js";
import { fileSentence } from "../../wording/sentences.js";
import { words } from "../../wording/words.js";
import { refreshCurrentTank } from "../storage/current_tank.js";
import { getEach, takeIn } from "../storage/record.js";
import { element } from "../parts/figures.js";
import { shown } from "../parts/progress.js";
import { orShowTrouble } from "../parts/trouble.js";

const CLOCKS_APART = 5 * 60e3; // ms; the clocks of two phones are never quite the same
const MOST_REFUSALS = 20; // shown; a spoilt file may have thousands
const ACTIONS = ["new", "newer", "older", "same", "refused"];

/** @param {HTMLElement} page @param {() => Promise<void>} whenChanged */
export function offerFiles(page, whenChanged) {
  const plan = page.querySelector("[data-plan]");
  const writer = plan.querySelector("[data-write]");
  const input = page.querySelector("[data-import]");
  const say = (text) => { page.querySelector("[data-files-say]").textContent = text; };
  let waiting = [];

  const putAway = () => {
    waiting = [];
    plan.hidden = true;
    input.value = "";
  };

  const sayGone = ({ name }) => {
    putAway();
    say(words("files.gone", { file: name }));
  };

  const sayAtWork = async (key, { name: file }) => {
    say(words(key, { file }));
    await shown(); // a large file holds the page up
  };

  async function look(files) {
    plan.hidden = true;
    const looks = [];
    for (const file of files) {
      await sayAtWork("files.reading", file);
      const contents = await contentsOf(file);
      if (!contents) return sayGone(file);
      const mine = await orShowTrouble(getEach(contents.entries.map(({ id }) => id)));
      if (!mine) return say("");
      const { plan: steps } = mergeEntries(mine.filter(Boolean), contents.entries, contents.problems);
      // Of several files only one at a time is held: a phone may have no room for all.
      looks.push({ file, steps, isAhead: contents.entries.some(isAhead), contents: files.length === 1 ? contents : null });
    }
    say("");
    waiting = looks;
    plan.querySelector("[data-plan-says]").replaceChildren(...inWords(looks));
    plan.querySelector("[data-ahead]").hidden = !looks.some((each) => each.isAhead);
    writer.hidden = !looks.some(({ steps }) => steps.some(({ action }) => action === "new" || action === "newer"));
    plan.hidden = false;
    return undefined;
  }

  async function write() {
    let count = 0;
    for (const { file, contents } of waiting) {
      await sayAtWork("files.writing", file);
      const read = contents ?? await contentsOf(file);
      if (!read) return sayGone(file);
      const changed = await orShowTrouble(takeIn(read.entries)); // what is here may have changed since it was looked at
      if (!changed) return say("");
      for (const entry of changed.filter(({ kind }) => kind === "tank")) refreshCurrentTank(entry);
      count += changed.length;
    }
    putAway();
    say(words("files.imported", { count }));
    return whenChanged();
  }

  input.addEventListener("change", () => { if (input.files.length) look([...input.files]); });
  writer.addEventListener("click", async () => {
    writer.disabled = true; // a second tap meanwhile is none
    await write().finally(() => { writer.disabled = false; });
  });
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

function inWords(looks) {
  const steps = looks.flatMap((each) => each.steps);
  const counts = ACTIONS
    .map((action) => [action, steps.filter((step) => step.action === action).length])
    .filter(([, count]) => count > 0)
    .map(([action, count]) => words(`files.plan.${action}`, { count }));
  const lines = steps.length ? [...counts, ...refusals(looks).slice(0, MOST_REFUSALS)] : [words("files.no_entries")];
  return lines.map((textContent) => element("li", { textContent }));
}

/** Of several files each is named. */
function refusals(looks) {
  return looks.flatMap(({ file, steps }) => steps
    .filter(({ action }) => action === "refused")
    .map(({ problem }) => (looks.length > 1 ? `${file.name}: ` : "") + fileSentence(problem)));
}
