/** What happens to a batch now: one tap each; what has an amount, a beer or a tank opens one small form. */

import { events as kinds } from "../../batches/declared.js";
import { words } from "../../wording/words.js";
import { byName } from "../parts/by_name.js";
import { element } from "../parts/figures.js";
import { orShowTrouble } from "../parts/trouble.js";
import { batchIn, filled, happened, moved } from "../storage/batches.js";
import { ofKind } from "../storage/record.js";
import { fieldIn, openFields } from "./batch_fields.js";

/** In the order of a batch's life, each with the events after which it makes no sense any more. */
const OFFERED = {
  fermenting: ["fermenting", "finished", "cooled"], finished: ["finished", "cooled"], cooled: ["cooled"], harvested: [],
  "dry-hopped": [], "fruit-in": [], taken: [], "moved-out": [], filled: [], emptied: [],
};

/**
 * @param {HTMLElement} view @param {(act: any, what: string) => Promise<void>} save
 * @returns {(tank: any, found: any) => void} shows what makes sense for the batch as it stands
 */
export function openQuick(view, save) {
  const quick = view.querySelector("[data-quick]");
  const form = view.querySelector("[data-event-form]");
  const ask = form.querySelector("[data-ask]");
  const part = (name) => form.querySelector(`[data-${name}]`);
  const [beer, to] = ["beer", "to"].map((name) => fieldIn(form, name));
  const fields = openFields(form);
  let tank = null;
  let found = null;
  let others = new Map(); // the tanks that a batch may move to, by their ids
  let open = null; // the event whose form is open
  let isBusy = false;

  form.addEventListener("submit", (event) => { event.preventDefault(); inPeace(submit); });
  part("leave").addEventListener("click", () => { close(); quick.querySelector("button:enabled").focus(); });
  part("no").addEventListener("click", () => showAsk(null));
  return show;

  function show(latestTank, latest) {
    [tank, found] = [latestTank, latest];
    const isIn = found.life.batch !== null;
    const { happened: had } = quick.contains(document.activeElement) ? document.activeElement.dataset : {};
    quick.hidden = !isIn;
    quick.replaceChildren(...(isIn ? Object.keys(OFFERED).map(button) : []));
    close();
    if (!isIn) askFor("filled");
    else if (had) (quick.querySelector(`[data-happened="${had}"]:enabled`) ?? quick.querySelector("button:enabled")).focus({ preventScroll: true });
  }

  /** One that is over keeps its place, so that no other button comes under the finger. */
  function button(name) {
    const past = new Set(found.story.map(({ body }) => body.event));
    const isOver = OFFERED[name].some((each) => past.has(each));
    const made = element("button", {
      type: "button",
      className: "plain",
      disabled: isOver,
      textContent: words(`batch.quick.${name}`) + (isOver && past.has(name) ? " ✓" : ""),
    });
    made.dataset.happened = name;
    const needsForm = kinds[name].amount !== null;
    made.addEventListener("click", () => inPeace(() => (needsForm ? askFor(name, true) : note(name, {}))));
    return made;
  }

  async function askFor(name, isTapped = false) {
    open = name;
    part("form-title").textContent = found.life.batch === null ? "" : words(`batch.quick.${name}`);
    part("form-title").hidden = found.life.batch === null;
    part("leave").hidden = found.life.batch === null;
    part("save").textContent = name === "filled" ? words("batch.filled_now") : words("batch.save_now", { what: words(`batch.events.${name}`) });
    beer.box.hidden = name !== "filled";
    beer.input.value = found.life.batch === null ? "" : beerOf(found);
    beer.tell("");
    to.box.hidden = name !== "moved-out";
    to.tell("");
    fields.show(name);
    showAsk(null);
    if (name === "moved-out") await offerTanks();
    form.hidden = false;
    if (!isTapped) return;
    form.scrollIntoView({ block: "center" });
    (name === "moved-out" ? to.input : fields.first()).focus({ preventScroll: true });
  }

  async function offerTanks() {
    const tanks = byName(await orShowTrouble(ofKind("tank")) ?? []).filter(({ id }) => id !== tank.id);
    others = new Map(tanks.map((each) => [each.id, each]));
    to.input.replaceChildren(new Option("", ""), ...tanks.map(({ id, body }) => new Option(body.name, id)));
  }

  async function submit() {
    const typed = fields.read();
    if (typed === null) return;
    if (open === "filled") await fill(typed);
    else if (open === "moved-out") await move(typed);
    else await note(open, typed);
  }

  function note(name, typed) {
    return save(happened(tank, found.life.batch, name, typed), words(`batch.events.${name}`));
  }

  async function fill({ amount }) {
    if (!beer.tell(beer.text ? "" : words("batch.no_beer_name"))) return;
    const what = words("batch.events.filled");
    const isSame = found.life.batch !== null && beer.text.toLowerCase() === beerOf(found).toLowerCase();
    if (found.life.batch === null) await save(filled(tank, { beer: beer.text, batch: null, amount }), what);
    else if (isSame) await save(filled(tank, { beer: beer.text, batch: found.life.batch, amount }), what);
    else askWhatBecame(tank, found, beer.text, (known) => save(filled(tank, { beer: beer.text, batch: null, amount, ...known }), what));
  }

  async function move({ amount }) {
    const other = others.get(to.text);
    if (!to.tell(other ? "" : words("batch.no_tank"))) return;
    const theirs = await orShowTrouble(batchIn(other));
    if (!theirs) return;
    const { batch } = found.life;
    const go = (known) => save(moved(tank, other, batch, { amount, ...known }), words("drawing.batch.moved-in", { tank: other.body.name }));
    if (theirs.life.batch === null || theirs.life.batch === batch) await go({ isMore: theirs.life.batch !== null });
    else askWhatBecame(other, theirs, beerOf(found), go);
  }

  /** A tank that holds another batch: was that let out before, or is the new one on top of it? Nothing is noted unasked. */
  function askWhatBecame(where, held, name, go) {
    const facts = { tank: where.body.name, held: beerOf(held), beer: name };
    const known = { held, beerLeft: held.beer };
    part("out").textContent = words("batch.is_out", facts);
    part("on-top").textContent = words("batch.on_top", facts);
    part("out").onclick = () => inPeace(() => go({ ...known, isOut: true }));
    part("on-top").onclick = () => inPeace(() => go(known));
    ask.querySelector("[data-says]").textContent = words("batch.holds", facts);
    showAsk(ask);
    ask.scrollIntoView({ block: "center" });
  }

  function showAsk(asked) {
    ask.hidden = asked === null;
    part("save-row").hidden = asked !== null;
  }

  function close() {
    open = null;
    form.hidden = true;
  }

  /** One tap is one change: the next counts once what this one began is over. */
  async function inPeace(work) {
    if (isBusy) return;
    isBusy = true;
    try {
      await work();
    } finally {
      isBusy = false;
    }
  }
}

/** The name of the beer of what a tank holds. */
export function beerOf({ batch }) {
  return batch?.body.beer ?? words("batch.no_name");
}
