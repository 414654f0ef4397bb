/**
 * One rehearsal: its simulated tank as it stands, the purge that is walked on it, and the places to go back to. It is
 * plain JSON as it is kept, and nothing here knows of the page.
 */

import { typical } from "../../purge/declared.js";
import { LAST } from "../../purge/machine.js";
import { act } from "../../rehearsal/acts.js";
import { scenarios } from "../../rehearsal/declared.js";
import { STEPS_A_SECOND, timeOf } from "../../rehearsal/events.js";
import { begin, step } from "../../rehearsal/model.js";
import { ownTank } from "../../rehearsal/setup.js";
import { freshPurge } from "../purge/run.js";
import { airPressure } from "../storage/current_tank.js";
import { newEntry } from "../storage/record.js";
import { keepRehearsal } from "../storage/rehearsal.js";

const SCRIPTS_OPEN_AT = 8; // s: in the scripts the flow valve opens then, and what comes between counts from there
const EVERY = 3 * STEPS_A_SECOND; // between two places to go back to while it flows
const MOST = 40; // places
const [REACT, SAVE_EVERY] = [3, 2 * STEPS_A_SECOND]; // s before what leads to a mistake; steps
// What a mistake grew from, where that was another moment than its own.
const GREW_FROM = {
  "closed-late": "colour-turned", "left-behind": "cored", "tank-empty": "jet", "burst": "plug", "stayed": "alarm",
  "trapped-climbs": "flowing", "sucked-back": "flowing", "unwatched": "phone",
};

/**
 * @param {string} name of the scenario @param {string} title of its tank @param {object|null} own the site's tank in hand
 * @param {string} capWay how a cap is let down there
 */
export function freshRehearsal(name, title, own, capWay) {
  const declared = scenarios[name];
  const scenario = (declared.own_tank && own && ownTank(declared, own.body, airPressure())) || declared;
  const stack = (scenario !== declared && own.body.stack) || typical.usual;
  const tank = newEntry("tank", { ...scenario.tank, name: title, cap_way: capWay, stack });
  const purge = freshPurge(tank);
  const state = begin(scenario, purge.id);
  const later = state.setup.happens;
  return {
    scenario: name, begun: Date.now(), later, state: { ...state, setup: { ...state.setup, happens: [] } },
    entries: [tank, { ...purge, body: { ...purge.body, solids: scenario.solids.kind } }], places: [], mistakes: [], isOver: false,
  };
}

/** @param {object} kept a rehearsal as it was kept, or a fresh one */
export function openCourse(kept) {
  let { state, later, entries, places, isOver } = kept;
  let saved = state.steps; // the step that was kept last
  let writing = Promise.resolve(true);

  function whole() {
    return { ...kept, state, later, entries, places, isOver };
  }

  /** Writes follow each other, so that what was kept last is what stands. */
  function save() {
    saved = state.steps;
    const now = whole();
    writing = writing.then(() => keepRehearsal(now), () => keepRehearsal(now));
    return writing;
  }

  function markPlace() {
    const there = { state, later, entries };
    places = [...places.filter((each) => each.state.steps < state.steps), there].slice(-MOST);
  }

  /** What comes between comes once it runs: a hand takes longer to get there than a script. */
  function letCome() {
    const now = timeOf(state);
    const happens = later.map((each) => ({ ...each, at: now + Math.max(1, each.at - SCRIPTS_OPEN_AT) }));
    state = { ...state, setup: { ...state.setup, happens } };
    later = [];
  }

  function stepOnce() {
    state = step(state);
    if (later.length && state.on.flowing) letCome();
    if (state.steps % EVERY === 0 && state.flow > 0) markPlace();
  }

  return {
    scenario: kept.scenario,
    get state() { return state; },
    get isOver() { return isOver; },
    get mistakes() { return kept.mistakes; },
    get tank() { return entries.find(({ kind }) => kind === "tank"); },
    get purge() { return entries.find(({ kind }) => kind === "purge"); },
    get isSaved() { return this.purge.body.state === LAST; },
    save,

    /** @param {number} steps that time has come to */
    pass(steps) {
      for (let each = 0; each < steps && !isOver; each += 1) stepOnce();
      if (state.steps - saved >= SAVE_EVERY) save();
    },

    /** What a hand does: what there was before it is a place to go back to. */
    act(row) {
      markPlace();
      state = act(state, row);
      return save();
    },

    end() {
      isOver = true;
      return save();
    },

    /** Back to before a mistake; resolves once that is kept. @param {{t: number, happened: string}} mistake */
    goBack(mistake) {
      const cause = state.happened.findLast(({ happened, t }) => happened === GREW_FROM[mistake.happened] && t <= mistake.t);
      const before = cause ? cause.t - REACT : mistake.t;
      const place = places.findLast((each) => timeOf(each.state) < before) ?? places[0];
      const { happened: chosen, t } = mistake;
      kept = { ...kept, mistakes: [...kept.mistakes, { chosen, at: new Date(kept.begun + t * 1000).toISOString() }] };
      ({ state, later, entries } = place);
      isOver = false;
      places = places.slice(0, places.indexOf(place));
      return save();
    },

    /** Where the run of the rehearsal's purge is kept: here, and nowhere in the record. */
    keeper: {
      isRehearsal: true,
      now: () => kept.begun + (state.steps * 1000) / STEPS_A_SECOND,
      begin: keepEntries,
      put: keepEntries,
      get: async (id, kind = null) => entries.find((each) => each.id === id && [null, each.kind].includes(kind)) ?? null,
      latestPurges: async () => [],
      unfinishedPurges: async () => [],
      openHoldsOf: async (tank) => entries.filter(({ kind, body }) => kind === "tank-hold" && body.tank === tank && !body.lifted),
      cardOpened: () => null,
      tankChanged() {},
    },
  };

  function keepEntries(...changed) {
    markPlace();
    const ids = changed.map(({ id }) => id);
    entries = [...entries.filter(({ id }) => !ids.includes(id)), ...changed];
    return save();
  }
}
