/** The guided purge: one step a screen, each tap on the disk before the screen moves. */

import { calculators } from "../../calculators/declared.js";
import { stateAfter, standing } from "../../purge/machine.js";
import { drawStop } from "../../purge/margin.js";
import { inLitres, median, whatItTold, workOut } from "../../purge/outcome.js";
import { purgeWords } from "../../wording/declared.js";
import { sums } from "../../purge/declared.js";
import { edited, get, inTurn, latestPurges, put } from "../storage/record.js";
import { refreshHand } from "../storage/current_tank.js";
import { settings } from "../storage/settings.js";
import { problemSentence } from "../../wording/sentences.js";
import { stayAwake } from "../parts/device.js";
import { flipSign } from "../parts/fields.js";
import { amountText } from "../parts/figures.js";
import { keepPhoto } from "./photo.js";
import { startClocks } from "./clocks.js";
import { purgeFigures } from "./result_figures.js";
import { openNotes } from "./notes.js";
import { fieldsIn, readingsIn, showReadings, siOfReading, textOfReading } from "./readings.js";
import { freshPurge, showTanks } from "./start.js";
import { orTell } from "../parts/trouble.js";
import { unfinishedPurges } from "./unfinished.js";

const page = document.querySelector("[data-purge]");
const NEEDS_NOTHING = ["undo", "skip", "more-gas", "keep-gas-on"]; // taps that no reading of the step is asked for
const WAKEFUL = ["contact", "run", "flowing", "beer"];
const notes = openNotes(page.querySelector("[data-notes]"), (said) => save((body) => ({ ...body, notes: said })));

let purge = null; // the entry under way
let tank = null; // the tank's entry, null without one
let past = []; // this tank's latest purges
let busy = false; // a tap is being saved

const tick = startClocks(page, () => purge);
listen();
await begin();
page.dataset.ready = "true";

async function begin() {
  const open = await orTell(unfinishedPurges()) ?? [];
  const wanted = new URLSearchParams(location.hash.slice(1)).get("go-on");
  const left = open.find(({ id }) => id === wanted) ?? open[0];
  if (!left) await choose();
  else if (left.id === wanted) await resume(left);
  else offer(left);
}

/** An unfinished purge comes first: go on with it, or leave it. */
function offer(left) {
  for (const each of page.querySelectorAll("[data-step]")) each.hidden = true;
  const { tank_name: name, solids, events } = left.body;
  const since = new Date(events[0].at).toLocaleString();
  page.querySelector("[data-resume]").hidden = false;
  page.querySelector("[data-resume-what]").textContent = [name, purgeWords.solids[solids], since].filter(Boolean).join(", ");
  page.querySelector("[data-go-on]").onclick = () => resume(left);
  page.querySelector("[data-leave]").onclick = () => leave(left);
}

async function resume(entry) {
  const found = entry.body.tank ? await orTell(get(entry.body.tank)) : null;
  await take(found ?? null, entry);
  page.querySelector("[data-resume]").hidden = true;
}

/** It stays in the record as it is, and is not offered again. */
async function leave(entry) {
  const { open, ...body } = entry.body;
  const said = [body.notes, purgeWords.leave_why].filter(Boolean).join("\n");
  if (!await orTell(put(edited(entry, { ...body, notes: said })).then(() => true))) return;
  page.querySelector("[data-resume]").hidden = true;
  await choose();
}

async function choose() {
  const chosen = await showTanks(page, (entry) => take(entry, freshPurge(entry)));
  await take(chosen, freshPurge(chosen));
}

async function take(tankEntry, purgeEntry) {
  tank = tankEntry;
  purge = purgeEntry;
  const latest = tank ? await orTell(latestPurges(tank.id)) ?? [] : [];
  past = latest.filter(({ id }) => id !== purge.id);
  show();
}

