/** One purge of the record: what it told, its notes and readings, every tap; corrected, or deleted. */

import { wasSetBack } from "../../purge/clock.js";
import { standing } from "../../purge/machine.js";
import { runTimes } from "../../purge/times.js";
import { words } from "../../wording/words.js";
import { beerAt } from "../storage/batches.js";
import { edited, get, has, put } from "../storage/record.js";
import { offerCorrection } from "./entry_correct.js";
import { showDamaged } from "./entry_damaged.js";
import { correctionsOf } from "./entry_past.js";
import { showSeen } from "./entry_seen.js";
import { written } from "../parts/dates.js";
import { element, figure } from "../parts/figures.js";
import { own } from "../parts/lookup.js";
import { otherFigures, purgePicture } from "../parts/purge_figures.js";
import { usualLosses } from "../parts/usual_losses.js";
import { orShowTrouble } from "../parts/trouble.js";
import { inAddress } from "../parts/address.js";

const NO_USUAL = { count: 0, parts: [], whole: null };

const page = document.querySelector("[data-record-entry]");
const recordWords = JSON.parse(page.dataset.words);

const id = inAddress().get("id") ?? "";
const isStored = await orShowTrouble(has(id));
let purge = isStored ? await orShowTrouble(get(id, "purge")) : undefined;
if (purge && !purge.deleted) await open();
else if (!isStored || !await showDamaged(page, id)) page.querySelector("[data-missing]").hidden = isStored === undefined;
page.dataset.ready = "true";
addEventListener("hashchange", () => location.reload());

async function open() {
  page.querySelector("[data-whole]").hidden = false;
  page.querySelector("[data-delete]").addEventListener("click", remove);
  page.querySelector("[data-go-on]").addEventListener("click", goOn);
  page.querySelector("[data-correct]").hidden = purge.body.state !== "saved";
  const usual = await orShowTrouble(usualLosses(purge.body.tank, id)) ?? NO_USUAL;
  offerCorrection(page, recordWords, () => purge, (latest) => { purge = latest; show(usual); });
  show(usual);
  await showBatch();
  await showPhoto();
}

/** The batch that was in the tank when the purge began. */
async function showBatch() {
  const beer = await orShowTrouble(beerAt(purge.body.tank, purge.created));
  const place = page.querySelector("[data-of-batch]");
  place.hidden = !beer;
  place.textContent = beer ? words("entry.batch", { beer }) : "";
}

function show(usual) {
  const { body, created, demo } = purge;
  const names = [body.tank_name, words(`purge.solids.${body.solids}`)].filter(Boolean);
  page.querySelector("[data-heading]").textContent = names.join(": ");
  page.querySelector("[data-when]").textContent = [written(created), body.initials].filter(Boolean).join(", ");
  page.querySelector("[data-demo]").hidden = !demo;
  const unfinished = page.querySelector("[data-unfinished]");
  unfinished.hidden = body.state === "saved";
  page.querySelector("[data-go-on]").hidden = unfinished.hidden;
  unfinished.textContent = words(body.open ? "record.not_finished" : "record.left");
  page.querySelector("[data-picture]").replaceChildren(...purgePicture(body, usual));
  page.querySelector("[data-results]").replaceChildren(...(body.result.volume_lost ? otherFigures(body.result) : []), ...times(body));
  showSeen(page, purge, (latest) => { purge = latest; show(usual); });
  page.querySelector("[data-no-result]").hidden = Boolean(body.result.volume_lost) || body.state !== "saved";
  page.querySelector("[data-disagree]").hidden = body.agree !== false;
  page.querySelector("[data-notes]").replaceChildren(...paragraphs(body.notes || words("entry.no_notes")));
  lines("[data-readings]", Object.entries(body.readings).filter(([, text]) => text)
    .map(([name, text]) => `${own(recordWords.readings, name) ?? name}: ${text}`));
  lines("[data-events]", body.events.map(eventLine));
  section("[data-skipped]", standing(body.events).filter(({ event }) => event === "skip").map(skipLine));
  section("[data-corrections]", correctionsOf(purge, recordWords));
}

function paragraphs(text) {
  return text.split("\n").map((textContent) => element("p", { textContent }));
}

function times(body) {
  const [run, overrun] = runTimes(body);
  if (run === null) return [];
  if (wasSetBack(run, overrun)) return [element("p", { className: "notice-line", textContent: words("entry.clock_set_back") })];
  return [["entry.port_open", run], ["entry.overrun", overrun]].map(([label, value]) => (
    figure(words(label), { value, uncertainty: null }, "duration")
  ));
}

function eventLine({ at, state, event, data }) {
  const { title, events } = own(recordWords.steps, state) ?? { title: state, events: {} };
  const what = own(events, event) ?? own(recordWords.everywhere, event) ?? event;
  return `${written(at, "timeOfDay")} ${[title, what, data?.reason, data?.by].filter(Boolean).join(" – ")}`;
}

function skipLine({ state, data }) {
  return `${own(recordWords.steps, state)?.title ?? state}: ${data?.reason ?? words("entry.no_reason")}`;
}

function section(place, texts) {
  page.querySelector(place).hidden = texts.length === 0;
  lines(`${place} ul`, texts);
}

function lines(place, texts) {
  page.querySelector(place).replaceChildren(...texts.map((textContent) => element("li", { textContent })));
}

async function showPhoto() {
  const photo = purge.body.photo && await orShowTrouble(get(purge.body.photo, "photo"));
  if (!photo || photo.deleted) return;
  const place = page.querySelector("[data-photo]");
  place.querySelector("img").src = `data:${photo.body.type};base64,${photo.body.data}`;
  place.hidden = false;
}

/** One that was left is offered again from now on. */
async function goOn() {
  const again = purge.body.open ? purge : edited(purge, { ...purge.body, open: 1 });
  if (await orShowTrouble(put(again))) location.assign(`../../purge/#go-on=${again.id}`);
}

/** A tombstone stays; the record's page offers to undo it. */
async function remove() {
  const gone = edited(purge, purge.body, { deleted: true });
  if (!await orShowTrouble(put(gone))) return;
  const { forgetRun } = await import("../storage/watching.js");
  await forgetRun(gone.id);
  location.replace(`../#deleted=${gone.id}`);
}
