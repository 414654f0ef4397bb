/**
 * One purge under way: its entry, and every change of it. A change is on the disk before it counts; where the record
 * refuses it, a RecordTrouble is thrown and all is as before. Nothing here knows of the page, or of another purge.
 */

import { FIRST, GAS_FIRST, grownOld, LAST, LATEST, standing, tables } from "../../purge/machine.js";
import { typical } from "../../purge/declared.js";
import { expectedLoss } from "../../usual/expected.js";
import { usualResult } from "../../usual/purges.js";
import { edited, inTurn, newEntry } from "../storage/record.js";
import { tankTexts } from "../storage/current_tank.js";
import { settings } from "../storage/settings.js";
import { changedHolds } from "./holds.js";
import { PREFILLED } from "../parts/fields.js";
import { stillHolding, textOfReading, toldBy } from "./reading_texts.js";
import { theRecord } from "./keeper.js";
import { isRefused } from "./refusals.js";
import { replays, savedOnScreen, stateWith, toldAtOnce } from "./replay.js";
import { tankChanged } from "./tank_changes.js";

const FROM_THE_TANK = [
  "headspace", "air_pressure", "rated_pressure", "target_pressure", "floor_pressure", "beer_value",
];
const GAS_SHUT = { "gas-shut": true, "gas-on": false, "keep-gas-on": false }; // what a tap says of it

/** The entry of a purge that has not begun yet. @param {object|null} tank the tank's entry */
export function freshPurge(tank) {
  const known = tank ? tankTexts(tank.body, settings().system) : {};
  const shown = tank ? tankTexts(tank.body, settings().system, PREFILLED) : {};
  const texts = { ...settings().values, ...known, headspace: shown.headspace, target_pressure: shown.hold_pressure };
  const readings = Object.fromEntries(FROM_THE_TANK.filter((name) => texts[name]).map((name) => [name, texts[name]]));
  const body = {
    tank: tank?.id ?? null, tank_name: tank?.body.name ?? "", solids: "trub",
    table: settings().gas_first ? GAS_FIRST : LATEST, initials: null, state: FIRST, open: 1, events: [],
    readings, gas_shut: null, result: {}, agree: null, notes: "", photo: null,
  };
  return { ...newEntry("purge", body), demo: tank?.demo ?? false };
}

/**
 * @param {object} purge its entry, fresh or found again
 * @param {object|null} tank the entry of its tank @param {import("./keeper.js").Keeper} keeper where it is kept
 */
