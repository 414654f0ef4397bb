/** One glass watched by the camera: from the tap that asks for it until the port is closed. */

import { begin, step } from "../../watch/seen.js";
import { add, colourOf, empty, kept } from "../../watch/strip.js";
import { words } from "../../wording/words.js";
import { forgetRun, keepRun, keptRun } from "../storage/watching.js";
import { openAim } from "./aim.js";
import { CameraTrouble, openCamera } from "./camera.js";
import { newEye } from "./eye.js";
import { everyFrame } from "./frames.js";
import { blindBy, saidOf, signal } from "./told.js";

const KEEP_EVERY = 1000; // ms: what a reload may lose
const SETTLES = 1500; // ms that a camera takes to find its exposure. Common practice, no source

/** What was seen of a purge's run, as its entry keeps it; null where nothing was. @param {string} purge its id */
export function watchedOf(purge) {
  const run = keptRun(purge);
  return run && kept(run.strip, run.state);
}

/** @param {string} purge its id */
export function forget(purge) {
  return forgetRun(purge);
}

/**
 * Whether a run that counts from this instant was being watched, and no hand has switched the camera off.
 *
 * @param {string} purge its id @param {number|null} opened ms
 */
export function isUnderWay(purge, opened) {
  const run = keptRun(purge);
  return opened !== null && run?.opened === opened && !run.isOff;
}

/** Whether the camera may be used without asking. */
export async function isAllowed() {
  try {
    return (await navigator.permissions?.query({ name: "camera" }))?.state === "granted";
  } catch (error) {
    if (!(error instanceof TypeError)) throw error; // a browser that knows no such permission
    return false;
  }
}

/**
 * Opens the camera; null after `ended` was told why there is none.
 *
 * @param {HTMLElement} page the purge's
 * @param {{purge: string, beer: number[]|null, usual: () => {low: number}|null, ended: (why: string|null) => void}} of
 */
export async function openWatching(page, { purge, beer, usual, ended }) {
  const [sheet, thumb, frame] = ["aim", "seen", "frame"].map((name) => page.querySelector(`[data-glass-${name}]`));
  const video = page.querySelector("[data-glass-video]");
  const camera = await openedOr(ended, () => openCamera(video, () => end("ended")));
  if (!camera) return null;
  const read = newEye();
  const aim = openAim(sheet, thumb, camera, { aimed, free: camera.free, off: switchOff });
  const since = performance.now();
  let now = { opened: null, says: null, isTold: false }; // what the hand has said so far
  let run = null; // what was seen since the port was opened
  let keptAt = 0; // ms
  let told = null; // the stage that was told last
  let isOver = false;
  const stop = everyFrame(video, look);

  /** Exposure and white balance are fixed once they have found their place. */
  function aimed() {
    const wait = Math.max(0, SETTLES - (performance.now() - since));
    setTimeout(() => { if (!isOver && !aim.isOpen) camera.fix(); }, wait);
  }

  function look() {
    const sample = read(video, aim.marks);
    if (aim.isOpen) aim.tell(sample);
    else if (now.opened !== null) see({ ...sample, t: Math.max(0, (Date.now() - now.opened) / 1000) });
  }

  function see(sample) {
    const { state: before } = run;
    const state = step(before, sample);
    if (state === before) return;
    run = { ...run, state, strip: add(run.strip, sample.t, colourOf(state, sample)) };
    if (state.stage !== before.stage || Date.now() - keptAt >= KEEP_EVERY) keep();
    tell();
  }

  function keep() {
    keptAt = Date.now();
    if (run) keepRun(run);
  }

  function tell() {
    const { state } = run;
    signal(told, state.stage, now.isTold);
    told = state.stage;
    const isBlind = blindBy(state) !== null;
    page.dataset.glassStage = isBlind ? "blind" : state.stage;
    frame.hidden = state.stage !== "beer" || now.isTold;
    now.says?.setAttribute("role", frame.hidden ? "status" : "alert"); // an alert is read aloud
    say(now.isTold ? words(state.stage === "beer" ? "watch.seen" : "watch.told") : saidOf(state, usual()));
  }

  function say(text) {
    if (now.says && now.says.textContent !== text) now.says.textContent = text;
  }

  /** The port is opened, or the hand said more: `opened` in ms, null before; `isTold`: the hand has said that beer runs. */
  function show(next) {
    now = next;
    if (aim.isOpen) aim.fit();
    if (now.opened === null) return quiet();
    if (run?.opened !== now.opened) {
      aim.close();
      const before = keptRun(purge);
      const { state, strip } = before?.opened === now.opened ? before : { state: begin(beer), strip: empty() };
      run = { purge, opened: now.opened, state, strip, isOff: false };
      told = run.state.stage;
    }
    return tell();
  }

  /** Nothing is said of the glass now. */
  function quiet() {
    frame.hidden = true;
    delete page.dataset.glassStage;
  }

  /** By the hand: then a reload does not switch it on again. */
  function switchOff() {
    if (run) run = { ...run, isOff: true };
    end(null);
  }

  /** @param {string|null} why a stable word, where no hand has ended it */
  function end(why) {
    isOver = true;
    stop();
    keep();
    camera.close();
    aim.end();
    quiet();
    say("");
    ended(why);
  }

  aim.open();
  return { purge, show, end };
}

async function openedOr(ended, work) {
  try {
    return await work();
  } catch (trouble) {
    if (!(trouble instanceof CameraTrouble)) throw trouble;
    ended(trouble.code);
    return null;
  }
}
