/**
 * One purge under way: its entry, and every change of it. A change is on the disk before it counts; where the record
 * refuses it, a RecordTrouble is thrown and all is as before. Nothing here knows of the page, or of another purge.
 */

import { FIRST, LAST, standing, stateAfter } from "../../purge/machine.js";
import { drawStop } from "../../purge/margin.js";
import { whatItTold } from "../../purge/outcome.js";
import { tankAfter } from "../../tanks/after.js";
import { usualResult } from "../../usual/purges.js";
import { edited, get, inTurn, latestPurges, newEntry, put } from "../storage/record.js";
import { refreshHand, tankTexts } from "../storage/current_tank.js";
import { settings } from "../storage/settings.js";
import { textOfReading } from "./reading_texts.js";

const FROM_THE_TANK = [
  "headspace", "temperature", "air_pressure", "rated_pressure", "pressure_found", "target_pressure", "floor_pressure",
  "beer_value",
];
const GAS_SHUT = { "gas-shut": true, "gas-on": false, "keep-gas-on": false }; // what a tap says of it

/** The entry of a purge that has not begun yet. @param {object|null} tank the tank's entry */
export function freshPurge(tank) {
  const known = tank ? tankTexts(tank.body, settings().system) : {};
  const texts = { ...settings().values, ...known, target_pressure: known.hold_pressure };
  const readings = Object.fromEntries(FROM_THE_TANK.filter((name) => texts[name]).map((name) => [name, texts[name]]));
  const body = {
    tank: tank?.id ?? null, tank_name: tank?.body.name ?? "", solids: "trub", state: FIRST, open: 1, events: [],
    readings, gas_shut: null, result: {}, agree: null, notes: "", photo: null,
  };
  return { ...newEntry("purge", body), demo: tank?.demo ?? false };
}

/**
 * @param {object} purge its entry, fresh or found again
 * @param {object|null} tank the entry of its tank
 */
export function openRun(purge, tank = null) {
  let past = []; // the bodies of the tank's latest purges
  let isBusy = false; // a tap is being saved

  /** Changes in turn, each made from what the last one left, so that none undoes another. */
  function save(change) {
    return inTurn(async () => write(await settled(change(purge.body))));
  }

  async function write(body) {
    const changed = edited(purge, body);
    const ends = body.state === LAST && purge.body.state !== LAST;
    const also = ends && tank ? [edited(tank, tankAfter(tank.body, body, settings().system))] : [];
    await put(changed, ...also);
    purge = changed;
    also.forEach(refreshHand);
    return true;
  }

  /** A purge whose readings are in has its result; one that is saved is open no more. */
  async function settled(body) {
    if (body.state === LAST) {
      const { open, ...closed } = body;
      return closed;
    }
    if (body.state !== "result") return body;
    const overrun = usualResult(past, "overrun");
    const readings = { ...body.readings, ...(overrun !== null && { usual_overrun: textOfReading("usual_overrun", overrun) }) };
    const { result, agree } = await whatItTold({ ...body, readings }, settings().system);
    return { ...body, readings, result, agree };
  }

  return {
    get body() { return purge.body; },
    get demo() { return purge.demo; },
    get isBusy() { return isBusy; },
    get isBegun() { return purge.body.events.length > 0; },
    get isOver() { return purge.body.state === LAST; },
    get canUndo() { return standing(purge.body.events).length > 0 && purge.body.state !== LAST; },

    /** Reads the tank's latest purges: they tell what is usual. */
    async readPast() {
      const latest = await latestPurges(tank.id);
      past = latest.filter(({ id }) => id !== purge.id).map(({ body }) => body);
    },

    /**
     * One tap, kept with its instant: it leads on to the next state.
     *
     * @param {string} event of the table, or "undo"
     * @param {object} said with it: `texts` of readings, the `reason` of a skip, other members of the `body`
     * @returns {Promise<boolean>} false where it is not taken: another is being saved, or the draw must not begin
     */
    async tap(event, { texts = {}, reason = null, body: more = {} } = {}) {
      if (isBusy) return false;
      isBusy = true;
      const taken = { at: now(), state: purge.body.state, event, ...(reason && { data: { reason } }) };
      const gas = event in GAS_SHUT ? { gas_shut: GAS_SHUT[event] } : {};
      try {
        if (event === "fits" && await drawStop({ ...purge.body.readings, ...texts }, settings().system)) return false;
        return await save((body) => {
          const events = [...body.events, taken];
          return { ...withReadings(body, texts), ...more, ...gas, events, state: stateAfter(events) };
        });
      } finally {
        isBusy = false;
      }
    },

    /** Readings as they are typed. */
    keepReadings(texts) {
      return save((body) => withReadings(body, texts));
    },

    /** The same before the first tap, which makes the entry: nothing is written. */
    noteReadings(texts) {
      purge = { ...purge, body: withReadings(purge.body, texts) };
    },

    /** Members of the body that no step asks for: notes, a photo's id. */
    keep(members) {
      return save((body) => ({ ...body, ...members }));
    },

    /** The moment at which the hand went to the emergency cards. */
    keepTrouble() {
      const taken = { at: now(), state: purge.body.state, event: "trouble" };
      return save((body) => ({ ...body, events: [...body.events, taken] }));
    },

    /** It stays in the record as it is, and is not offered again: that it is not `open` says that it was left. */
    leave() {
      return inTurn(() => {
        const { open, ...body } = purge.body;
        return write(body);
      });
    },

    /** Whether another window did something meanwhile; it is known here now. */
    async lookAgain() {
      const stored = await inTurn(() => get(purge.id));
      if (!stored || stored.edited === purge.edited) return false;
      purge = stored;
      return true;
    },

    /** What to expect of the draw, m3; null where nothing is known. */
    usualDraw() {
      return usualResult(past, "volume_lost");
    },
  };
}

function withReadings(body, texts) {
  return { ...body, readings: { ...body.readings, ...texts } };
}

function now() {
  return new Date().toISOString();
}
