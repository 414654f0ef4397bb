/** The guided purge: one step a screen, each tap on the disk before the screen moves. */

import { FIRST } from "../../purge/machine.js";
import { words } from "../../wording/words.js";
import { newQueue } from "../storage/queue.js";
import { saveSettings, settings } from "../storage/settings.js";
import { written } from "../parts/dates.js";
import { stayAwake } from "../parts/device.js";
import { orShowTrouble } from "../parts/trouble.js";
import { isTimeOver, startClocks } from "./clocks.js";
import { askGate } from "./gate.js";
import { openGlass } from "./glass.js";
import { showPace } from "./known_line.js";
import { openNotes } from "./notes.js";
import { listenToPhoto } from "./photo.js";
import { watchReach } from "./reach.js";
import { fieldsIn, readingsOf, typedIn } from "./readings.js";
import { listenToStart, remembered, showRemembered } from "./remembered.js";
import { openRun } from "./run.js";
import { choices, dataOf, nameOf, NEEDS_NOTHING } from "./said.js";
import { guardSecondTaps } from "./second_tap.js";
import { answerOf, asked, isBegunShort, isWalkedShort, layOut, screenOf, toldWith, turnPace } from "./short.js";
import { showHeld } from "./start.js";
import { bringUpDanger, showStops } from "./stops.js";
import { showSums } from "./sums.js";
import { showWayToRound } from "./to_round.js";
import { listenToFields, showFields } from "./typing.js";

const page = document.querySelector("[data-purge]");
const AGE_EVERY = 5000; // ms
const notes = openNotes(page.querySelector("[data-notes]"), (said) => kept(run.keep({ notes: said })));
const heading = document.querySelector("[data-of-tank]");
const notTaken = page.querySelector("[data-not-taken]");
const sumsInTurn = newQueue(); // what was typed last is what the screen stops at, however long an earlier sum takes
const showStepSums = () => sumsInTurn(showSumsAndStops);
const screenChanged = guardSecondTaps((isNot) => tellNotTaken(isNot ? "second_tap" : null));

let run = null; // the purge under way
let gate = null; // the question that is asked
let shownFor = null; // how many events stood when the screen was shown last
let now = null; // what stands on the screen: see short.js
let why = null; // why this hand gets every step
let isEvery = false; // it has asked for every step before it begins
let isAllShown = false; // it wants to see what is known of the tank
let its, tick, glass; // what the page hands in (see openView), the clocks, the camera

/**
 * @param {object} handed what differs between purges and rehearsals: the `keeper` of their runs, `whyEvery` a hand gets
 *   every step, and what the page opens with, `offer`
 */
export async function openView(handed) {
  its = handed;
  tick = startClocks(page, () => run);
  glass = its.keeper.isRehearsal ? null : openGlass(page, () => run, kept, show);
  listen();
  why = await its.whyEvery();
  await its.offer(page, { resume, take });
  page.dataset.ready = "true";
  setInterval(lookAtAge, AGE_EVERY);
}

async function resume(entry) {
  const found = entry.body.tank ? await orShowTrouble(its.keeper.get(entry.body.tank, "tank")) : null;
  await take(found ?? null, entry);
  if (await orShowTrouble(run.lookAtAge(settings().initials))) show();
}

async function take(tank, purge) {
  page.querySelector("[data-resume]").hidden = true;
  run = openRun(purge, tank, its.keeper);
  const isTyped = !run.isBegun && !isShort();
  if (isTyped) show(); // at once: what a hand types while the past is read must stay
  if (tank) await orShowTrouble(run.readPast());
  if (!run.isBegun) showRemembered(page, run);
  if (!isTyped) show();
}

/** Whether this purge is walked at the short pace: its hand is trained, its tank known, and nobody asked for more. */
function isShort() {
  return why === null && run.tank !== null && (isAtStart() ? !isEvery : isWalkedShort(run));
}

/** Before it begins, or again once that was taken back. */
function isAtStart() {
  return run.body.state === FIRST;
}

function listen() {
  watchReach(page);
  listenToStart(page);
  page.querySelector("[data-pace-turn]").addEventListener("click", turn);
  page.querySelector("[data-all-known]").addEventListener("click", () => { isAllShown = true; show(); });
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
  listenToFields(page, { keep: keepReadings, showSums: showStepSums, enter: () => press(now.enter) });
  page.querySelector("[data-hand]").addEventListener("change", ({ target }) => takeInitials(target.value.trim()));
  if (glass) listenToPhoto(page, () => run, kept);
}

