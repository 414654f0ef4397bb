/** Files of other phones into the record: an import that looks, says what it would do, and asks first. */

import { fileSentence } from "../../wording/sentences.js";
import { listed, words } from "../../wording/words.js";
import { refreshCurrentTank } from "../storage/current_tank.js";
import { openMemory } from "../storage/memory.js";
import { takeIn } from "../storage/record.js";
import { element } from "../parts/figures.js";
import { orShowTrouble } from "../parts/trouble.js";
import { Stopped } from "./at_work.js";

const MOST_REFUSALS = 20; // shown; a spoilt file may have thousands
const ACTIONS = ["new", "newer", "older", "same", "refused"];

const memory = openMemory("tankfoot-import"); // the files that are being written: a phone may go dark under it

/**
 * @param {HTMLElement} page @param {ReturnType<import("./at_work.js").newWork>} atWork
 * @param {() => Promise<void>} whenChanged
 */
export function offerFiles(page, atWork, whenChanged) {
  const plan = page.querySelector("[data-plan]");
  const writer = plan.querySelector("[data-write]");
  const input = page.querySelector("[data-import]");
  const say = (text) => { page.querySelector("[data-files-say]").textContent = text; };
  let waiting = []; // files that were looked at

  const { files: underWay } = memory.glance();
  if (Array.isArray(underWay) && underWay.length) say(words("files.cut_short", { files: listed(underWay) }));

  const putAway = () => {
    waiting = [];
    plan.hidden = true;
    input.value = "";
  };

  const sayGone = ({ name }) => {
    putAway();
    say(words("files.gone", { file: name }));
  };

  async function look(files) {
    plan.hidden = true;
    const isDone = await done(async ({ ask }) => {
      const looks = [];
      for (const file of files) {
        say(words("files.reading", { file: file.name }));
        const asked = { file, isOnly: files.length === 1, most: MOST_REFUSALS };
        const found = await isThere(file) ? await ask("look", asked) : null;
        if (!found) return sayGone(file);
        looks.push({ file, ...found });
      }
      say("");
      return show(looks);
    }, sayStopped);
    if (!isDone) say("");
  }

  function show(looks) {
    waiting = looks;
    plan.querySelector("[data-plan-says]").replaceChildren(...inWords(looks));
    plan.querySelector("[data-ahead]").hidden = !looks.some((each) => each.isAhead);
    writer.hidden = !looks.some(({ counts }) => counts.new || counts.newer);
    plan.hidden = false;
  }

  /** Some entries at a time, so that what another window saves meanwhile does not wait: each is all in, or not at all. */
  async function write() {
    let count = 0;
    const isDone = await done(async ({ ask, tell }) => {
      await memory.save({ files: waiting.map(({ file }) => file.name) });
      for (const { file } of waiting) {
        say(words("files.writing", { file: file.name }));
        const all = await ask("open", { file });
        if (all === null) return sayGone(file);
        let past = 0;
        for (let some = await ask("next"); some.length; some = await ask("next")) {
          const changed = await takeIn(some); // what is here may have changed since it was looked at
          for (const entry of changed.filter(({ kind }) => kind === "tank")) refreshCurrentTank(entry);
          [count, past] = [count + changed.length, past + some.length];
          tell(past, all);
        }
      }
      putAway();
      return say(words("files.imported", { count }));
    }, () => sayStopped(count));
    await memory.save({ files: [] });
    if (!isDone && count) sayStopped(count);
    else if (!isDone) say("");
    await whenChanged();
  }

  function sayStopped(count = 0) {
    say(count ? words("files.stopped", { count }) : words("files.stopped_before"));
  }

  /** @returns {Promise<boolean>} false where the record refused it, which is said */
  async function done(work, whenStopped) {
    try {
      return await orShowTrouble(atWork("files.at", work).then(() => true)) ?? false;
    } catch (stopped) {
      if (!(stopped instanceof Stopped)) throw stopped;
      putAway();
      whenStopped();
      return true;
    }
  }

  input.addEventListener("change", () => { if (input.files.length) look([...input.files]); });
  writer.addEventListener("click", write);
  page.querySelector("[data-leave]").addEventListener("click", putAway);
}

/** Whether a file is where it was chosen, unchanged; a large one would keep the page busy if all of it was read here. */
async function isThere(file) {
  try {
    await file.slice(0, 1).arrayBuffer();
    return true;
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
    return false;
  }
}

function inWords(looks) {
  const countOf = (action) => looks.reduce((all, { counts }) => all + (counts[action] ?? 0), 0);
  const counts = ACTIONS.filter((action) => countOf(action) > 0)
    .map((action) => words(`files.plan.${action}`, { count: countOf(action) }));
  const lines = counts.length ? [...counts, ...refusals(looks).slice(0, MOST_REFUSALS)] : [words("files.no_entries")];
  return lines.map((textContent) => element("li", { textContent }));
}

/** Of several files each is named. */
function refusals(looks) {
  return looks.flatMap(({ file, problems }) => (
    problems.map((problem) => (looks.length > 1 ? `${file.name}: ` : "") + fileSentence(problem))
  ));
}
