/** A batch's life: the picture, and behind it a table in which the time and the amount of each event can be mended. */

import { events as kinds } from "../../batches/declared.js";
import { words } from "../../wording/words.js";
import { drawBatchLine } from "../drawing/batch_line.js";
import { written } from "../parts/dates.js";
import { amountText, element } from "../parts/figures.js";
import { orShowTrouble } from "../parts/trouble.js";
import { LOST_KIND } from "../parts/purge_line.js";
import { mend, takeOut } from "../storage/batches.js";
import { fieldIn, openFields } from "./batch_fields.js";
import { beerOf } from "./batch_quick.js";

/**
 * @param {HTMLElement} view
 * @param {{mended: (what: string) => Promise<void>, deleted: (act: any, what: string) => Promise<void>}} ways what follows
 * @returns {(found: any) => void} shows a batch's life
 */
export function openStory(view, ways) {
  const life = view.querySelector("[data-life]");
  const form = view.querySelector("[data-mend]");
  const [at, problem] = ["#mend-at", "#mend-at-problem"].map((each) => form.querySelector(each));
  const fields = openFields(form);
  const beer = fieldIn(form, "beer");
  let event = null; // that is mended
  let batch = null; // its entry, where that is mended too

  form.addEventListener("submit", (submitted) => { submitted.preventDefault(); save(); });
  form.querySelector("[data-leave]").addEventListener("click", () => { form.hidden = true; });
  form.querySelector("[data-drop]").addEventListener("click", remove);

  return (found) => {
    form.hidden = true;
    life.hidden = found.story.length === 0;
    if (life.hidden) return;
    const told = toldOf(found);
    const now = { what: "end", at: new Date().toISOString(), says: words("batch.now"), moves: false };
    const marks = isOver(found) ? [...told.slice(0, -1), { ...told.at(-1), what: "end" }] : [...told, now];
    life.querySelector("[data-life-title]").textContent = words("batch.life", { beer: beerOf(found) });
    drawBatchLine(life.querySelector("[data-line]"), marks.map((mark) => ({ ...mark, day: written(mark.at, "shortDay") })), beerOf(found));
    life.querySelector("tbody").replaceChildren(...told.map((each) => row(each, found.batch)));
  };

  function row({ at: when, says, amount, entry, what }, of) {
    const cell = (textContent) => element("td", { textContent });
    return element("tr", {}, element("th", { scope: "row", textContent: written(when, "shortDayAndTime") }), cell(says), cell(amount),
      element("td", {}, what === "purge" ? linkTo(entry) : mender(entry, says, of)));
  }

  function linkTo({ id, created }) {
    const link = element("a", { className: "button plain", textContent: "›", href: `../../record/entry/#${new URLSearchParams({ id })}` });
    link.setAttribute("aria-label", words("batch.see", { when: written(created) }));
    return link;
  }

  function mender(entry, what, of) {
    const button = element("button", { type: "button", className: "plain", textContent: "✎" });
    button.setAttribute("aria-label", words("batch.mend", { what, when: written(entry.body.at) }));
    button.addEventListener("click", () => open(entry, what, of));
    return button;
  }

  function open(entry, what, of) {
    event = entry;
    batch = entry.body.event === "filled" ? of : null;
    beer.box.hidden = batch === null;
    beer.input.value = batch?.body.beer ?? "";
    beer.tell("");
    form.querySelector("[data-form-title]").textContent = words("batch.mend", { what, when: written(entry.body.at) });
    at.value = asTyped(entry.body.at);
    problem.textContent = "";
    fields.show(entry.body.event, entry.body);
    form.hidden = false;
    form.scrollIntoView({ block: "center" });
    at.focus({ preventScroll: true });
  }

  async function save() {
    const typed = fields.read();
    const isSame = at.value === asTyped(event.body.at); // to the minute: the seconds stay
    const moment = isSame ? Date.parse(event.body.at) : Date.parse(at.value);
    problem.textContent = isSame || moment <= Date.now() ? "" : words("batch.no_time");
    if (typed === null || problem.textContent) return;
    if (!beer.tell(batch === null || beer.text ? "" : words("batch.no_beer_name"))) return;
    const changes = { at: new Date(moment).toISOString(), ...typed };
    if (!await orShowTrouble(mend(event, changes, batch, beer.text))) return;
    await ways.mended(eventWords(event));
  }

  async function remove() {
    const act = await orShowTrouble(takeOut(event));
    if (act) await ways.deleted(act, eventWords(event));
  }
}

function eventWords({ body }) {
  return words(`batch.events.${body.event}`);
}

/** What happened and the purges, in the order of time. Of the two events of a move, the picture and the table tell one. */
function toldOf({ story, purges }) {
  const isMoveIn = ({ body }) => body.event === "moved-in" && story.some((out) => out.body.event === "moved-out" && out.body.at === body.at);
  const shown = story.filter((event) => !(event.body.event === "moved-out" && story.some((into) => isMoveIn(into) && into.body.at === event.body.at)));
  const first = shown.find(({ body }) => kinds[body.event].fills);
  return [
    ...shown.map((entry) => ({
      what: "event", at: entry.body.at, entry, says: said(entry, entry === first), amount: amountOf(entry.body),
      moves: entry !== first && isMoveIn(entry),
    })),
    ...purges.map((entry) => ({
      what: "purge", at: entry.created, entry, says: words("batch.purge", { solids: words(`purge.solids.${entry.body.solids}`) }),
      amount: entry.body.result.volume_lost ? amountText(entry.body.result.volume_lost, LOST_KIND).text : "", moves: false,
    })),
  ].sort((a, b) => (a.at < b.at ? -1 : 1));
}

function said({ body }, isFirst) {
  const isInto = body.event === "moved-in" || (body.event === "filled" && isFirst);
  const what = isInto ? words(`drawing.batch.${body.event}`, { tank: body.tank_name }) : words(`batch.events.${body.event}`);
  return body.note ? `${what} (${body.note})` : what;
}

function amountOf({ amount, days }) {
  return [amount, days === null ? null : words("batch.days", { count: days })].filter(Boolean).join(", ");
}

/** Whether the batch is in no tank any more: a move empties one and fills another at the same instant. */
function isOver({ story }) {
  const turns = story.filter(({ body }) => kinds[body.event].fills || kinds[body.event].empties);
  const last = turns.filter(({ body }) => body.at === turns.at(-1).body.at);
  return turns.length > 0 && !last.some(({ body }) => kinds[body.event].fills);
}

/** An instant as the field for day and time has it, on this phone's clock. */
function asTyped(instant) {
  const at = new Date(instant);
  return new Date(at.getTime() - at.getTimezoneOffset() * 60_000).toISOString().slice(0, 16);
}
