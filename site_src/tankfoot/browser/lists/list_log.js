/** What the runs of a checklist tell: who, when, finished or not, what was skipped and why. */

import { standingLines } from "../../checklists/standing.js";
import { element } from "../parts/figures.js";

const SHOWN = 20; // runs
const dates = new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeStyle: "short" });

/** The last event of each line that is done or skipped, by the line. */
export function standings(events) {
  return new Map(standingLines(events).map((event) => [event.line, event]));
}

/** A run in one sentence and one for each line that was skipped. @param {(line: string) => string} nameOf a line */
export function runTexts({ created, body }, nameOf) {
  const people = [body.initials, body.second].filter(Boolean).join(" and ");
  const stands = [...standings(body.events).values()];
  const state = body.finished ? "finished" : `not finished, ${stands.length} ${stands.length === 1 ? "line" : "lines"}`;
  return [
    `${[dates.format(new Date(created)), people].filter(Boolean).join(", ")}: ${state}`,
    ...stands.filter(({ done }) => !done).map(({ line, reason }) => `Skipped: ${nameOf(line)}. Why: ${reason}`),
  ];
}

/** @param {HTMLElement} page of a checklist, whose lines give the names */
export function showLog(page, runs) {
  const told = runs.filter(({ body }) => body.events.length).slice(0, SHOWN);
  const list = page.querySelector("[data-log]");
  list.hidden = told.length === 0;
  page.querySelector("[data-no-log]").hidden = told.length > 0;
  list.replaceChildren(...told.map((run) => {
    const [first, ...rest] = runTexts(run, (line) => nameOn(page, line));
    const other = run.body.version === page.dataset.version ? "" : ` (version ${run.body.version} of the list)`;
    return element("li", {}, first + other, ...rest.map((textContent) => element("p", { textContent })));
  }));
}

function nameOn(page, line) {
  const box = page.querySelector(`[data-line="${line}"]`);
  return box?.closest(".line").querySelector(".act").textContent ?? line.replaceAll("-", " ");
}
