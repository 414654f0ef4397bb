/** A checklist's page: each tick is on the disk before it shows, and a run that was begun is found again. */

import { edited, inTurn, newEntry, ofKind, put } from "../storage/record.js";
import { orTell } from "./trouble.js";

const page = document.querySelector("[data-checklist]");
const form = page.querySelector("[data-run]");
const boxes = [...form.querySelectorAll("[data-line]")];
let run = await lastRun() ?? freshRun();

for (const box of boxes) box.addEventListener("change", () => tick(box));
form.querySelector("[data-again]").addEventListener("click", startAgain);
form.addEventListener("submit", (event) => event.preventDefault());
show();
page.dataset.ready = "true";

/** A run's events are only ever added to: {line, at, done}. */
function freshRun() {
  const { checklist, version } = page.dataset;
  return newEntry("list-run", { checklist, version, started: new Date().toISOString(), events: [], finished: null });
}

/** The latest run of this very version of the list, or nothing. */
async function lastRun() {
  const { checklist, version } = page.dataset;
  const all = await orTell(ofKind("list-run")) ?? [];
  const runs = all.filter(({ body }) => body.checklist === checklist && body.version === version);
  return runs.sort((a, b) => (a.edited < b.edited ? 1 : -1))[0];
}

function tick(box) {
  const taken = { line: box.dataset.line, at: new Date().toISOString(), done: box.checked };
  return inTurn(() => save(edited(run, withEvent(run.body, taken))));
}

function withEvent(body, taken) {
  const events = [...body.events, taken];
  const done = doneLines(events);
  return { ...body, events, finished: boxes.every(({ dataset }) => done.has(dataset.line)) ? taken.at : null };
}

async function startAgain() {
  await save(freshRun());
  boxes[0].scrollIntoView({ block: "center" });
}

async function save(changed) {
  if (await orTell(put(changed).then(() => true))) run = changed;
  show();
}

function doneLines(events) {
  const done = new Set();
  for (const { line, done: isDone } of events) {
    if (isDone) done.add(line);
    else done.delete(line);
  }
  return done;
}

/** Shows what is on the disk; a part opens when all lines before it are done. */
function show() {
  const done = doneLines(run.body.events);
  for (const box of boxes) box.checked = done.has(box.dataset.line);
  let open = true;
  for (const part of form.querySelectorAll("fieldset")) {
    part.disabled = !open;
    open &&= [...part.querySelectorAll("[data-line]")].every((box) => box.checked);
  }
  const { finished } = run.body;
  const left = boxes.length - done.size;
  form.querySelector("[data-finished]").textContent = finished
    ? `All ${boxes.length} lines confirmed, ${new Date(finished).toLocaleString()}.`
    : `${left} of ${boxes.length} lines left.`;
  form.querySelector(".completion").toggleAttribute("data-said", Boolean(finished));
}
