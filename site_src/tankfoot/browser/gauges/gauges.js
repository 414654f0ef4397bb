/** The walk along the gauges: tank after tank in walking order, the list of what was read, the order itself. */

import { openHolds } from "../../tanks/hold.js";
import { words } from "../../wording/words.js";
import { inAddress } from "../parts/address.js";
import { byName } from "../parts/by_name.js";
import { orShowTrouble } from "../parts/trouble.js";
import { ofKind, unliftedHolds } from "../storage/record.js";
import { walkingOrder } from "../storage/walking.js";
import { answerTo, readText } from "./answer.js";
import { showOrder } from "./order.js";
import { readingNow } from "./reading.js";
import { openWalk } from "./walk.js";

const page = document.querySelector("[data-gauges]");
const part = (name) => page.querySelector(`[data-${name}]`);
const DANGER = { plate: "above_plate", zero: "below_zero" };

let tanks = []; // entries in walking order
let holds = [];
let place = 0;
const readings = new Map(); // by tank, its reading in this walk, null where there is none

const showTank = openWalk(part("walk"), { kept, showList, goOn: () => goTo(place + 1), goBack: () => goTo(place - 1) });
part("again").addEventListener("click", () => { readings.clear(); goTo(0); });
part("to-order").addEventListener("click", () => { only("order"); showOrder(part("order"), tanks, (order) => { tanks = order; }); });
part("order-done").addEventListener("click", showList);
addEventListener("pageshow", ({ persisted }) => { if (persisted) location.reload(); });
await orShowTrouble(begin());
page.dataset.ready = "true";

/** At the tank that the address names, else at the first that nobody has read yet. */
async function begin() {
  const [found, all] = await Promise.all([ofKind("tank"), unliftedHolds()]);
  holds = all;
  tanks = await walkingOrder(byName(found));
  for (const { id } of tanks) readings.set(id, await readingNow(id));
  if (!tanks.length) return only("none");
  const asked = tanks.findIndex(({ id }) => id === inAddress().get("tank"));
  const unread = tanks.findIndex(({ id }) => readings.get(id) === null);
  return goTo(asked >= 0 ? asked : unread >= 0 ? unread : tanks.length);
}

function only(shown) {
  for (const name of ["none", "walk", "list", "order"]) part(name).hidden = name !== shown;
}

function kept(tank, reading) {
  tanks = tanks.map((each) => (each.id === tank.id ? tank : each));
  readings.set(tank.id, reading);
}

function goTo(next) {
  if (next >= tanks.length) return showList();
  place = Math.max(0, next);
  only("walk");
  const tank = tanks[place];
  const reading = readings.get(tank.id) ?? null;
  scrollTo(0, 0);
  return showTank({ tank, reading, holds: openHolds(holds, tank.id), place: place + 1, count: tanks.length });
}

async function showList() {
  only("list");
  scrollTo(0, 0);
  const read = tanks.filter(({ id }) => readings.get(id)).length;
  part("progress").textContent = words("gauges.progress", { read, count: tanks.length });
  part("again").hidden = read === 0;
  const answers = await orShowTrouble(Promise.all(tanks.map((tank) => {
    const reading = readings.get(tank.id);
    return reading ? answerTo(tank, reading.body) : null;
  }))) ?? [];
  part("rows").replaceChildren(...tanks.map((tank, at) => rowOf(tank, answers[at] ?? null, at)));
}

/** One tank of the list: what was read, and what a hand still has to do about it. */
function rowOf(tank, answer, at) {
  const row = document.importNode(part("row").content, true).firstElementChild;
  const reading = readings.get(tank.id);
  row.querySelector("strong").textContent = tank.body.name;
  const todo = ["top-up", "faster", "under-floor", "to-floor"];
  const says = (answer?.says ?? []).filter(({ about }) => todo.includes(about)).map(({ text }) => text);
  const danger = answer?.danger ? [words(`gauges.${DANGER[answer.danger]}`)] : [];
  row.querySelector("span").textContent = reading
    ? [...danger, `${readText(reading.body)}.`, ...says].join(" ")
    : words("gauges.not_read");
  row.toggleAttribute("data-danger", danger.length > 0);
  row.querySelector("button").addEventListener("click", () => goTo(at));
  return row;
}
