/** What a camera has seen of a run: a pure step. Twin of seen.py, which has the limits and what the state is. */

import { difference, lab, rounded } from "./colour.js";
import { cusum } from "./cusum.js";
import { TICK, half, pastHalf } from "./front.js";
import { follow, lightOf, meanLight, onlyLighter, steady, stillSolids, usualScatter } from "./layer.js";
import { followed, look, pale } from "./sight.js";

const EARLY = { slack: 1.8, most: 5.0, limit: 5.0 };
const LATE = { slack: 2.2, most: 6.0, limit: 12.0 };
const [OVER, MOST_OVER] = [1.3, 2.0];
const LEAST_CHANGE = 4.5;
const ALIKE = 2.5;
const LEARNT = 2.5;
const BACK = 1.5;
const LONGEST_TURN = 8.0;
const LATEST = 3;
const KEPT = 40;
const SETTLED = 3.0;
const GAP = 1.0;
const FILLING = 6.0;

/**
 * @typedef {import("./colour.js").Three} Three
 * @typedef {import("./sight.js").Sample} Sample
 * @typedef {import("./sight.js").Why} Why
 * @typedef {import("./layer.js").Layer} Layer
 * @typedef {import("./layer.js").Reading} Reading
 * @typedef {{at: number, said: number}} Told since when, and when it was told first, s since opened
 * @typedef {{t: number | null, stage: "filling" | "solids" | "turning" | "beer", beer_colour: Three | null,
 *   reference: Three | null, recent: Reading[], layer: Layer | null, sure: boolean, early: number, late: number,
 *   since: number | null, most: number, tried: number, again: Why | null, turning: Told | null, beer: Told | null,
 *   unseen: [number, number, Why][]}} State
 * @typedef {State & {t: number, since: number, layer: Layer}} Running
 */

/** The state at *opened*, before the first sample. @param {Three | null} beer in CIELAB, if known @returns {State} */
export function begin(beer = null) {
  return {
    t: null, stage: "filling", beer_colour: beer, reference: null, recent: [], layer: null, sure: false, early: 0.0,
    late: 0.0, since: null, most: 0.0, tried: 0.0, again: null, turning: null, beer: null, unseen: [],
  };
}

/** The state after one more sample. @param {State} state @param {Sample} sample @returns {State} */
export function step(state, sample) {
  const { t: before, recent } = state;
  const { t } = sample;
  if (before !== null && t <= before) return state;
  const seconds = before === null ? TICK : t - before;
  const last = recent.length ? lab(lightOf(recent[recent.length - 1])) : null;
  const [why, back, reference] = look(sample, state.reference, last);
  /** @type {any} */
  let next = { ...state, t, reference: followed(state.reference, reference, seconds) };
  if (next.stage === "beer") return back === null ? next : settled(withReading(next, back));
  if (before === null) next.since = t;
  else if (seconds > GAP) next = unseen(next, before, "gap");
  if (why === "moved") return afresh(unseen({ ...next, reference, recent: [] }, t, why), why);
  if (why !== null || back === null) return unseen(next, before ?? t, why);
  next = withReading(next, back);
  const counted = Math.min(seconds, GAP);
  return next.stage === "filling" ? filling(next, counted) : running(next, lab(back), counted);
}

function withReading(state, back) {
  return { ...state, recent: [...state.recent.slice(1 - KEPT), [state.t, ...back]] };
}

/** @returns {any} the state with a stretch up to now that was not seen */
function unseen(state, start, why) {
  const last = state.unseen.at(-1);
  const goesOn = last !== undefined && last[2] === why && start - last[1] <= GAP;
  const earlier = goesOn ? state.unseen.slice(0, -1) : state.unseen;
  return { ...state, unseen: [...earlier, [goesOn ? last[0] : start, state.t, why]] };
}

function afresh(state, why) {
  return { ...state, stage: "filling", layer: null, sure: false, since: state.t, turning: null, again: why };
}