/** One tap: it is saved with its instant, on a shared screen with what it tells besides, then the screen moves. */
async function happen(event, button) {
  if (run.isBusy) return tellNotTaken("second_tap");
  const answer = answerOf(now, event, button);
  const isFact = answer ? answer.isFact : run.step.facts?.includes(event);
  if (event !== "undo" && !isFact && await lookAtAge()) return;
  if (event !== "undo" && gate?.isTooQuick()) return tellNotTaken("too_quick");
  const needsReadings = !isFact && !NEEDS_NOTHING.includes(event);
  const here = readingsOf(sections(), needsReadings);
  const data = dataOf(event, said(button));
  if (needsReadings) here.wrong?.entry.focus();
  if (data === null || (needsReadings && here.wrong)) return;
  const told = answer ? toldWith(answer, isTimeOver(run), words("purge.cut_short")) : [];
  const begun = { event: nameOf("begin", page), data: dataOf("begin", said()) };
  const first = told.map((each) => (each.event === "begin" ? begun : each));
  const body = choices(isAtStart() ? "begin" : event, said());
  const tapped = run.tap(nameOf(event, page), { texts: here.texts, data, body, first });
  if (await kept(tapped)) show();
  else await tapped.catch(({ found }) => found && resume(found)); // another window's purge of this tank goes on here
}

/** Where it stands what a tap says beside its event. */
function said(button) {
  return { page, section: section(), button, isShort: isShort(), noted: notes.said() };
}

/** As a tap on the button, where it is there to be tapped by what was typed just now. */
async function press(event) {
  await showStepSums();
  const button = event && sections().map((each) => each.querySelector(`[data-event=${event}]`)).find(Boolean);
  if (button?.checkVisibility() && !button.disabled) happen(event, button);
}

/** One step at a time, or again several. */
function turn() {
  if (isAtStart()) isEvery = !isEvery;
  else turnPace(run, !isShort());
  show();
}

async function takeInitials(initials) {
  const was = isShort();
  saveSettings({ initials });
  why = await its.whyEvery();
  if (isShort() === was) tellPace();
  else show();
}

/** What `work` resolves to, said on the screen once it is on the disk; undefined after the page said why it is not. */
async function kept(work) {
  const isKept = await orShowTrouble(work);
  const time = written(Date.now(), "timeOfDay");
  if (isKept) page.querySelector("[data-kept-tap]").textContent = words("purge.saved_at", { time });
  return isKept;
}

async function keepReadings() {
  await kept(run.keepReadings(readingsOf(sections()).texts));
  await showStepSums();
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

/** The sections of the screen: that of the step that the purge is at, and at the short pace others that share it. */
function sections() {
  return now.shows.map((state) => page.querySelector(`[data-step="${state}"]`));
}

function section() {
  return sections()[0];
}

function show() {
  const { state, events, tank_name: name, notes: noted } = run.body;
  const isMoved = shownFor !== events;
  shownFor = events;
  isAllShown &&= !isMoved;
  now = screenOf(run, isShort(), remembered(run), isAllShown);
  layOut(page, now);
  page.dataset.shows = run.id;
  heading.textContent = (state === "choose" && !now.isShared) || !name ? heading.dataset.title : name;
  page.querySelector("[data-undo]").hidden = !run.canUndo;
  showHeld(page.querySelector("[data-held-meanwhile]"), run.tank, state === "choose" ? [] : run.holds);
  section().querySelector("[data-why-again]").hidden = events.at(-1)?.event !== "aged";
  showFields(page, sections(), run, now);
  tellPace();
  notes.show(noted);
  for (const each of section().querySelectorAll("[data-why]")) each.value = "";
  gate = run.step.gate && isMoved ? askGate(section(), run) : gate && run.step.gate ? gate : null;
  const typed = isMoved && now.enter ? asked(sections().flatMap(fieldsIn))?.entry : null;
  if (state !== "choose") (typed ?? section().querySelector("h2")).focus({ preventScroll: true });
  scrollTo(0, 0);
  stayAwake(run.step.running || state === "contact" || its.keeper.isRehearsal);
  if (isMoved) screenChanged();
  showStepSums();
  showWayToRound(page, run);
  glass?.show();
  tick();
}

function tellPace() {
  showPace(page, why, isShort(), why === null && run.tank !== null && (isAtStart() || isBegunShort(run)));
}

async function showSumsAndStops() {
  const { texts } = readingsOf(sections());
  const typed = Object.assign({}, ...sections().map(typedIn));
  for (const each of sections()) {
    await showSums(each, run, { ...run.body, readings: { ...run.body.readings, ...texts } });
    await showStops(each, run, now.shows, typed);
  }
  bringUpDanger(page);
}
