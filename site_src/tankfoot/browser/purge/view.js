/** The guided purge: one step a screen, each tap on the disk before the screen moves. */

import { words } from "../../wording/words.js";
import { get } from "../storage/record.js";
import { saveSettings, settings } from "../storage/settings.js";
import { written } from "../parts/dates.js";
import { stayAwake } from "../parts/device.js";
import { flipSign, PREFILLED } from "../parts/fields.js";
import { orShowTrouble } from "../parts/trouble.js";
import { startClocks } from "./clocks.js";
import { askGate } from "./gate.js";
import { listenToInstrument, shownLast } from "./instruments.js";
import { openNotes } from "./notes.js";
import { offerPurges } from "./open_purges.js";
import { keepPhoto } from "./photo.js";
import { watchReach } from "./reach.js";
import { textOfReading } from "./reading_texts.js";
import { fieldsIn, readingsIn, showReadings } from "./readings.js";
import { freshPurge, openRun } from "./run.js";
import { guardSecondTaps } from "./second_tap.js";
import { showChoice, showHeld } from "./start.js";
import { showStops } from "./stops.js";
import { showSums } from "./sums.js";

const page = document.querySelector("[data-purge]");
const NEEDS_NOTHING = ["undo", "skip", "more-gas", "keep-gas-on", "above-plate", "below-zero"]; // taps that ask for no reading
const AGE_EVERY = 5000; // ms
const notes = openNotes(page.querySelector("[data-notes]"), (said) => kept(run.keep({ notes: said })));
const heading = document.querySelector("[data-of-tank]");
const title = heading.textContent;
const notTaken = page.querySelector("[data-not-taken]");
const screenChanged = guardSecondTaps((isNot) => tellNotTaken(isNot ? "second_tap" : null));

let run = null; // the purge under way
let gate = null; // the question that is asked
let shownFor = null; // how many events stood when the screen was shown last

const tick = startClocks(page, () => run);
listen();
await offerPurges(page, { resume, choose });
page.dataset.ready = "true";
setInterval(lookAtAge, AGE_EVERY);

async function resume(entry) {
  const found = entry.body.tank ? await orShowTrouble(get(entry.body.tank)) : null;
  await take(found ?? null, entry);
  const { initials } = settings();
  if (await orShowTrouble(run.lookAtAge(initials))) show();
}

async function choose(asked, isRunning) {
  await showChoice(page, asked, isRunning, (tank) => take(tank, freshPurge(tank)));
}

async function take(tank, purge) {
  page.querySelector("[data-resume]").hidden = true;
  run = openRun(purge, tank);
  const isFresh = !run.isBegun;
  if (isFresh) show(); // at once: what a hand types while the past is read must stay
  if (tank) await orShowTrouble(run.readPast());
  if (!isFresh) show();
}

function listen() {
  watchReach(page);
  page.addEventListener("click", ({ target }) => {
    const button = target.closest("[data-event]");
    if (button) happen(button.dataset.event, button);
  });
  page.querySelector("[data-undo]").addEventListener("click", () => happen("undo"));
  for (const button of page.querySelectorAll("[data-stack-usual]")) {
    button.addEventListener("click", async () => { if (await orShowTrouble(run.sayStackIsUsual())) show(); });
  }
  document.addEventListener("visibilitychange", lookAgain);
  for (const link of [...page.querySelectorAll("[data-event-link]"), document.querySelector(".trouble")]) {
    link.addEventListener("click", (event) => toTheCards(event, link.href));
  }
  for (const field of [...page.querySelectorAll("[data-step]")].flatMap(fieldsIn)) {
    for (const input of [field.entry, field.unit]) input.addEventListener("change", keepReadings);
    field.entry.addEventListener("input", showStepSums);
    field.entry.addEventListener("focus", () => field.entry.select());
    field.box.querySelector("[data-flip]")?.addEventListener("click", () => {
      flipSign(field);
      keepReadings();
    });
    listenToInstrument(field, keepReadings);
  }
  page.querySelector("[data-hand]").addEventListener("change", ({ target }) => saveSettings({ initials: target.value.trim() }));
  page.querySelector("[data-photo]").addEventListener("change", ({ target }) => addPhoto(target.files[0]));
}

/** One tap: it is saved with its instant, then the screen moves. */
async function happen(event, button) {
  if (run.isBusy) return;
  const isFact = run.step.facts?.includes(event);
  if (event !== "undo" && !isFact && await lookAtAge()) return;
  if (event !== "undo" && gate?.isTooQuick()) return tellNotTaken("too_quick");
  const needsReadings = !isFact && !NEEDS_NOTHING.includes(event);
  const here = readingsIn(section(), needsReadings);
  const data = dataOf(event, button);
  if (needsReadings) here.wrong?.entry.focus();
  if (data === null || (needsReadings && here.wrong)) return;
  if (await kept(run.tap(nameOf(event), { texts: here.texts, data, body: choices(event) }))) show();
}

