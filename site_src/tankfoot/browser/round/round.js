/** The round: which tanks, then a row for each with what it waits for, then what left. */

import { local } from "../../quantities/locale.js";
import { words } from "../../wording/words.js";
import { nameOf, waitOf } from "../parts/purge_wait.js";
import { written } from "../parts/dates.js";
import { dangerIn, newReading, platesOf, pressureIn } from "../parts/gauge.js";
import { minutes } from "../parts/minutes.js";
import { orShowTrouble } from "../parts/trouble.js";
import { edited, get, put } from "../storage/record.js";
import { latestRound, purgesOf } from "../storage/rounds.js";
import { isSound } from "../storage/sound.js";
import { chooseTanks } from "./choose.js";
import { showEnd } from "./end.js";

const EVERY = 1000; // ms
const OVER = ["done", "left", "left-out"]; // nothing is waited for

const page = document.querySelector("[data-round]");
const part = (name) => page.querySelector(`[data-${name}]`);
const made = part("row").content.firstElementChild;

let round = null; // the entry of the round that is shown
let purges = new Map(); // by tank, the entry of its purge in this round
let plates = new Map(); // by tank, the pressure on its plate
let rows = new Map(); // by tank

part("new").addEventListener("click", choose);
part("end").addEventListener("click", askToEnd);
part("end-now").addEventListener("click", end);
document.addEventListener("visibilitychange", () => { if (!document.hidden) lookAgain(); });
addEventListener("pageshow", ({ persisted }) => { if (persisted) location.reload(); });
await lookAgain();
page.dataset.ready = "true";
setInterval(tick, EVERY);

/** What is stored now: other pages and windows work on the purges. */
async function lookAgain() {
  const found = await orShowTrouble(latestRound());
  if (found === undefined) return;
  round = found;
  const isChoosing = !part("choose").hidden;
  if (isChoosing && (!round || round.body.ended)) return; // what is ticked stays
  if (!round) return choose();
  purges = await orShowTrouble(purgesOf(round)) ?? purges;
  plates = await orShowTrouble(platesOf(round.body.tanks.map(({ tank }) => tank))) ?? plates;
  if (round.body.ended) showEnded();
  else showWalk();
}

async function choose() {
  only("choose");
  await chooseTanks(part("choose"), async (entry) => {
    if (await orShowTrouble(put(entry))) await lookAgain();
  });
}

function only(shown) {
  for (const name of ["choose", "walk", "ended"]) part(name).hidden = name !== shown;
}

function showWalk() {
  only("walk");
  const tanks = round.body.tanks.map(({ tank }) => tank);
  if ([...rows.keys()].join() !== tanks.join()) {
    rows = new Map(tanks.map((tank) => [tank, rowOf(tank)]));
    part("rows").replaceChildren(...rows.values());
  }
  for (const [tank, row] of rows) {
    const { left_out: why, pressure, read } = inRound(tank);
    for (const stop of ["plate", "zero"]) row.querySelector(`[data-${stop}-stop]`).hidden = dangerOf(tank) !== stop;
    row.querySelector("[data-take-in]").hidden = why === null;
    row.querySelector(".round-more").hidden = why !== null;
    const seen = pressure === null ? "" : words("round.read", { pressure: local(pressure), time: written(read, "timeOfDay") });
    row.querySelector("[data-read]").textContent = why ?? seen;
  }
  tick();
}

/** The clocks of all tanks side by side; while one port is open, the others wait. */
function tick() {
  if (part("walk").hidden) return;
  const waits = new Map([...rows.keys()].map((tank) => [tank, waitIn(tank)]));
  const isOpen = [...waits.values()].some(({ what }) => what === "running");
  for (const [tank, row] of rows) {
    const { what, left } = waits.get(tank);
    const says = words(`round.waits.${what}`, { left: left === null ? "" : minutes(Math.ceil(left)) });
    const place = row.querySelector("[data-waits]");
    if (place.textContent !== says) place.textContent = says;
    row.dataset.what = what;
    const act = row.querySelector("[data-act]");
    act.hidden = OVER.includes(what) || (what !== "running" && (isOpen || dangerOf(tank) !== null));
    if (act.hidden) continue;
    act.textContent = words(`round.act.${what}`);
    const purge = purges.get(tank);
    act.hash = new URLSearchParams(purge ? { "go-on": purge.id } : { tank }).toString();
  }
}

