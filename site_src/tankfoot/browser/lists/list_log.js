/** What the runs of a checklist tell: who, when, finished or not, what was skipped and why. */

import { element } from "../parts/figures.js";

const SHOWN = 20; // runs
const dates = new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeStyle: "short" });

/** Where each line stands by a run's events: done, or skipped with its reason. What was unticked is not there. */
export function standings(events) {
  const stands = new Map();
  for (const event of events) {
    if (event.done || event.reason) stands.set(event.line, event);
    else stands.delete(event.line);
  }
  return stands;
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
