/** The editor of a site's own list. The page's fields are the list; each saving is a version of its own. */

import { digest } from "../../record/canonical.js";
import { entryProblems } from "../../office/entry_check.js";
import { fileSentence } from "../../wording/sentences.js";
import { words } from "../../wording/words.js";
import { newId } from "../storage/new_id.js";
import { corrected, edited, get, newEntry, put } from "../storage/record.js";
import { draftOf, dropDraft, dropSaved, keepDraft } from "./own_list_draft.js";
import { linesOf, warningsOf } from "./own_list_warnings.js";
import { element } from "../parts/figures.js";
import { offerLanguage } from "../parts/list_language.js";
import { orShowTrouble } from "../parts/trouble.js";

const INJURY = ["DANGER", "WARNING", "CAUTION"];
const UNASKED = ["picture", "based_on", "copied_from"]; // members of a list that no field asks for
const EMPTY_LINE = { act: "", value: "", why: "" };
const EMPTY_PART = { title: "", pause: "", lines: [EMPTY_LINE] };
const EMPTY = { title: "", condition: words("own.begin"), completion: "", language: document.documentElement.lang, parts: [EMPTY_PART] };

const page = document.querySelector("[data-own-edit]");
const form = page.querySelector("form");
const parts = form.querySelector("[data-parts]");
const [partMade, lineMade] = ["part", "line"].map((name) => page.querySelector(`[data-${name}-made]`).content);
const [mostLines, mostParts] = [Number(page.dataset.mostLines), Number(page.dataset.mostParts)];
const of = location.hash.slice(1);
const id = new URLSearchParams(of).get("id");

const found = id ? await orShowTrouble(get(id, "site-list")) : null;
const entry = found && !found.deleted ? found : null;
const draft = draftOf(of);
const base = draft?.base ?? entry?.body.list ?? null;
const unasked = Object.entries(draft?.list ?? base ?? {}).filter(([name]) => UNASKED.includes(name));

addEventListener("hashchange", () => location.reload());
offerLanguage(form.querySelector("[data-of=language]"), (draft?.list ?? base)?.language);
fill(draft?.list ?? base ?? EMPTY);
form.addEventListener("input", changed);
form.addEventListener("click", tap);
form.addEventListener("submit", (event) => { event.preventDefault(); save(); });
page.querySelector("[data-heading]").textContent = words(entry ? "own.change" : unasked.length ? "own.adapt" : "own.write");
page.querySelector("[data-draft]").hidden = !draft || JSON.stringify(draft.list) === JSON.stringify(draft.base);
for (const button of page.querySelectorAll("[data-drop]")) button.onclick = async () => { await dropDraft(); location.reload(); };
page.querySelector("[data-apart]").addEventListener("click", saveApart);
page.querySelector("[data-gone]").hidden = !id || found === undefined || Boolean(entry);
form.querySelector("[data-delete]").hidden = !entry;
await isOverNewer();
show();
page.dataset.ready = "true";

function fill(list) {
  write(form.querySelector("[data-head]"), list);
  parts.replaceChildren(...list.parts.map(partOf));
}

function partOf(part) {
  const made = document.importNode(partMade, true).firstElementChild;
  write(made.querySelector("[data-head]"), part);
  made.querySelector("[data-lines]").append(...part.lines.map(lineOf));
  return made;
}

function lineOf(line) {
  const made = document.importNode(lineMade, true).firstElementChild;
  made.dataset.line = line.id ?? `line-${newId().slice(0, 8)}`;
  made.open = !line.act;
  write(made, line);
  return made;
}

function write(box, said) {
  for (const input of box.querySelectorAll("[data-of]")) {
    if (input.type === "checkbox") input.checked = Boolean(said[input.dataset.of]);
    else input.value = said[input.dataset.of] ?? "";
  }
}

/** What the fields of a box say; a field left empty that may be is not there. */
function read(box) {
  const said = [...box.querySelectorAll("[data-of]")]
    .map((input) => [input, input.type === "checkbox" ? input.checked : oneLine(input.value)]);
  return Object.fromEntries(said.filter(([input, value]) => value || input.required).map(([input, value]) => [input.dataset.of, value]));
}

function oneLine(text) {
  return text.trim().replace(/\s+/g, " ");
}

function readList() {
  return {
    ...read(form.querySelector("[data-head]")),
    ...Object.fromEntries(unasked),
    parts: [...parts.children].map((part) => ({
      ...read(part.querySelector("[data-head]")),
      lines: [...part.querySelectorAll("[data-line]")].map((line) => ({ id: line.dataset.line, ...read(line) })),
    })),
  };
}

function changed() {
  keepDraft({ of, base, list: readList() });
  show();
}

async function show() {
  for (const line of parts.querySelectorAll("[data-line]")) showLine(line);
  const list = readList();
  const warnings = warningsOf(base, list, JSON.parse(page.dataset.rules));
  const place = form.querySelector("[data-warning-lines]");
  if (place.textContent !== warnings.join("")) form.querySelector("[data-read]").checked = false;
  place.replaceChildren(...warnings.map((textContent) => element("li", { textContent })));
  form.querySelector("[data-warnings]").hidden = warnings.length === 0;
  form.querySelector("[data-version-says]").textContent = words("own.next_version", { version: await versionOf(list) });
}

