/** Why the tank is out of use, taking it out by hand, and putting it back by name. Each change is saved at once. */

import { openHolds } from "../../tanks/hold.js";
import { words } from "../../wording/words.js";
import { written } from "../parts/dates.js";
import { element } from "../parts/figures.js";
import { orShowTrouble } from "../parts/trouble.js";
import { holdsOfTank, newHold } from "../storage/holds.js";
import { edited, put } from "../storage/record.js";
import { settings } from "../storage/settings.js";

const NEEDS_NOTE = "other"; // the reason that says nothing by itself

/** @param {HTMLElement} page @param {object} tank its entry */
export async function openTankHolds(page, tank) {
  const made = page.querySelector("[data-hold-made]").content.firstElementChild;
  const takeOut = page.querySelector("[data-take-out]");
  const [why, note, by, problem] = ["why", "note", "by", "problem"].map((name) => takeOut.querySelector(`[data-${name}]`));
  by.value = settings().initials;
  takeOut.hidden = false;
  takeOut.querySelector("[data-hold]").addEventListener("click", ({ target }) => inPeace(target, hold));
  await show();

  async function show() {
    const all = await orShowTrouble(holdsOfTank(tank.id)) ?? [];
    const open = openHolds(all, tank.id);
    const past = all.filter((each) => !open.includes(each));
    page.querySelector("[data-held]").hidden = open.length === 0;
    page.querySelector("[data-holds]").replaceChildren(...open.map(shown));
    page.querySelector("[data-past-holds]").hidden = past.length === 0;
    page.querySelector("[data-past]").replaceChildren(...past.map(shownPast));
  }

  function shown(entry) {
    const box = document.importNode(made, true);
    const part = (name) => box.querySelector(`[data-${name}]`);
    part("reason").textContent = words(`purge.held.${entry.body.why}`);
    part("note").textContent = entry.body.note;
    part("note").hidden = !entry.body.note;
    part("when").textContent = sinceWhen(entry);
    part("purge").hidden = entry.body.purge === null;
    part("purge").hash = new URLSearchParams({ id: entry.body.purge ?? "" }).toString();
    part("lift").addEventListener("click", ({ target }) => inPeace(target, () => lift(entry, box)));
    return box;
  }

  async function hold() {
    const lacks = why.value === "" ? why : why.value === NEEDS_NOTE && !note.value.trim() ? note : null;
    problem.textContent = lacks ? words(lacks === why ? "tank.hold.no_reason" : "tank.hold.no_note") : "";
    lacks?.focus();
    if (lacks) return;
    const said = { why: why.value, note: note.value.trim(), by: by.value.trim() || null };
    if (!await orShowTrouble(put(newHold(tank, said)))) return;
    Object.assign(why, { value: "" });
    Object.assign(note, { value: "" });
    takeOut.open = false;
    await show();
    tell("tank.hold.held");
  }

  async function lift(entry, box) {
    const fields = ["lifted-by", "lifted-why"].map((name) => box.querySelector(`[data-${name}]`));
    const empty = fields.find((field) => !field.value.trim());
    box.querySelector("[data-problem]").textContent = empty ? words("tank.hold.by_name") : "";
    empty?.focus();
    if (empty) return;
    const [liftedBy, liftedWhy] = fields.map((field) => field.value.trim());
    const lifted = { lifted: new Date().toISOString(), lifted_by: liftedBy, lifted_why: liftedWhy };
    if (!await orShowTrouble(put(edited(entry, { ...entry.body, ...lifted })))) return;
    await show();
    tell(page.querySelector("[data-held]").hidden ? "tank.hold.back" : "tank.hold.still_held");
  }

  function tell(key) {
    const told = page.querySelector("[data-told]");
    told.textContent = words(key, { name: tank.body.name });
    told.hidden = false;
    told.scrollIntoView({ block: "center" });
  }
}

function sinceWhen({ created, body: { by } }) {
  const when = written(created);
  return by ? words("tank.hold.since_by", { when, by }) : words("tank.hold.since", { when });
}

function shownPast({ created, body }) {
  const facts = {
    why: words(`purge.held.${body.why}`), from: written(created), to: written(body.lifted),
    by: body.lifted_by ?? words("tank.hold.nobody"), reason: body.lifted_why ?? words("tank.hold.undone"),
  };
  return element("li", { textContent: words("tank.hold.past", facts) });
}

/** One tap is one change: the button rests until what it began is over. */
async function inPeace(button, work) {
  if (button.disabled) return;
  button.disabled = true;
  try {
    await work();
  } finally {
    button.disabled = false;
  }
}
