/** A checklist's page: each tick is on the disk before it shows, and a run that was begun is found again. */

import { isFinished, peopleWanted, runGrownOld, ticksTakenBack, whyAskedAgain } from "../../checklists/standing.js";
import { cardOpened } from "../storage/card_opened.js";
import { edited, inTurn, newEntry, ofKind, put } from "../storage/record.js";
import { saveSettings, settings } from "../storage/settings.js";
import { listed, words } from "../../wording/words.js";
import { written } from "../parts/dates.js";
import { showLog, standings } from "./list_log.js";
import { orShowTrouble } from "../parts/trouble.js";

const LONGEST = 8 * 3600e3; // ms; a run untouched for a shift is of another job, and is not taken up
const LONG = 30 * 60e3; // ms; after such a pause the page of a list that does not grow old says what may have changed
const LOOK = 5e3; // ms between two looks whether the check has grown old

const page = document.querySelector("[data-checklist]");
const form = page.querySelector("[data-run]");
const boxes = [...form.querySelectorAll("[data-line]")];
const people = ["initials", "second"].map((name) => form.querySelector(`#${name}`));
const asked = page.dataset.asks.split(" ").filter(Boolean);
const gates = boxes.filter((box) => box.closest("[data-gate]")).map(({ dataset }) => dataset.line);

let runs = await allRuns();
let waiting = 0; // changes that are not on the disk yet
let run = runs.find(isThisJob) ?? freshRun();
let over = ""; // why a check that was finished begins anew

for (const box of boxes) {
  box.addEventListener("change", () => add({ line: box.dataset.line, done: box.checked }));
  offerSkip(box);
}
for (const input of people) input.addEventListener("change", sign);
form.querySelector("[data-again]").addEventListener("click", startAgain);
form.addEventListener("submit", (event) => event.preventDefault());
form.querySelector("[data-second]").hidden = !asked.includes("second");
if ("growsOld" in page.dataset) await watchAge();
showPause();
show();
page.dataset.ready = "true";

/** A run's events are only ever added to: {line, at, done}, and a reason where the line is skipped. */
function freshRun() {
  const { checklist, version } = page.dataset;
  return newEntry("list-run", { checklist, version, started: new Date().toISOString(), events: [], finished: null });
}

/** All runs of this list, whatever its version, the latest first. */
async function allRuns() {
  const all = await orShowTrouble(ofKind("list-run")) ?? [];
  const runs = all.filter(({ body }) => body.checklist === page.dataset.checklist);
  return runs.sort((a, b) => (a.edited < b.edited ? 1 : -1));
}

function isThisJob({ body, edited: last }, place) {
  return place === 0 && page.dataset.versions.split(" ").includes(body.version) && Date.now() - new Date(last) < LONGEST;
}

function add(event) {
  return change(async () => {
    if (await grewOld(handThere())) return; // what is asked again is looked at first
    over = "";
    const taken = { at: new Date().toISOString(), ...event };
    await save(edited(run, ended(run.body, [...run.body.events, taken])));
  });
}

/** Looks whether the check has grown old: at once, when the phone is taken up again, and as time goes by. */
async function watchAge() {
  await change(() => grewOld(settings().initials || null));
  const look = () => { if (document.visibilityState === "visible") change(() => grewOld(handThere())); };
  document.addEventListener("visibilitychange", look);
  addEventListener("pageshow", look);
  setInterval(() => { if (whyOldNow(handThere())) look(); }, LOOK);
}

function handThere() {
  return people[0].value.trim() || null;
}

function whyOldNow(hand) {
  return "growsOld" in page.dataset ? runGrownOld(run.body, new Date().toISOString(), hand, cardOpened()) : null;
}

/** Asks the gates again where the check has grown old; a finished one stays as it is, and another begins. */
async function grewOld(hand) {
  const why = whyOldNow(hand);
  if (!why) return false;
  if (run.body.finished) {
    over = words(`list.over.${why}`, { when: written(run.body.finished) });
    run = freshRun();
    return true;
  }
  const back = ticksTakenBack(gates, run.body.events, new Date().toISOString(), why);
  if (why === "hand") people[0].value = hand;
  if (back.length || why === "hand") await save(edited(run, ended(run.body, [...run.body.events, ...back])));
  return back.length > 0;
}

