/** The runs of a checklist on its page: who, when, finished or not, what was skipped and why. */

import { standingLines } from "../../checklists/standing.js";
import { words } from "../../wording/words.js";
import { element } from "../parts/figures.js";
import { runTexts } from "../parts/list_runs.js";

const SHOWN = 20; // runs

/** The last event of each line that is done or skipped, by the line. */
export function standings(events) {
  return new Map(standingLines(events).map((event) => [event.line, event]));
}

/** @param {HTMLElement} page of a checklist, whose lines give the names */
export function showLog(page, runs) {
  const told = runs.filter(({ body }) => body.events.length).slice(0, SHOWN);
  const list = page.querySelector("[data-log]");
  list.hidden = told.length === 0;
  page.querySelector("[data-no-log]").hidden = told.length > 0;
  list.replaceChildren(...told.map((run) => {
    const [first, ...rest] = runTexts(run, (line) => nameOn(page, line));
    const { version } = run.body;
    const text = page.dataset.versions.split(" ").includes(version) ? first : words("log.other_version", { run: first, version });
    return element("li", {}, text, ...rest.map((textContent) => element("p", { textContent })));
  }));
}

function nameOn(page, line) {
  const box = page.querySelector(`[data-line="${line}"]`);
  return box?.closest(".line").querySelector(".act").textContent ?? line.replaceAll("-", " ");
}
