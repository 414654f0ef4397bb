/** The page of a rehearsal: the guided purge below, the simulated tank above it, and time between them. */

import { scenarios } from "../../rehearsal/declared.js";
import { STEPS_A_SECOND } from "../../rehearsal/events.js";
import { seen } from "../../rehearsal/seen.js";
import { words } from "../../wording/words.js";
import { inAddress } from "../parts/address.js";
import { orShowTrouble } from "../parts/trouble.js";
import { openView } from "../purge/view.js";
import { get } from "../storage/record.js";
import { keepRehearsal, keptRehearsal } from "../storage/rehearsal.js";
import { settings } from "../storage/settings.js";
import { freshRehearsal, openCourse } from "./course.js";
import { openEnd } from "./end.js";
import { openHandles } from "./handles.js";
import { openMessages } from "./messages.js";
import { realPurge, sayReal } from "./real.js";
import { openSights } from "./sights.js";
import { sentencesOf, shown } from "./told.js";

const LONGEST = 0.25; // s that one frame may stand for: a page that was hidden, or a phone that was locked, stood still
const REAL_EVERY = 5000; // ms between two looks for a real purge
const LATER = 30 * STEPS_A_SECOND; // that pass with one tap

const page = document.querySelector("[data-purge]");
const pane = document.querySelector("[data-sim]");
const more = document.querySelector("[data-sim-more]");
const said = JSON.parse(pane.dataset.words);
const course = openCourse(await begunOrFresh());
const sentences = sentencesOf(said);
const end = openEnd(page, course, sentences);
const messages = openMessages(pane, course, sentences);
const sights = openSights(pane, course.state.setup);
const handles = openHandles(pane, more, act);
let last = null; // the instant of the last frame
let drawnStep = null;

pane.querySelector("[data-sim-title]").textContent = words("rehearsal.beer", {
  temperature: shown(course.tank.body.temperature, "temperature"),
});
for (const place of document.querySelectorAll("[data-blow-off]")) place.hidden = course.state.setup.blow_lift <= 0;
for (const place of document.querySelectorAll("[data-end-now]")) place.addEventListener("click", finish);
document.querySelector("[data-from-start]").addEventListener("click", () => {
  location.hash = `scenario=${course.scenario}&anew`;
  location.reload();
});
document.querySelector("[data-later]").addEventListener("click", () => course.pass(LATER));
addEventListener("visibilitychange", () => {
  if (!document.hidden) lookForReal();
  else if (!course.isOver) course.save();
});
setInterval(lookForReal, REAL_EVERY);
draw();
await lookForReal();
await openView({ keeper: course.keeper, whyEvery: async () => "rehearsal", offer });
if (course.isOver) end.show();
else requestAnimationFrame(frame);

/** The one under way goes on where the address does not ask for another. */
async function begunOrFresh() {
  const kept = await orShowTrouble(keptRehearsal()) ?? null;
  const asked = inAddress().get("scenario");
  if (kept && Object.hasOwn(scenarios, kept.scenario) && (asked === null || asked === kept.scenario) && !inAddress().has("anew")) return kept;
  if (await realPurge()) return toTheList();
  const name = Object.hasOwn(scenarios, asked ?? "") ? asked : Object.keys(scenarios)[0];
  const { tank } = settings();
  const own = scenarios[name].own_tank && tank ? await orShowTrouble(get(tank.id, "tank")) ?? null : null;
  const title = words("rehearsal.title", { title: own?.body.name ?? said.scenarios[name].title });
  const made = freshRehearsal(name, title, own, words("rehearsal.cap_way"));
  await orShowTrouble(keepRehearsal(made));
  history.replaceState(null, "", `#${new URLSearchParams({ scenario: name })}`); // a reload goes on
  return made;
}

/** It says why none begins; nothing here goes on. */
function toTheList() {
  location.replace(page.querySelector("[data-rehearsal-over] a").href);
  return new Promise(() => {});
}

async function lookForReal() {
  if (sayReal(page.querySelector("[data-real]"), await realPurge())) scrollTo(0, 0);
}

async function offer(its, { resume, take }) {
  const { purge, tank } = course;
  if (purge.body.events.length) return resume(purge);
  const solids = its.querySelector(`[name=solids][value=${purge.body.solids}]`);
  solids.checked = true;
  solids.toggleAttribute("data-touched", true); // what comes out is the scenario's
  its.querySelector(`[name=tank-state][value=${course.state.setup.blow_lift > 0 ? "begin-bubbling" : "begin"}]`).checked = true;
  its.querySelector("[data-hand]").value = settings().initials;
  return take(tank, purge);
}

function act(row) {
  if (course.isOver) return;
  orShowTrouble(course.act(row));
  draw();
}

function frame(time) {
  if (course.isOver) return;
  if (course.isSaved) {
    finish();
    return;
  }
  const gone = last === null ? 0 : Math.min(LONGEST, (time - last) / 1000);
  const steps = Math.floor(gone * STEPS_A_SECOND);
  if (last === null || steps > 0) last = last === null || gone === LONGEST ? time : last + (steps * 1000) / STEPS_A_SECOND;
  course.pass(steps);
  draw();
  requestAnimationFrame(frame);
}

function draw() {
  if (drawnStep === course.state) return;
  drawnStep = course.state;
  const now = seen(course.state);
  handles.show(now.handles);
  messages.show(now, sights.show(now));
}

async function finish() {
  if (course.isOver || !await orShowTrouble(course.end())) return;
  await orShowTrouble(end.log());
  end.show();
}