function filling(state, seconds) {
  const { t, since, again, beer_colour: beer } = state;
  const layer = steady(state.recent);
  if (layer === null || pale(lab(layer.light))) {
    const patience = again ? 0.0 : FILLING;
    if (t - since < patience) return state;
    const told = t - seconds - since >= patience;
    return unseen(state, told ? t - seconds : since, layer ? "fog" : (again ?? "unsteady"));
  }
  if (beer && difference(lab(layer.light), beer) < ALIKE) {
    return { ...state, stage: "beer", layer, beer: { at: layer.from, said: t } };
  }
  return withLayer(state, layer);
}

function withLayer(state, layer) {
  return {
    ...state, stage: "solids", layer, early: 0.0, late: 0.0, since: null, turning: null,
    tried: Math.max(state.tried, state.most), most: 0.0,
  };
}

function running(state, colour, seconds) {
  const { layer } = state;
  const [known, scatter] = [lab(layer.light), usualScatter(layer)];
  const apart = difference(colour, known);
  const early = summed(state.early, EARLY, apart / scatter, seconds);
  const late = summed(state.late, LATE, apart / scatter, seconds);
  const now = lab(meanLight(state.recent.slice(-LATEST)));
  if (early === 0.0 || (state.stage === "turning" && difference(now, known) < BACK * scatter)) {
    const followedOn = follow(layer, lightOf(state.recent[state.recent.length - 1]), apart, seconds);
    return withLayer({ ...state, sure: state.sure || followedOn.seconds >= LEARNT }, followedOn);
  }
  const next = { ...state, early, late, since: state.since ?? rounded(state.t - 0.5 * seconds) };
  if (early < EARLY.limit && next.stage === "solids") return next;
  return next.sure ? turning(next, known, now) : afresh(unseen(next, layer.from, "unsteady"), next.again);
}

function summed(total, test, reading, seconds) {
  const ticks = seconds / TICK;
  return rounded(cusum(total, ticks * Math.min(reading, test.most), ticks * test.slack));
}

/** Something else comes: foam or fog, another layer, a cloud, or beer. */
function turning(state, known, now) {
  const { layer, recent, since, t } = state;
  if (pale(now)) return unseen(state, Math.max(since, t - TICK), "fog");
  const [apart, nextLayer] = [difference(now, known), steady(recent)];
  if (stillSolids(known, now) || onlyLighter(layer.light, meanLight(recent.slice(-LATEST)))) {
    const another = nextLayer !== null && difference(lab(nextLayer.light), known) > LEAST_CHANGE;
    return another ? withLayer(state, nextLayer) : { ...state, stage: "turning" };
  }
  const next = {
    ...state, stage: "turning", turning: state.turning ?? { at: since, said: t }, most: Math.max(state.most, state.late),
  };
  if (isBeer(next, now, apart)) {
    return { ...next, stage: "beer", beer: { at: half(recent, layer.light, since), said: t } };
  }
  if (t - since > LONGEST_TURN) return nextLayer ? withLayer(next, nextLayer) : afresh(next, "unsteady");
  return next;
}

function isBeer(state, now, apart) {
  const { layer, beer_colour: beer } = state;
  const limit = Math.min(Math.max(LATE.limit, OVER * state.tried), MOST_OVER * LATE.limit);
  if (state.late < limit || apart < LEAST_CHANGE) return false;
  if (beer && difference(now, beer) < ALIKE) return true;
  return pastHalf(state.recent, layer.light, state.since, apart / usualScatter(layer));
}

/** Once beer runs its instant is told better for a while, as its own colour is seen. */
function settled(state) {
  const { beer, since } = state;
  if (state.turning === null || state.t - beer.said > SETTLED) return state;
  return { ...state, beer: { ...beer, at: half(state.recent, state.layer.light, since) } };
}

/** What has been seen so far, as `tankfoot watch --json` prints it. @param {State} state */
export function answer(state) {
  return { turning_at: state.turning?.at ?? null, beer_at: state.beer?.at ?? null, unseen: state.unseen };
}

/** The state after all samples. @param {Sample[]} samples @param {Three | null} beer in CIELAB, if known */
export function watched(samples, beer = null) {
  return samples.reduce(step, begin(beer));
}
