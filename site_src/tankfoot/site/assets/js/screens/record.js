/** The record page: the purges, newest first, of all tanks or of one; below them files and the invented brewery. */

import { calculators } from "../calculators/declarations.js";
import { purgeWords } from "../purge/table.js";
import { edited, get, ofKind, put } from "../storage/record.js";
import { amountText } from "./figures.js";
import { offerDemo } from "./record_demo.js";
import { offerFiles } from "./record_files.js";
import { orTell } from "./trouble.js";

const AT_ONCE = 50; // rows; thousands at once would make the phone wait
const KINDS = {
  volume_lost: calculators["purge-volume"].results.volume_lost,
  overrun: calculators["purge-split"].results.overrun,
};

const page = document.querySelector("[data-record]");
const choice = page.querySelector("#of-tank");
const list = page.querySelector("[data-list]");
const more = page.querySelector("[data-more]");
const row = page.querySelector("[data-row]").content.firstElementChild;
const dates = new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeStyle: "short" });

let purges = [];

page.querySelector("[data-tab-only]").hidden = navigator.standalone !== false;
choice.addEventListener("change", showFirst);
more.addEventListener("click", goOn);
const demo = offerDemo(page, load);
offerFiles(page, load);
await load();
await offerUndo();
page.dataset.ready = "true";

async function load() {
  const all = await orTell(ofKind("purge")) ?? [];
  purges = all.filter(({ deleted }) => !deleted).sort((a, b) => (a.created < b.created ? 1 : -1));
  demo.show(all.some((entry) => entry.demo));
  for (const each of page.querySelectorAll("[data-none]")) each.hidden = purges.length > 0;
  offerTanks();
  showFirst();
}

function offerTanks() {
  const names = new Map(purges.map(({ body }) => [body.tank ?? "none", body.tank_name || "No tank"]));
  const sorted = [...names].sort(([, a], [, b]) => a.localeCompare(b, undefined, { numeric: true }));
  const chosen = choice.value || new URLSearchParams(location.hash.slice(1)).get("tank");
  choice.replaceChildren(new Option("All tanks", ""), ...sorted.map(([id, name]) => new Option(name, id)));
  choice.value = names.has(chosen) ? chosen : "";
  page.querySelector("[data-filter]").hidden = purges.length === 0;
}

function chosenPurges() {
  return choice.value ? purges.filter(({ body }) => (body.tank ?? "none") === choice.value) : purges;
}

function showFirst() {
  list.replaceChildren();
  showMore();
}

/** The next rows, and the focus on the first of them. */
function goOn() {
  const before = list.childElementCount;
  showMore();
  list.children[before].firstElementChild.focus();
}

function showMore() {
  const chosen = chosenPurges();
  const shown = list.childElementCount;
  list.append(...chosen.slice(shown, shown + AT_ONCE).map(rowOf));
  more.hidden = list.childElementCount >= chosen.length;
  page.querySelector("[data-count]").textContent = chosen.length
    ? `${list.childElementCount} of ${chosen.length}, newest first` : "";
}

function rowOf({ id, created, demo: isDemo, body }) {
  const item = document.importNode(row, true);
  item.firstElementChild.hash = new URLSearchParams({ id });
  item.querySelector("[data-what]").textContent = [body.tank_name, purgeWords.solids[body.solids]].filter(Boolean).join(": ");
  item.querySelector("[data-when]").textContent = dates.format(new Date(created));
  item.querySelector("[data-lost]").textContent = figuresOf(body);
  item.querySelector("[data-demo]").hidden = !isDemo;
  return item;
}

function figuresOf({ state, result }) {
  if (state !== "saved") return "Not finished";
  const lost = result.volume_lost ? `Lost ${amountText(result.volume_lost, KINDS.volume_lost).text}` : "Volume not measured";
  return result.overrun ? `${lost}, overrun ${amountText(result.overrun, KINDS.overrun).text}` : lost;
}

/** A purge deleted a moment ago can be had back. */
async function offerUndo() {
  const id = new URLSearchParams(location.hash.slice(1)).get("deleted");
  const entry = id && await orTell(get(id));
  if (!entry?.deleted) return;
  const line = page.querySelector("[data-undo]");
  line.hidden = false;
  line.querySelector("button").addEventListener("click", () => undo(entry, line));
}

async function undo(entry, line) {
  const back = { ...edited(entry, entry.body), deleted: false };
  if (!await orTell(put(back).then(() => true))) return;
  line.hidden = true;
  history.replaceState(null, "", location.pathname);
  await load();
}