function pastMedian(name) {
  return median(past.map(({ body }) => body.result[name]?.value).filter(Number.isFinite));
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
    if (field.name === "planned_draw") field.entry.addEventListener("input", showSums);
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
  if (busy) return;
  const { state } = purge.body;
  const reason = event === "skip" ? reasonAt(button) : null;
  const needsReadings = !NEEDS_NOTHING.includes(event);
  const here = readingsIn(section(state), needsReadings);
  if (needsReadings) here.wrong?.entry.focus();
  if (reason === "" || (needsReadings && here.wrong)) return;
  busy = true;
  const taken = { at: new Date().toISOString(), state, event, ...(reason && { data: { reason } }) };
  const said = choices(event);
  try {
    if (event === "fits" && await drawStop({ ...purge.body.readings, ...here.texts }, settings().system)) return;
    await save((body) => {
      const events = [...body.events, taken];
      return { ...body, ...said, events, readings: { ...body.readings, ...here.texts }, state: stateAfter(events) };
    });
  } finally {
    busy = false;
  }
  show();
}

function reasonAt(button) {
  const why = button.closest("details").querySelector("[data-why]");
  const reason = why.value.trim();
  if (!reason) why.focus();
  return reason;
}

/** What a tap says beside leading on. */
function choices(event) {
  if (event === "gas-shut") return { gas_shut: true };
  if (event === "gas-on" || event === "keep-gas-on") return { gas_shut: false };
  if (event === "begin") return { solids: page.querySelector("[name=solids]:checked").value };
  return {};
}

/** A purge whose readings are in has its result; one that is saved is open no more. */
async function settled(body) {
  if (body.state === "saved") {
    const { open, ...closed } = body;
    return { ...closed, notes: notes.said() };
  }
  if (body.state !== "result") return body;
  const usual = pastMedian("overrun");
  const readings = { ...body.readings, ...(usual !== null && { usual_overrun: textOfReading("usual_overrun", usual) }) };
  const { result, agree } = await whatItTold({ ...body, readings }, settings().system);
  return { ...body, readings, result, agree };
}

/** Taps and readings in turn, each made from what the last one left, so that none undoes another; whether it is kept. */
function save(change) {
  return inTurn(async () => write(await settled(change(purge.body))));
}

async function write(body) {
  const changed = edited(purge, body);
  const ends = body.state === "saved" && purge.body.state !== "saved";
  const also = ends && tank ? [tankAfter(body)] : [];
  if (!await orTell(put(changed, ...also).then(() => true))) return false;
  purge = changed;
  also.forEach(refreshHand);
  page.querySelector("[data-kept-tap]").textContent = `${purgeWords.saved_at} ${new Date().toLocaleTimeString()}`;
  return true;
}

/** The tank as the purge leaves it: less beer, and the pressure it was topped up to. */
function tankAfter({ result, readings, events }) {
  const toppedUp = standing(events).some(({ event }) => event === "topped-up");
  const name = toppedUp ? "target_pressure" : "pressure_after";
  const pressure = readings[name] ? siOfReading(name, readings[name]) : tank.body.pressure;
  const beer = Math.max(0, tank.body.beer_volume - (result.volume_lost?.value ?? 0));
  return edited(tank, { ...tank.body, beer_volume: beer, pressure });
}

/** Readings are kept as they are typed; the first tap makes the entry. */
async function keepReadings() {
  const { texts } = readingsIn(section(purge.body.state));
  const read = (body) => ({ ...body, readings: { ...body.readings, ...texts } });
  if (purge.body.events.length) await save(read);
  else purge = { ...purge, body: read(purge.body) };
  await showSums();
}

async function addPhoto(file) {
  const photo = file && await orTell(keepPhoto(file, purge.demo));
  if (!photo) return;
  if (!await save((body) => ({ ...body, photo: photo.id }))) return;
  page.querySelector("[data-photo-kept]").textContent = "Photo saved.";
}

/** To the emergency cards: the moment is saved first, and the purge is found again as it was left. */
function toTheCards(event, address) {
  if (!purge?.body.events.length || purge.body.state === "saved") return;
  event.preventDefault();
  const taken = { at: new Date().toISOString(), state: purge.body.state, event: "trouble" };
  save((body) => ({ ...body, events: [...body.events, taken] })).finally(() => location.assign(address));
}

