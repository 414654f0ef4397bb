/** What the runs of a checklist tell: who, when, finished or not, what was skipped and why. */

import { standingLines } from "../../checklists/standing.js";
import { listed, words } from "../../wording/words.js";
import { written } from "../parts/dates.js";
import { element } from "../parts/figures.js";

const SHOWN = 20; // runs

/** The last event of each line that is done or skipped, by the line. */
export function standings(events) {
  return new Map(standingLines(events).map((event) => [event.line, event]));
}

/** A run in one sentence and one for each line that was skipped. @param {(line: string) => string} nameOf a line */
export function runTexts({ created, body }, nameOf) {
  const people = listed([body.initials, body.second].filter(Boolean));
  const stands = [...standings(body.events).values()];
  const run = [written(created), people].filter(Boolean).join(", ");
  return [
    words(body.finished ? "log.finished" : "log.not_finished", { run, count: stands.length }),
    ...stands.filter(({ done }) => !done).map(({ line, reason }) => words("log.skipped", { line: nameOf(line), reason })),
  ];
}

/** A round of practice in one sentence. @param {{right: boolean}[]} answers */
export function scoreText(answers) {
  return words("practice.score", { right: answers.filter(({ right }) => right).length, count: answers.length });
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
    const text = version === page.dataset.version ? first : words("log.other_version", { run: first, version });
    return element("li", {}, text, ...rest.map((textContent) => element("p", { textContent })));
  }));
}

function nameOn(page, line) {
  const box = page.querySelector(`[data-line="${line}"]`);
  return box?.closest(".line").querySelector(".act").textContent ?? line.replaceAll("-", " ");
}