function inRound(tank) {
  return round.body.tanks.find((each) => each.tank === tank);
}

function dangerOf(tank) {
  return dangerIn(inRound(tank).pressure, plates.get(tank) ?? null);
}

function waitIn(tank) {
  return inRound(tank).left_out === null ? waitOf(purges.get(tank) ?? null) : { what: "left-out", left: null };
}

function rowOf(tank) {
  const row = document.importNode(made, true);
  const inRow = (name) => row.querySelector(`[data-${name}]`);
  inRow("name").textContent = inRound(tank).tank_name;
  inRow("pressure").addEventListener("change", ({ target }) => keepPressure(tank, target, inRow("problem")));
  inRow("leave-out").addEventListener("click", () => { inRow("leaving").hidden = false; inRow("why").focus(); });
  inRow("leave-out-now").addEventListener("click", async () => {
    if (await leaveOut(tank, inRow("why"), inRow("problem"))) inRow("leaving").hidden = true;
  });
  inRow("take-in").addEventListener("click", () => change(tank, { left_out: null }));
  return row;
}

/** A change of one tank of the round, saved before it shows; made from what is stored now. */
async function change(tank, members, more = []) {
  const now = await orShowTrouble(get(round.id));
  if (!now) return false;
  const tanks = now.body.tanks.map((each) => (each.tank === tank ? { ...each, ...members } : each));
  const changed = edited(now, { ...now.body, tanks });
  if (!await orShowTrouble(put(changed, ...more))) return false;
  round = changed;
  showWalk();
  return true;
}

/** What the gauge reads in passing, as it was typed; the tank knows it too. */
async function keepPressure(tank, input, problem) {
  const found = pressureIn(local(input.value.trim()));
  const entry = await orShowTrouble(get(tank, "tank"));
  const changed = entry && found ? edited(entry, { ...entry.body, pressure: found.si }) : null;
  const isWrong = input.value.trim() !== "" && (!found || (changed && !isSound(changed)));
  problem.textContent = isWrong ? words("round.no_pressure") : "";
  if (!found || isWrong) return;
  const read = { pressure: found.text, read: new Date().toISOString() };
  const more = changed ? [changed, newReading(entry, { pressure: found.text })] : [];
  if (await change(tank, read, more)) input.value = "";
}

async function leaveOut(tank, input, problem) {
  const why = input.value.trim();
  const isOpen = waitIn(tank).what === "running";
  problem.textContent = isOpen ? words("round.port_open", { tank: inRound(tank).tank_name }) : why ? "" : words("round.why_first");
  return !problem.textContent && change(tank, { left_out: why });
}

function undone() {
  return [...rows.keys()].filter((tank) => !OVER.includes(waitIn(tank).what));
}

/** An open port ends no round; what is not done is asked for its reason. */
async function askToEnd() {
  await lookAgain();
  const open = undone().find((tank) => waitIn(tank).what === "running");
  part("end-problem").textContent = open ? words("round.port_open", { tank: nameOf(purges.get(open)) }) : "";
  if (open) return;
  if (!undone().length) await end();
  else showUndone();
}

function showUndone() {
  part("ending").hidden = false;
  part("undone").replaceChildren(...undone().map((tank) => {
    const label = Object.assign(document.createElement("label"), { textContent: `${inRound(tank).tank_name} ` });
    label.append(Object.assign(document.createElement("input"), { type: "text", maxLength: 400, autocomplete: "off" }));
    label.dataset.of = tank;
    return label;
  }));
  part("ending").scrollIntoView({ block: "center" });
}

async function end() {
  const reasons = new Map([...part("undone").children].map((label) => [label.dataset.of, label.querySelector("input").value.trim()]));
  const left = undone();
  const isSaid = left.every((tank) => reasons.get(tank));
  part("end-problem").textContent = isSaid ? "" : words("round.why_first");
  if (!isSaid) return;
  const now = await orShowTrouble(get(round.id));
  if (!now) return;
  const tanks = now.body.tanks.map((each) => (left.includes(each.tank) ? { ...each, left_out: reasons.get(each.tank) } : each));
  const { open, ...body } = { ...now.body, tanks, ended: new Date().toISOString() };
  if (await orShowTrouble(put(edited(now, body)))) await lookAgain();
}

function showEnded() {
  only("ended");
  showEnd(part("ended"), round, purges);
}
