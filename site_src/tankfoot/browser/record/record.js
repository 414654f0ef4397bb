/** The record page: purges, newest first, of all tanks or of one; below them files and the invented brewery. */

import { words } from "../../wording/words.js";
import { getStored, idsByDay, idsOfKind, NO_TANK } from "../storage/record.js";
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

let waiting = []; // the ids of purges not shown yet, the next one first
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
  const [{ offerDemo }, { offerExport }, { offerFiles }, { offerLists }, { showKept }] = await Promise.all([
    import("./record_demo.js"), import("./record_export.js"), import("./record_files.js"), import("./record_lists.js"),
    import("./record_kept.js"),
  ]);
  offerDemo(page, load);
  offerExport(page);
  offerFiles(page, load);
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
  const ids = await orShowTrouble(idsByDay("purge", choice.value || null));
  waiting = ids ?? [];
  list.replaceChildren(...choice.value ? [] : damagedTanks, ...await nextRows(ON_SCREEN));
  const isEmpty = ids !== undefined && list.childElementCount === 0;
  for (const each of page.querySelectorAll("[data-none]")) each.hidden = !isEmpty || choice.value !== "";
  page.querySelector("[data-none-of-tank]").hidden = !isEmpty || choice.value === "";
  await shown();
  if (waiting === ids) list.append(...await nextRows(AT_ONCE - ON_SCREEN));
}

/** The next rows, and the focus on the first of them. */
async function goOn() {
  const rows = await nextRows(AT_ONCE);
  list.append(...rows);
  rows[0]?.firstElementChild.focus();
}

/** Tombstones are passed over, so that a page of rows is full while there are any. */
async function nextRows(count) {
  const [found, ids, all] = [[], waiting, waiting.length];
  const tell = progressIn(reading, "record.reading");
  await orShowTrouble((async () => {
    for await (const some of withoutTombstones(ids, count)) {
      found.push(...some);
      if (found.length >= count) break;
      await tell(all - ids.length, all);
    }
  })());
  ids.unshift(...found.splice(count).map(([id]) => id));
  reading.textContent = "";
  more.hidden = waiting.length === 0;
  return found.map(([id, entry]) => (damageOf(entry) === null ? rowOf(entry) : damagedRow(id, entry)));
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