export function openRun(purge, tank = null, keeper = theRecord) {
  const now = () => new Date(keeper.now()).toISOString();
  let past = []; // the bodies of the tank's latest purges
  let isPastRead = false;
  let holds = []; // what else keeps the tank out of use
  let isBusy = false; // a tap is being saved
  let isUsualSaid = false; // the hand has said that the usual stack is what hangs there

  /** Changes in turn, each made from what the last one left, so that none undoes another. */
  function save(change) {
    return inTurn(async () => write(await settled(change(purge.body))));
  }

  async function write(body) {
    const changed = edited(purge, body);
    const held = tank && replays(body) ? await changedHolds(purge, body, tank, keeper) : [];
    const changedTank = tankChanged(tank, purge.body, body);
    const isFirst = tank !== null && !purge.body.events.length;
    await (isFirst ? keeper.begin : keeper.put)(changed, ...held, ...(changedTank ? [changedTank] : []));
    purge = changed;
    if (changedTank) {
      tank = changedTank;
      keeper.tankChanged(tank);
    }
    return true;
  }

  /** A purge whose readings are in has its result; one that is saved is open no more. */
  async function settled(body) {
    const came = body.events.slice(purge.body.events.length);
    if (body.state === LAST) {
      const { open, ...closed } = body;
      return closed;
    }
    if (body.state !== "result" && !came.some(({ event }) => event === "read")) return body;
    const overrun = usualResult(past, "overrun");
    const readings = { ...body.readings, ...(overrun !== null && { usual_overrun: textOfReading("usual_overrun", overrun) }) };
    const { result, agree } = await toldBy({ ...body, readings });
    return { ...body, readings, result, agree };
  }

  /** Adds events of one instant, and what goes with them, in one write. */
  function add(told, more = {}) {
    const at = now();
    return save((body) => {
      let { state } = body;
      const events = [...body.events];
      for (const { event, data = {} } of told) {
        const taken = { at, state, event, ...(Object.keys(data).length > 0 && { data }) };
        state = stateWith({ ...body, events, state }, taken);
        events.push(taken);
      }
      const read = { ...body.readings, ...more.readings };
      const isArriving = state !== body.state && told.at(-1).event !== "undo";
      const readings = isArriving ? stillHolding(read, savedOnScreen({ ...body, events, state })) : read;
      return { ...body, ...more, events, readings, state };
    });
  }

  /** A card may have been opened from another page than this purge's. */
  function isOld(hand) {
    const { events, table, state } = purge.body;
    const isCardOpened = tables[table][state].again && events.length && events.at(-1).at < (keeper.cardOpened() ?? "");
    return isCardOpened || (replays(purge.body) && grownOld(events, now(), hand, table));
  }

  /** What the tank is now, and what else keeps it out of use; whether that is new here. */
  async function lookAtTank() {
    if (!tank) return false;
    const before = [tank.edited, ...holds.map(({ id }) => id)].join();
    tank = await inTurn(() => keeper.get(tank.id, "tank")) ?? tank;
    holds = (await keeper.openHoldsOf(tank.id)).filter(({ body }) => body.purge !== purge.id);
    return before !== [tank.edited, ...holds.map(({ id }) => id)].join();
  }

  return {
    keeper,
    get id() { return purge.id; },
    get body() { return purge.body; },
    get demo() { return purge.demo; },
    get tank() { return tank; },
    get step() { return tables[purge.body.table][purge.body.state]; },
    get isBusy() { return isBusy; },
    get isBegun() { return purge.body.events.length > 0; },
    get isOver() { return purge.body.state === LAST; },
    get canUndo() {
      const { events, state } = purge.body;
      return replays(purge.body) && standing(events).length > 0 && state !== LAST && events.at(-1).event !== "aged";
    },
    /** What is known of the tank, as texts, and what flowed from it when that was measured last. */
    get known() { return tank ? tankTexts(tank.body, settings().system) : {}; },
    get lastFlow() { return past.find(({ readings }) => readings.flow)?.readings.flow; },
    /** The bodies of its latest purges, null until they are read. */
    get past() { return isPastRead ? past : null; },
    /** The body of the tank's last finished purge, which tells what was done there; nothing where there is none. */
    get lastPurge() { return past.find(({ state }) => state === LAST); },
    /** What hangs under the tank, else what usually hangs under one: then `isStackKnown` is false until it is said. */
    get stack() { return tank?.body.stack ?? typical.usual; },
    get isStackKnown() { return isUsualSaid || Boolean(tank?.body.stack); },
    /** Why the tank is out of use, but for what this purge itself found. */
    get holds() { return holds; },

    /** Reads the tank's latest purges, which tell what is usual, and its holds. */
    async readPast() {
      const latest = tank ? await keeper.latestPurges(tank.id) : [];
      past = latest.filter(({ id }) => id !== purge.id).map(({ body }) => body);
      isPastRead = true;
      await lookAtTank();
    },

    /**
     * One tap, kept with its instant: it leads on to the next state.
     *
     * @param {string} event of the table, or "undo", which takes back all that one tap saved
     * @param {object} said with it: `texts` of readings, `data` of the event, other members of the `body`; `first`: what
     *   the same tap tells before it, {event, data}, in the order of the table
     * @returns {Promise<boolean>} false where it is not taken: another is being saved, the step has grown old, or what
     *   it says must not be done now
     */
    async tap(event, { texts = {}, data = {}, body: more = {}, first = [] } = {}) {
      if (isBusy) return false;
      isBusy = true;
      const told = event === "undo" ? toldAtOnce(purge.body.events).map(() => ({ event })) : [...first, { event, data }];
      const gas = told.findLast(({ event: each }) => each in GAS_SHUT);
      try {
        if (await isRefused(purge, tank, told, texts, keeper)) return false;
        return await add(told, { ...more, ...(gas && { gas_shut: GAS_SHUT[gas.event] }), readings: texts });
      } finally {
        isBusy = false;
      }
    },

    /** Whether the check at this step has grown old by now, or another hand is here; then it begins again. */
    async lookAtAge(hand) {
      if (isBusy || !isOld(hand || null)) return false;
      isBusy = true;
      try {
        return await add([{ event: "aged", data: hand ? { by: hand } : {} }]);
      } finally {
        isBusy = false;
      }
    },

    /** Another hand has taken over where nothing grows old: it stands in the purge from here on. */
    takeOver(hand) {
      return add([{ event: "hand", data: { by: hand } }]);
    },

    /** The usual stack is what hangs there; the tank remembers it. */
    async sayStackIsUsual() {
      if (tank) {
        const changed = edited(tank, { ...tank.body, stack: typical.usual });
        await keeper.put(changed);
        tank = changed;
      }
      isUsualSaid = true;
      return true;
    },

    /** Readings as they are typed; whether they are on the disk, where the first tap makes the entry. */
    async keepReadings(texts) {
      const read = (body) => ({ ...body, readings: { ...body.readings, ...texts } });
      if (purge.body.events.length) return save(read);
      purge = { ...purge, body: read(purge.body) };
      return false;
    },

    /** Members of the body that no step asks for: notes, a photo's id. */
    keep(members) {
      return save((body) => ({ ...body, ...members }));
    },

    /** The moment at which the hand went to the emergency cards. */
    keepTrouble() {
      return add([{ event: "trouble" }]);
    },

    /** It stays in the record as it is, and is not offered again. */
    leave() {
      return inTurn(() => {
        const { open, ...body } = purge.body;
        return write(body);
      });
    },

    /** Whether another page or window did something meanwhile; it is known here now. */
    async lookAgain() {
      const isOther = await lookAtTank();
      const stored = await inTurn(() => keeper.get(purge.id, "purge"));
      if (!stored || stored.edited === purge.edited) return isOther;
      purge = stored;
      return true;
    },

    /** What usually leaves this tank, of such solids where enough is known, m3; null where nothing is. */
    usualDraw() {
      return expectedLoss(past, purge.body.solids)?.value ?? null;
    },
  };
}