/** How the tank stands is said by the event that begins the purge. */
function nameOf(event) {
  return event === "begin" ? page.querySelector("[name=tank-state]:checked").value : event;
}

/** What stands beside an event: why a step was skipped, who put the tank back into use, who begins; null where it lacks. */
function dataOf(event, button) {
  if (event === "skip") return filled({ reason: button.closest("details").querySelector("[data-why]") });
  if (event === "cleared") {
    return filled({ by: section().querySelector("[data-cleared-by]"), reason: section().querySelector("[data-cleared-why]") });
  }
  const by = settings().initials;
  return event === "begin" && by ? { by } : {};
}

/** The texts of fields, all of which have to be filled. */
function filled(fields) {
  const empty = Object.values(fields).find((field) => !field.value.trim());
  empty?.focus();
  return empty ? null : Object.fromEntries(Object.entries(fields).map(([name, field]) => [name, field.value.trim()]));
}

/** What stands on the screen beside the readings and goes with a tap. */
function choices(event) {
  if (event === "save") return { notes: notes.said() };
  if (event !== "begin") return {};
  return { solids: page.querySelector("[name=solids]:checked").value, initials: settings().initials || null };
}

/** What `work` resolves to, said on the screen once it is on the disk; undefined after the page said why it is not. */
async function kept(work) {
  const isKept = await orShowTrouble(work);
  const time = written(Date.now(), "timeOfDay");
  if (isKept) page.querySelector("[data-kept-tap]").textContent = words("purge.saved_at", { time });
  return isKept;
}

async function keepReadings() {
  await kept(run.keepReadings(readingsIn(section()).texts));
  await showStepSums();
}

async function addPhoto(file) {
  const photo = file && await orShowTrouble(keepPhoto(file, run.demo));
  if (!photo) return;
  if (!await kept(run.keep({ photo: photo.id }))) return;
  page.querySelector("[data-photo-kept]").textContent = words("purge.photo_saved");
}

/** To the emergency cards at once: the moment is saved on the way, and the purge is found again as it was left. */
function toTheCards(event, address) {
  if (!run?.isBegun || run.isOver) return;
  event.preventDefault();
  const saved = kept(run.keepTrouble());
  Promise.race([saved, new Promise((resolve) => { setTimeout(resolve, 100); })]).finally(() => location.assign(address));
}

/** What another window did meanwhile shows as soon as this one is looked at again, and a check that has grown old. */
async function lookAgain() {
  if (document.hidden || !run?.isBegun) return;
  if (await orShowTrouble(run.lookAgain())) show();
  await lookAtAge();
}

async function lookAtAge() {
  if (!run?.isBegun || run.isBusy || !await orShowTrouble(run.lookAtAge(settings().initials))) return false;
  show();
  return true;
}

function tellNotTaken(why) {
  notTaken.hidden = why === null;
  notTaken.textContent = why === null ? "" : words(`purge.${why}`);
}

function section() {
  return page.querySelector(`[data-step="${run.body.state}"]`);
}

function show() {
  const { state, events, tank_name: name, notes: noted } = run.body;
  const isMoved = shownFor !== events;
  shownFor = events;
  for (const each of page.querySelectorAll("[data-step]")) each.hidden = each.dataset.step !== state;
  heading.textContent = state === "choose" || !name ? title : name;
  page.querySelector("[data-undo]").hidden = !run.canUndo;
  showHeld(page.querySelector("[data-held-meanwhile]"), run.tank, state === "choose" ? [] : run.holds);
  section().querySelector("[data-why-again]").hidden = events.at(-1)?.event !== "aged";
  showReadings(section(), { texts: known(run), last: shownLast(run), hidden: notAsked(run) });
  notes.show(noted);
  for (const why of section().querySelectorAll("[data-why]")) why.value = "";
  gate = run.step.gate && isMoved ? askGate(section(), run) : gate && run.step.gate ? gate : null;
  if (state !== "choose") section().querySelector("h2").focus({ preventScroll: true });
  scrollTo(0, 0);
  stayAwake(run.step.running || state === "contact");
  if (isMoved) screenChanged();
  showStepSums();
  tick();
}

async function showStepSums() {
  await showSums(section(), run);
  await showStops(section(), run);
}

/** What stands in a step's fields before anything is typed there: what was typed, what is known of the tank, the plan. */
function known({ body: { state, readings }, known: ofTheTank, usualDraw }) {
  const rated = ofTheTank.rated_pressure ?? readings.rated_pressure;
  const plan = state === "margin" ? { planned_draw: textOfReading("planned_draw", usualDraw(), PREFILLED) } : {};
  const typed = Object.fromEntries(Object.entries(readings).filter(([, text]) => text));
  return { contact_time: "60 s", ...plan, ...typed, rated_pressure: rated };
}

/** What is known of the tank already, and a pressure that tells nothing because the gas was on. */
function notAsked({ body: { gas_shut: isGasShut }, known: ofTheTank }) {
  return [...(ofTheTank.rated_pressure ? ["rated_pressure"] : []), ...(isGasShut ? [] : ["pressure_after"])];
}
