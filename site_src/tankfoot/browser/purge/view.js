/** The guided purge: one step a screen, each tap on the disk before the screen moves. */

import { words } from "../../wording/words.js";
import { get, unfinishedPurges } from "../storage/record.js";
import { written } from "../parts/dates.js";
import { stayAwake } from "../parts/device.js";
import { flipSign } from "../parts/fields.js";
import { orShowTrouble } from "../parts/trouble.js";
import { startClocks } from "./clocks.js";
import { openNotes } from "./notes.js";
import { keepPhoto } from "./photo.js";
import { textOfReading } from "./reading_texts.js";
import { fieldsIn, readingsIn, showReadings } from "./readings.js";
import { freshPurge, openRun } from "./run.js";
import { showTanks } from "./start.js";
import { showSums } from "./sums.js";
import { inAddress } from "../parts/address.js";

const page = document.querySelector("[data-purge]");
const NEEDS_NOTHING = ["undo", "skip", "more-gas", "keep-gas-on"]; // taps that no reading of the step is asked for
const WAKEFUL = ["contact", "run", "flowing", "beer"];
const notes = openNotes(page.querySelector("[data-notes]"), (said) => kept(run.keep({ notes: said })));

let run = null; // the purge under way

const tick = startClocks(page, () => run);
listen();
await begin();
page.dataset.ready = "true";

async function begin() {
  const open = await orShowTrouble(unfinishedPurges()) ?? [];
  const wanted = inAddress().get("go-on");
  const left = open.find(({ id }) => id === wanted) ?? open[0];
  if (!left) await choose();
  else if (left.id === wanted) await resume(left);
  else offer(left);
}

/** An unfinished purge comes first: go on with it, or leave it. */
function offer(left) {
  for (const each of page.querySelectorAll("[data-step]")) each.hidden = true;
  const { tank_name: name, solids, events } = left.body;
  const since = written(events[0].at);
  page.querySelector("[data-resume]").hidden = false;
  page.querySelector("[data-resume-what]").textContent = [name, words(`purge.solids.${solids}`), since].filter(Boolean).join(", ");
  page.querySelector("[data-go-on]").onclick = () => resume(left);
  page.querySelector("[data-leave]").onclick = () => leave(left);
}

async function resume(entry) {
  const found = entry.body.tank ? await orShowTrouble(get(entry.body.tank)) : null;
  await take(found ?? null, entry);
  page.querySelector("[data-resume]").hidden = true;
}

async function leave(entry) {
  if (!await orShowTrouble(openRun(entry).leave())) return;
  page.querySelector("[data-resume]").hidden = true;
  await choose();
}

async function choose() {
  const chosen = await showTanks(page, (entry) => take(entry, freshPurge(entry)));
  await take(chosen, freshPurge(chosen));
}

async function take(tank, purge) {
  run = openRun(purge, tank);
  if (tank) await orShowTrouble(run.readPast());
  show();
}

function listen() {
  for (const button of page.querySelectorAll("[data-event]")) {
    button.addEventListener("click", () => happen(button.dataset.event, button));
  }
  page.querySelector("[data-undo]").addEventListener("click", () => happen("undo"));
  document.addEventListener("visibilitychange", lookAgain);
  for (const link of [...page.querySelectorAll("[data-event-link]"), document.querySelector(".trouble")]) {
    link.addEventListener("click", (event) => toTheCards(event, link.href));
  }
  for (const field of fieldsIn(page)) {
    for (const input of [field.entry, field.unit]) input.addEventListener("change", keepReadings);
    if (field.name === "planned_draw") field.entry.addEventListener("input", showStepSums);
    field.entry.addEventListener("focus", () => field.entry.select());
    field.box.querySelector("[data-flip]")?.addEventListener("click", () => {
      flipSign(field);
      keepReadings();
    });
  }
  page.querySelector("[data-photo]").addEventListener("change", ({ target }) => addPhoto(target.files[0]));
}

/** One tap: it is saved with its instant, then the screen moves. */
async function happen(event, button) {
  if (run.isBusy) return;
  const reason = event === "skip" ? reasonAt(button) : null;
  const needsReadings = !NEEDS_NOTHING.includes(event);
  const here = readingsIn(section(), needsReadings);
  if (needsReadings) here.wrong?.entry.focus();
  if (reason === "" || (needsReadings && here.wrong)) return;
  const isTaken = await kept(run.tap(event, { texts: here.texts, reason, body: choices(event) }));
  if (isTaken !== false) show();
}

function reasonAt(button) {
  const why = button.closest("details").querySelector("[data-why]");
  const reason = why.value.trim();
  if (!reason) why.focus();
  return reason;
}

/** What stands on the screen beside the readings and goes with a tap. */
function choices(event) {
  if (event === "begin") return { solids: page.querySelector("[name=solids]:checked").value };
  if (event === "save") return { notes: notes.said() };
  return {};
}

/** What `work` resolves to, said on the screen once it is on the disk; undefined after the page said why it is not. */
async function kept(work) {
  const isKept = await orShowTrouble(work);
  const time = written(Date.now(), "timeOfDay");
  if (isKept) page.querySelector("[data-kept-tap]").textContent = words("purge.saved_at", { time });
  return isKept;
}

async function keepReadings() {
  const { texts } = readingsIn(section());
  if (run.isBegun) await kept(run.keepReadings(texts));
  else run.noteReadings(texts);
  await showStepSums();
}

async function addPhoto(file) {
  const photo = file && await orShowTrouble(keepPhoto(file, run.demo));
  if (!photo) return;
  if (!await kept(run.keep({ photo: photo.id }))) return;
  page.querySelector("[data-photo-kept]").textContent = words("purge.photo_saved");
}

/** To the emergency cards: the moment is saved first, and the purge is found again as it was left. */
function toTheCards(event, address) {
  if (!run?.isBegun || run.isOver) return;
  event.preventDefault();
  kept(run.keepTrouble()).finally(() => location.assign(address));
}

/** What another window did meanwhile shows as soon as this one is looked at again. */
async function lookAgain() {
  if (document.hidden || !run?.isBegun) return;
  if (await orShowTrouble(run.lookAgain())) show();
}

function section() {
  return page.querySelector(`[data-step="${run.body.state}"]`);
}

function show() {
  const { state, tank_name: name, notes: noted } = run.body;
  for (const each of page.querySelectorAll("[data-step]")) each.hidden = each.dataset.step !== state;
  page.querySelector("[data-of-tank]").textContent = state === "choose" || !name
    ? words("purge.title") : words("purge.of_tank", { tank: name });
  page.querySelector("[data-undo]").hidden = !run.canUndo;
  showReadings(section(), known(run.body));
  notes.show(noted);
  for (const why of section().querySelectorAll("[data-why]")) why.value = "";
  if (state !== "choose") section().querySelector("h2").focus({ preventScroll: true });
  scrollTo(0, 0);
  stayAwake(WAKEFUL.includes(state));
  showStepSums();
  tick();
}

function showStepSums() {
  return showSums(section(), run.body);
}

/** What is known of a step's readings before anything is typed at it; nothing stands in where nothing is known. */
function known({ state, readings }) {
  const first = { contact_time: "60 s", pressure_found: readings.pressure_found };
  if (state === "gas") first.pressure_before = readings.target_pressure;
  if (state === "margin") first.planned_draw = textOfReading("planned_draw", run.usualDraw());
  return { ...first, ...Object.fromEntries(Object.entries(readings).filter(([, text]) => text)) };
}
