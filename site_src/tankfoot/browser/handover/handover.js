/** What the next shift should know, on one screen: shared as a text or a file, and nothing that is stored twice. */

import { stackLeft } from "../../purge/left.js";
import { words } from "../../wording/words.js";
import { byName } from "../parts/by_name.js";
import { written } from "../parts/dates.js";
import { dueLine, dueNow, isDue, nowInstant } from "../parts/due_now.js";
import { element } from "../parts/figures.js";
import { reasonsOf } from "../parts/held.js";
import { waitOf } from "../parts/purge_wait.js";
import { shareFile } from "../parts/share_file.js";
import { orShowTrouble } from "../parts/trouble.js";
import { edited, newEntry, ofKind, put, unfinishedPurges, unliftedHolds } from "../storage/record.js";
import { purgesOf, roundsSince } from "../storage/rounds.js";
import { settings } from "../storage/settings.js";
import { openHolds } from "../../tanks/hold.js";
import { outOfLine } from "./out_of_line.js";

const SHIFT = 24 * 3_600_000; // ms: what was left out of a round within the last day is told
const OVER = ["done", "left"];

const page = document.querySelector("[data-handover]");
const part = (name) => page.querySelector(`[data-${name}]`);
let sections = []; // pairs of a name and its lines, as they are shown

part("add").addEventListener("click", addNote);
part("share").addEventListener("click", shareText);
part("file").addEventListener("click", shareAsFile);
document.addEventListener("visibilitychange", () => { if (!document.hidden) show(); });
await show();
page.dataset.ready = "true";

async function show() {
  const found = await orShowTrouble(read());
  if (!found) return;
  const { notes, ...lines } = found;
  sections = Object.entries(lines).filter(([, told]) => told.length > 0);
  part("sections").replaceChildren(...sections.flatMap(([name, told]) => [
    element("h2", { textContent: words(`handover.${name}`) }),
    listOf(told),
  ]));
  part("nothing").hidden = sections.length + notes.length > 0;
  part("notes").replaceChildren(...notes.map(noteItem));
  sections.push(["notes", notes.map(noteText)]);
}

async function read() {
  const [tanks, holds, open, rounds, notes, postponed] = await Promise.all([
    ofKind("tank"), unliftedHolds(), unfinishedPurges(), roundsSince(new Date(Date.now() - SHIFT).toISOString()),
    ofKind("shift-note"), ofKind("postponement"),
  ]);
  const { items, rules } = await dueNow(tanks);
  const names = new Map(tanks.map(({ id, body }) => [id, body.name]));
  const inOrder = byName(tanks);
  const now = nowInstant();
  return {
    open: open.map(openText),
    out_of_use: inOrder.filter(({ id }) => openHolds(holds, id).length)
      .map(({ id, body }) => words("handover.line", { tank: body.name, says: reasonsOf(openHolds(holds, id)) })),
    out_of_line: (await Promise.all(inOrder.map(outOfLine))).flat(),
    rounds: (await Promise.all(rounds.map(roundLines))).flat(),
    due: items.filter((item) => isDue(item)).map((item) => words("handover.line", { tank: names.get(item.tank), says: dueLine(item, rules) })),
    put_off: postponed.filter(({ body }) => body.until > now && names.has(body.tank)).map(({ body }) => (
      words("handover.put_off_until", { tank: names.get(body.tank), until: written(body.until, "soon"), why: body.why })
    )),
    notes: notes.filter(({ body }) => body.done === null).sort((a, b) => (a.created < b.created ? 1 : -1)),
  };
}

function openText({ body, created }) {
  const tank = body.tank_name || words(`purge.solids.${body.solids}`);
  const left = stackLeft(body.events, body.state);
  const says = words("handover.unfinished", { since: written(created, "soon") });
  return words("handover.line", { tank, says: left ? [says, words(`today.left.${left}`)].join(" ") : says });
}

/** Tanks that a round did not do, and why; of a round that is open, those that it waits for. */
async function roundLines(round) {
  const purges = await purgesOf(round);
  const isOpen = round.body.ended === null;
  return round.body.tanks.flatMap(({ tank, tank_name: name, left_out: why }) => {
    if (why !== null) return [words("handover.not_done", { tank: name, why })];
    const { what } = waitOf(purges.get(tank) ?? null);
    if (!isOpen || OVER.includes(what)) return [];
    return [words("handover.round_open", { tank: name, waits: words(`round.waits.${what}`, { left: "" }) })];
  });
}

function listOf(lines) {
  const list = element("ul", { className: "lines" });
  list.append(...lines.map((textContent) => element("li", { textContent })));
  return list;
}

function noteText({ body: { says, by }, created }) {
  return words(by ? "handover.note_by" : "handover.note", { says, by, at: written(created, "soon") });
}

function noteItem(note) {
  const item = element("li", { textContent: noteText(note) });
  const done = element("button", { type: "button", className: "plain", textContent: words("handover.done") });
  done.addEventListener("click", async () => {
    const body = { ...note.body, done: nowInstant() };
    if (await orShowTrouble(put(edited(note, body)))) await show();
  });
  item.append(" ", done);
  return item;
}

async function addNote() {
  const says = part("note").value.trim();
  part("problem").textContent = says ? "" : words("handover.empty");
  if (!says) return;
  const note = newEntry("shift-note", { says, by: settings().initials || null, done: null });
  if (!await orShowTrouble(put(note))) return;
  part("note").value = "";
  await show();
}

function asText() {
  const told = sections.filter(([, lines]) => lines.length > 0)
    .map(([name, lines]) => [words(`handover.${name}`), ...lines.map((line) => `- ${line}`)].join("\n"));
  const head = words("handover.head", { at: written(Date.now(), "soon"), site: settings().site.name });
  return `${[head.trim(), ...told].join("\n\n")}\n`;
}

/** To the share sheet as a text; a phone that has none, or refuses it, gets the file. */
async function shareText() {
  if (!navigator.share) return shareAsFile();
  try {
    await navigator.share({ text: asText() });
  } catch (error) {
    if (error.name === "AbortError") return; // the person closed the sheet
    if (error.name !== "NotAllowedError") throw error;
    await shareAsFile();
  }
}

function shareAsFile() {
  return shareFile(new File([asText()], words("handover.file"), { type: "text/plain" }));
}