function showLine(line) {
  const { act, signal, gate } = read(line);
  const mark = signal ? words(`signals.${signal}`) : gate && words("own.gate");
  const named = act || words("own.new_line");
  line.querySelector("[data-summary]").textContent = mark ? words("own.marked", { mark, act: named }) : named;
  const hazard = line.querySelector("[data-hazard]");
  hazard.hidden = !signal;
  for (const input of hazard.querySelectorAll("[data-of]")) input.required = INJURY.includes(signal);
}

async function versionOf(list) {
  return (await digest(list)).slice(0, 8);
}

function tap({ target }) {
  const line = target.closest("[data-line]");
  const part = target.closest("[data-part]");
  if (target.matches("[data-add-part]")) addPart();
  else if (target.matches("[data-add]")) addLine(part);
  else if (target.matches("[data-up]")) move(line, line.previousElementSibling, part.previousElementSibling, "before");
  else if (target.matches("[data-down]")) move(line, line.nextElementSibling, part.nextElementSibling, "after");
  else if (target.matches("[data-remove]")) takeOut(line ?? part);
  else if (target.matches("[data-delete]")) remove();
  else return;
  changed();
}

function addPart() {
  const isFull = parts.children.length >= mostParts;
  form.querySelector("[data-parts-problem]").textContent = isFull ? words("own.most_parts", { count: mostParts }) : "";
  if (isFull) return;
  const part = partOf(EMPTY_PART);
  parts.append(part);
  part.querySelector("input").focus();
}

/** Whether one more line fits before the next pause; says so where not. */
function hasRoom(part) {
  const isFull = part.querySelectorAll("[data-line]").length >= mostLines;
  part.querySelector(":scope > .problem").textContent = isFull ? words("own.most_lines", { count: mostLines }) : "";
  return !isFull;
}

function addLine(part) {
  if (!hasRoom(part)) return;
  const line = lineOf(EMPTY_LINE);
  part.querySelector("[data-lines]").append(line);
  line.querySelector("[data-of]").focus();
}

/** One place up or down; past the end of a part into the next one. */
function move(line, neighbour, nextPart, side) {
  const button = document.activeElement;
  if (neighbour) neighbour[side](line);
  else if (nextPart && hasRoom(nextPart)) nextPart.querySelector("[data-lines]")[side === "before" ? "append" : "prepend"](line);
  button.focus();
}

function takeOut(box) {
  const [home, next] = [box.parentElement, box.nextElementSibling];
  box.remove();
  const undo = form.querySelector("[data-undo]");
  undo.hidden = false;
  undo.querySelector("button").onclick = () => {
    home.insertBefore(box, next?.parentElement === home ? next : null);
    undo.hidden = true;
    changed();
  };
  undo.querySelector("button").focus();
}

async function save() {
  const list = readList();
  if (isWhole(list) && !await isOverNewer()) await saveOver(entry, list);
}

async function saveApart() {
  const list = readList();
  if (isWhole(list)) await saveOver(null, list);
}

/** Over the entry that was opened, or with none as a list of its own. */
async function saveOver(old, list) {
  const body = { list, version: await versionOf(list) };
  const saved = old ? corrected(old, body) : newEntry("site-list", body);
  const [wrong] = entryProblems(saved);
  if (wrong) {
    say(fileSentence(wrong));
  } else if (await orShowTrouble(put(saved))) {
    await dropSaved(of, list);
    location.replace(`../#id=${saved.id}`);
  }
}

/** Whether another window saved the list after what stands here was begun; says so, and keeps what stands here. */
async function isOverNewer() {
  if (!entry) return false;
  const now = await orShowTrouble(get(entry.id, "site-list")) ?? entry;
  const isNewer = now.edited !== entry.edited || await versionOf(base) !== await versionOf(entry.body.list);
  const told = page.querySelector("[data-newer]");
  told.hidden = !isNewer;
  if (!isNewer) return false;
  keepDraft({ of, base, list: readList() });
  page.querySelector("[data-draft]").hidden = true;
  told.scrollIntoView({ block: "center" });
  return true;
}

function isWhole(list) {
  const empty = [...form.querySelectorAll("[data-of]")].find((input) => input.required && !input.value.trim());
  if (empty) {
    const fold = empty.closest("details");
    if (fold) fold.open = true;
    empty.focus();
    return say(words("own.empty", { label: empty.closest("label").firstChild.textContent.trim() }));
  }
  if (!list.parts.length || list.parts.some(({ lines }) => !lines.length)) return say(words("own.no_line"));
  const ids = linesOf(list).map((line) => line.id);
  if (new Set(ids).size < ids.length) return say(words("own.twice"));
  const isRead = form.querySelector("[data-warnings]").hidden || form.querySelector("[data-read]").checked;
  return isRead || say(words("own.not_read"));
}

function say(text) {
  form.querySelector("[data-problem]").textContent = text;
  return false;
}

async function remove() {
  if (!await orShowTrouble(put(edited(entry, entry.body, { deleted: true })))) return;
  await dropDraft();
  location.replace(`../../#deleted=${entry.id}`);
}
