/** The rules of what is due: each can be changed, left out, or had back as it was; a site adds its own. */

import { defaultRules } from "../../batches/declared.js";
import { rulesOf } from "../../batches/rules.js";
import { local } from "../../quantities/locale.js";
import { words } from "../../wording/words.js";
import { dueTitle, OWN_RULE } from "../../wording/sentences.js";
import { plainNumber } from "../parts/plain_number.js";
import { orShowTrouble } from "../parts/trouble.js";
import { newId } from "../storage/new_id.js";
import { edited, newEntry, ofKind, put } from "../storage/record.js";
import { isSound } from "../storage/sound.js";

const EMPTY = { wait: 0, within: 0, every: null, again: 0 };
const NUMBERS = Object.keys(EMPTY);
const OWN = { asks: "purge", after: "filled", contact: false, wait: 0, within: 1, every: null, again: 0, solids: null, off: false };

const page = document.querySelector("[data-rules]");
const made = page.querySelector("[data-rule]").content.firstElementChild;
const list = page.querySelector("[data-list]");

page.querySelector("[data-add]").addEventListener("click", add);
await show();
page.dataset.ready = "true";

async function show() {
  const entries = await orShowTrouble(ofKind("due-rule")) ?? [];
  const rules = rulesOf(entries);
  list.replaceChildren(...rules.map((rule) => rowOf(rule, entryOf(entries, rule.name))));
}

/** The entry that stands in a rule's place: the one edited last, as rules.js has it. */
function entryOf(entries, name) {
  const key = ({ edited: at, id }) => at + id;
  return entries.filter(({ body }) => body.name === name).sort((a, b) => (key(a) < key(b) ? 1 : -1))[0] ?? null;
}

function rowOf(rule, entry) {
  const row = document.importNode(made, true);
  const part = (name) => row.querySelector(`[data-${name}]`);
  const isUsual = defaultRules.some(({ name }) => name === rule.name);
  part("title").textContent = dueTitle({ rule: rule.name }, rule);
  part("says").textContent = saysOf(rule);
  row.dataset.of = rule.name;
  part("own").hidden = isUsual;
  part("name").value = rule.title ?? "";
  part("on").checked = !rule.off;
  part("contact").checked = rule.contact;
  for (const name of ["asks", "after"]) part(name).value = rule[name];
  part("solids").value = rule.solids ?? "";
  for (const name of NUMBERS) part(name).value = local(String(rule[name] ?? ""));
  part("save").addEventListener("click", () => save(row, rule, entry));
  part("back").hidden = !entry;
  part("back").textContent = words(isUsual ? "rules.usual_again" : "rules.delete");
  part("back").addEventListener("click", () => giveUp(rule.name));
  return row;
}

function saysOf({ off, after, wait, every, again, contact }) {
  if (off) return words("rules.off");
  const says = every !== null ? "returns" : contact ? "contact" : wait > 0 ? "once" : "at_once";
  const facts = { after: words(`rules.after.${after}`), days: words("rules.days", { count: every ?? wait }) };
  return [words(`rules.${says}`, facts), again > 0 ? words("rules.again", { count: again }) : ""].join(" ").trim();
}

async function save(row, rule, entry) {
  const part = (name) => row.querySelector(`[data-${name}]`);
  const numbers = Object.fromEntries(NUMBERS.map((name) => [name, numberIn(part(name).value, EMPTY[name])]));
  const body = {
    name: rule.name, title: part("name").value.trim() || rule.title, asks: part("asks").value, after: part("after").value,
    contact: part("contact").checked, ...numbers, solids: part("solids").value || null, off: !part("on").checked,
  };
  const changed = entry ? edited(entry, body) : newEntry("due-rule", body);
  const isRight = isSound(changed);
  part("problem").textContent = isRight ? "" : words("rules.not_right");
  if (isRight && await orShowTrouble(put(changed))) await show();
}

/** What is no number is no rule either. @param {number|null} empty what an empty field stands for */
function numberIn(text, empty) {
  return text.trim() === "" ? empty : plainNumber(text) ?? NaN;
}

/** Every entry of this name goes, or an older one would stand in its place. */
async function giveUp(name) {
  const entries = await orShowTrouble(ofKind("due-rule")) ?? [];
  const gone = entries.filter(({ body }) => body.name === name).map((entry) => edited(entry, entry.body, { deleted: true }));
  if (await orShowTrouble(put(...gone))) await show();
}

async function add() {
  const name = `${OWN_RULE}${newId().slice(0, 8)}`;
  const body = { ...OWN, name, title: null };
  if (!await orShowTrouble(put(newEntry("due-rule", body)))) return;
  await show();
  const row = list.querySelector(`[data-of="${name}"]`);
  row.open = true;
  row.querySelector("[data-name]").focus();
}
