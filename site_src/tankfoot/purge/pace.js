/** Two paces of one table: every step on its own, or, for a trained hand, steps that share a screen. Twin of pace.py. */

import { secondsBetween } from "../record/age.js";
import { begins, rows } from "./declared.js";
import { kindOf, LAST, LATEST, nextState, standing, tables } from "./machine.js";

export const SHORT = "short";
export const REHEARSAL = "rehearsal";
export const TRAINED = 5;
export const AWAY = 2592000.0; // s

/** The pace that a purge was begun at. @returns {"short"|"every"} */
export function paceOf(events) {
  const begun = standing(events).find(({ event }) => Object.hasOwn(begins, event));
  return begun?.data?.pace === SHORT ? SHORT : "every";
}

/**
 * Why a hand gets every step on a screen of its own; null where it is trained for the short pace.
 *
 * @param {string|null} initials of the hand
 * @param {{initials: string|null, state: string, events: import("./machine.js").Event[]}[]} purges bodies, of whomever
 * @param {{exercise?: string, initials?: string|null, answers: {right: boolean, at: string}[]}[]} practices bodies, likewise,
 *   and those of rehearsals
 * @param {string} now an instant @param {number} whole so many answers are a whole practice
 * @returns {"site"|"nobody"|"new"|"away"|"practice"|null}
 */
export function whyEveryStep(initials, purges, practices, now, whole, isAlways = false) {
  if (isAlways || !initials) return isAlways ? "site" : "nobody";
  const finished = purges.filter((body) => body.initials === initials && body.state === LAST && body.events.length);
  const isShort = finished.some(({ events }) => paceOf(events) === SHORT);
  if (!isShort && finished.length < TRAINED) return "new";
  if (!finished.some(({ events }) => isRecent(events, now))) return "away";
  const withoutMistake = practices.filter((body) => body.initials === initials && isRight(body, whole));
  return withoutMistake.some((body) => isRecent(body.answers, now)) ? null : "practice";
}

/** @param {{exercise?: string, answers: {right: boolean}[]}} body */
function isRight({ exercise, answers: given }, whole) {
  return given.length >= (exercise === REHEARSAL ? 1 : whole) && given.every(({ right }) => right);
}

function isRecent(instants, now) {
  return secondsBetween(instants.at(-1).at, now) < AWAY;
}

/**
 * What shares a screen at the short pace once a purge is at a state.
 *
 * @param {string[]} before the names of the events that stand before it
 * @returns {{steps: string[], shows: string[]}}
 */
export function screen(state, before = [], table = LATEST) {
  const row = rowOf(state, before, table);
  const steps = [state];
  const names = [...before];
  for (let passing; (passing = row && passingOf(steps.at(-1), row, names, table));) {
    steps.push(nextState(steps.at(-1), passing, names, table));
    names.push(passing);
  }
  const shown = steps.filter((each) => !row?.told?.includes(each));
  return { steps, shows: [...shown, ...(row?.also ?? [])] };
}

/**
 * Every answer on a shared screen, and the events that one tap saves.
 *
 * @returns {{state: string, event: string, saves: string[]}[]}
 */
export function answers(state, before = [], table = LATEST) {
  const row = rowOf(state, before, table);
  const { steps } = screen(state, before, table);
  const found = [];
  const saved = [];
  const seen = new Set();
  for (const step of steps) {
    const onward = row && passingOf(step, row, [...before, ...saved], table);
    for (const event of row?.told?.includes(step) ? [] : Object.keys(tables[table][step].events)) {
      const target = nextState(step, event, [...before, ...saved], table);
      if (row && (row.without?.includes(event) || steps.includes(target) || seen.has(`${event} ${target}`))) continue;
      found.push({ state: step, event, saves: [...saved, event] });
      seen.add(`${event} ${target}`);
    }
    saved.push(onward);
  }
  return found;
}

function rowOf(state, before, table) {
  const { short, changes } = rows[LATEST];
  if (table !== LATEST && !Object.hasOwn(changes, table)) return null;
  const kind = kindOf(before);
  return short.find(({ steps: [first], tables: of = [table], kinds = [kind] }) => (
    first === state && of.includes(table) && kinds.includes(kind)
  )) ?? null;
}

/** The event that leads from a step of a shared screen to the next one on it, null at its last. */
function passingOf(state, row, before, table) {
  const next = row.steps[row.steps.indexOf(state) + 1];
  const events = Object.keys(tables[table][state].events);
  return events.find((event) => nextState(state, event, before, table) === next) ?? null;
}