/** Shown once no other change waits, so that what was tapped meanwhile does not blink. */
function change(work) {
  waiting += 1;
  return inTurn(async () => {
    try {
      await work();
    } finally {
      waiting -= 1;
    }
    if (!waiting) show();
  });
}

/** Who made it stands in a run until it is finished; after that nobody's initials change. */
function sign() {
  saveSettings({ initials: people[0].value.trim() });
  return change(async () => {
    const { events, finished } = run.body;
    if (events.length && !finished && !await grewOld(handThere())) await save(edited(run, ended(run.body, events)));
  });
}

function ended(body, events) {
  const names = people.map((input) => [input.id, input.value.trim() || null]);
  const changed = { ...body, events, ...(body.finished ? {} : Object.fromEntries(names)) };
  const lines = boxes.map(({ dataset }) => dataset.line);
  return { ...changed, finished: isFinished(lines, asked, changed) ? body.finished ?? new Date().toISOString() : null };
}

/** Whose initials the list still wants. */
function missing(body) {
  return peopleWanted(asked, body);
}

function offerSkip(box) {
  const fold = box.closest(".line").querySelector("[data-skip]");
  fold?.querySelector("button").addEventListener("click", async () => {
    const reason = fold.querySelector("input").value.trim();
    fold.querySelector(".problem").textContent = reason ? "" : words("list.no_reason");
    if (!reason) return;
    await add({ line: box.dataset.line, done: false, reason });
    fold.open = false;
  });
}

async function startAgain() {
  people[1].value = "";
  over = "";
  await change(() => save(freshRun()));
  showPause();
  boxes[0].scrollIntoView({ block: "center" });
}

async function save(changed) {
  if (await orShowTrouble(put(changed))) {
    run = changed;
    runs = [run, ...runs.filter(({ id }) => id !== run.id)];
  }
}

/** Shows what is on the disk; a part opens when all lines before it are done or skipped. */
function show() {
  const { events, finished, initials, second } = run.body;
  const stands = standings(events);
  for (const box of boxes) showLine(box, stands.get(box.dataset.line));
  let open = true;
  for (const part of form.querySelectorAll("fieldset")) {
    part.disabled = !open;
    open &&= [...part.querySelectorAll("[data-line]")].every(({ dataset }) => stands.has(dataset.line));
  }
  write(people[0], initials ?? (finished ? "" : people[0].value || settings().initials));
  if (second) write(people[1], second);
  for (const input of people) input.disabled = Boolean(finished);
  form.querySelector("[data-finished]").textContent = finishedText(stands);
  form.querySelector(".completion").toggleAttribute("data-said", Boolean(finished));
  if ("growsOld" in page.dataset) showPause();
  showLog(page, runs.filter(({ id, body }) => id !== run.id || body.finished));
}

/** What is being typed stays. */
function write(input, text) {
  if (input !== document.activeElement) input.value = text;
}

function showLine(box, stands) {
  box.checked = stands?.done === true;
  const skipped = box.closest(".line").querySelector("[data-skipped]");
  skipped.hidden = !stands?.reason;
  skipped.textContent = stands?.reason ? words("list.skipped", { reason: stands.reason }) : "";
}

function finishedText(stands) {
  const skipped = [...stands.values()].filter(({ done }) => !done).length;
  const left = boxes.length - boxes.filter(({ dataset }) => stands.has(dataset.line)).length;
  if (left) return words("list.left", { count: left, of: boxes.length });
  const count = boxes.length - skipped;
  const confirmed = words(skipped ? "list.some_confirmed" : "list.confirmed", { count, skipped });
  if (run.body.finished) return words("list.finished", { confirmed, when: written(run.body.finished) });
  return words("list.wanted", { confirmed, wanted: listed(missing(run.body).map((name) => words(`list.people.${name}`))) });
}

/** Why gates are asked again; of a list that does not grow old, how long ago its last tick was. */
function showPause() {
  const since = page.querySelector("[data-since]");
  const { events, finished } = run.body;
  const minutes = Math.round((Date.now() - new Date(run.edited)) / 60e3);
  const why = whyAskedAgain(events);
  const isLong = events.length > 0 && !finished && minutes * 60e3 >= LONG;
  const before = since.textContent;
  since.textContent = over || (why ? words(`list.again.${why}`) : isLong ? words("list.pause", { count: minutes }) : "");
  since.hidden = since.textContent === "";
  if (page.dataset.ready && (over || why) && since.textContent !== before) since.scrollIntoView({ block: "center" });
}
