/** The record page: purges, newest first, of all tanks or of one; below them files and the invented brewery. */

import { words } from "../../wording/words.js";
import { countOn, NO_TANK, wayOf } from "../storage/backwards.js";
import { fitsTankless } from "../storage/marked.js";
import { getStored, idsOfKind } from "../storage/record.js";
import { withoutTombstones } from "../storage/slices.js";
import { damageOf, nameOfDamaged } from "./damaged.js";
import { byName } from "../parts/by_name.js";
import { written } from "../parts/dates.js";
import { offerLost } from "../parts/loss.js";
import { progressIn, shown } from "../parts/progress.js";
import { purgeLine } from "../parts/purge_line.js";
import { orShowTrouble } from "../parts/trouble.js";
import { offerUndo } from "../parts/undo_deleted.js";
import { inAddress } from "../parts/address.js";

const AT_ONCE = 50; // rows; thousands at once would make the phone wait
const ON_SCREEN = 8; // rows that are seen at first, shown before the others are read

const page = document.querySelector("[data-record]");
const choice = page.querySelector("#of-tank");
const list = page.querySelector("[data-list]");
const more = page.querySelector("[data-more]");
const reading = page.querySelector("[data-reading]");
const row = page.querySelector("[data-row]").content.firstElementChild;

let source = null; // of purges not shown yet, the next one first
let damagedTanks = []; // rows

page.querySelector("[data-tab-only]").hidden = navigator.standalone !== false;
choice.addEventListener("change", showFirst);
more.addEventListener("click", goOn);
await load();
await offerUndo("purge", load);
await offerWhatIsBelow();
page.dataset.ready = "true";

/** Read after the rows are there: they are what is waited for. */
async function offerWhatIsBelow() {
  const [{ newWork }, { offerDemo }, { offerExport }, { offerFiles }, { offerLists }, { showKept }] = await Promise.all([
    import("./at_work.js"), import("./record_demo.js"), import("./record_export.js"), import("./record_files.js"),
    import("./record_lists.js"), import("./record_kept.js"),
  ]);
  const atWork = newWork(page);
  offerDemo(page, load);
  offerExport(page, atWork);
  offerFiles(page, atWork, load);
  offerLists(page);
  showKept(page);
  offerLost(page, load);
}

async function load() {
  const ids = await orShowTrouble(idsOfKind("tank")) ?? [];
  const stored = await orShowTrouble(getStored(ids)) ?? [];
  const isSound = stored.map((entry) => damageOf(entry) === null);
  offerTanks(stored.filter((entry, place) => isSound[place] && !entry.deleted));
  damagedTanks = ids.filter((id, place) => !isSound[place]).map((id) => damagedRow(id, stored[ids.indexOf(id)]));
  await showFirst();
}

function offerTanks(tanks) {
  const chosen = choice.value || inAddress().get("tank");
  const options = byName(tanks).map(({ id, body }) => new Option(body.name, id));
  choice.replaceChildren(new Option(words("record.all_tanks"), ""), ...options, new Option(words("record.no_tank"), NO_TANK));
  choice.value = [...choice.options].some(({ value }) => value === chosen) ? chosen : "";
  page.querySelector("[data-filter]").hidden = tanks.length === 0;
}

async function showFirst() {
  const mine = source = newSource(wayOf("purge", choice.value || null));
  const rows = await nextRows(mine, ON_SCREEN);
  if (source !== mine) return; // another tank was chosen meanwhile
  list.replaceChildren(...choice.value ? [] : damagedTanks, ...rows);
  const isEmpty = !mine.isFailed && list.childElementCount === 0;
  for (const each of page.querySelectorAll("[data-none]")) each.hidden = !isEmpty || choice.value !== "";
  page.querySelector("[data-none-of-tank]").hidden = !isEmpty || choice.value === "";
  await shown();
  const others = await nextRows(mine, AT_ONCE - ON_SCREEN);
  if (source === mine) list.append(...others);
  if (source === mine && choice.value === NO_TANK && !await fitsTankless()) await showFirst();
}

/** The next rows, and the focus on the first of them. */
async function goOn() {
  const rows = await nextRows(source, AT_ONCE);
  list.append(...rows);
  rows[0]?.firstElementChild.focus();
}

/** Purges read one slice after the other: those that were read and not shown yet wait in it. */
function newSource(way) {
  return { way, slices: withoutTombstones(way, ON_SCREEN + 1), waiting: [], seen: 0, isOver: false, isFailed: false };
}

/** Tombstones are passed over, so that a page of rows is full while there are any. */
async function nextRows(from, count) {
  await orShowTrouble(fill(from, count).catch((error) => {
    from.isFailed = from.isOver = true;
    throw error;
  }));
  reading.textContent = "";
  const rows = from.waiting.splice(0, count);
  if (from === source) more.hidden = from.isOver && from.waiting.length === 0;
  return rows.map(([id, entry]) => (damageOf(entry) === null ? rowOf(entry) : damagedRow(id, entry)));
}

/** Reads until one more waits than is asked for, or there is none. */
async function fill(from, count) {
  const tell = progressIn(reading, "record.reading");
  while (!from.isOver && from.waiting.length <= count) {
    const { value, done } = await from.slices.next();
    from.isOver = done;
    if (done) return;
    from.waiting.push(...value.found);
    from.seen += value.passed;
    if (from.waiting.length <= count) await tell(from.seen, await countOn(from.way));
  }
}

function linkTo(id) {
  const item = document.importNode(row, true);
  item.firstElementChild.hash = new URLSearchParams({ id });
  return item;
}

function damagedRow(id, entry) {
  const item = linkTo(id);
  item.querySelector("[data-what]").textContent = nameOfDamaged(entry);
  item.querySelector("[data-when]").textContent = words("record.damaged.to_do");
  return item;
}

function rowOf({ id, created, demo: isDemo, body }) {
  const item = linkTo(id);
  const names = [body.tank_name, words(`purge.solids.${body.solids}`)].filter(Boolean);
  item.querySelector("[data-what]").textContent = names.join(": ");
  item.querySelector("[data-when]").textContent = written(created);
  item.querySelector("[data-lost]").textContent = purgeLine(body);
  item.querySelector("[data-demo]").hidden = !isDemo;
  return item;
}