/** What another window did meanwhile shows as soon as this one is looked at again. */
async function lookAgain() {
  if (document.hidden || !purge?.body.events.length) return;
  const stored = await inTurn(() => orTell(get(purge.id)));
  if (!stored || stored.edited === purge.edited) return;
  purge = stored;
  show();
}

function section(state) {
  return page.querySelector(`[data-step="${state}"]`);
}

function show() {
  const { state, events, tank_name: name, readings, notes: noted } = purge.body;
  for (const each of page.querySelectorAll("[data-step]")) each.hidden = each.dataset.step !== state;
  page.querySelector("[data-of-tank]").textContent = state === "choose" || !name ? page.dataset.title : `${page.dataset.title}: ${name}`;
  page.querySelector("[data-undo]").hidden = !standing(events).length || state === "saved";
  showReadings(section(state), known(readings, state));
  notes.show(noted);
  for (const why of section(state).querySelectorAll("[data-why]")) why.value = "";
  if (state !== "choose") section(state).querySelector("h2").focus({ preventScroll: true });
  scrollTo(0, 0);
  stayAwake(WAKEFUL.includes(state));
  showSums();
  tick();
}

/** What is known of a step's readings before anything is typed at it. */
function known(readings, state) {
  const first = { contact_time: "60 s", pressure_found: readings.pressure_found };
  if (state === "gas") first.pressure_before = readings.target_pressure;
  if (state === "margin") first.planned_draw = usualDraw();
  return { ...first, ...Object.fromEntries(Object.entries(readings).filter(([, text]) => text)) };
}

/** What usually left this tank, else what is known to lie in its cone; nothing stands in where neither is known. */
function usualDraw() {
  const draw = pastMedian("volume_lost") ?? tank?.body.solids_volume ?? null;
  return draw === null ? "" : textOfReading("planned_draw", draw);
}

/** The sums of the step: top-up, margin, and what the purge told. */
async function showSums() {
  const { state, readings, result, agree: isAgreed } = purge.body;
  const here = section(state);
  const volume = result.volume_lost?.value ?? 0;
  const texts = { ...readings, ...readingsIn(here).texts };
  if (texts.headspace) texts.headspace_after = inLitres(siOfReading("headspace", texts.headspace) + volume);
  for (const place of here.querySelectorAll("[data-sum]")) await showSum(here, place, texts);
  if (state === "margin") await showVacuumStop(here, readings, readingsIn(here).texts.planned_draw);
  for (const place of here.querySelectorAll("[data-results]")) place.replaceChildren(...purgeFigures(result));
  if (state === "result") {
    here.querySelector("[data-disagree]").hidden = isAgreed !== false;
    await showWays(here);
  }
}

async function showSum(here, place, texts) {
  const { calculator } = sums[place.dataset.sum];
  const { results, problems } = await workOut(place.dataset.sum, texts, settings().system);
  const found = results[place.dataset.shows];
  const shown = found ? amountText(found, calculators[calculator].results[place.dataset.shows]) : null;
  place.querySelector("[data-text]").textContent = shown?.text ?? "–";
  place.querySelector("[data-spread]").textContent = shown?.give_or_take ?? "";
  here.querySelector("[data-sum-problem]").textContent = problems.length ? problemSentence(calculator, problems[0]) : "";
}

/** Where the planned draw would take too much with the gas shut, the way on is closed, and the screen says why. */
async function showVacuumStop(here, readings, planned) {
  const stop = planned ? await drawStop({ ...readings, planned_draw: planned }, settings().system) : null;
  for (const place of here.querySelectorAll("[data-vacuum-stop]")) place.hidden = place.dataset.vacuumStop !== stop;
  here.querySelector("[data-event=fits]").hidden = stop !== null;
}

async function showWays(here) {
  const { ways } = await whatItTold(purge.body, settings().system);
  const said = Object.entries(ways).map(([way, amount]) => {
    const { text, give_or_take: spread } = amountText(amount, "tank_volume");
    return `${purgeWords.ways[way]} ${text} ${spread}`;
  });
  here.querySelector("[data-ways]").textContent = said.length ? `${said.join("; ")}.` : purgeWords.no_volume;
}
