/** The end of a rehearsal: what happened, what would have stopped it, what counts as done, and the row of the log. */

import { scenarios } from "../../rehearsal/declared.js";
import { done } from "../../rehearsal/seen.js";
import { words } from "../../wording/words.js";
import { element } from "../parts/figures.js";
import { REHEARSAL } from "../../purge/pace.js";
import { minutes } from "../parts/minutes.js";
import { orShowTrouble } from "../parts/trouble.js";
import { newEntry, put } from "../storage/record.js";
import { settings } from "../storage/settings.js";

/** @param {HTMLElement} page @param {object} course @param {object} sentences see told.js */
export function openEnd(page, course, sentences) {
  const place = page.querySelector("[data-rehearsal-over]");

  function rowOf(event, isFirst) {
    const row = element("li", { textContent: `${minutes(Math.floor(event.t))}  ${sentences.says(event)}` });
    row.dataset.happened = event.happened;
    if (!sentences.isMistake(event)) return row;
    row.append(element("p", { textContent: words("rehearsal.instead", { instead: sentences.instead(event) }) }));
    const again = element("button", { type: "button", className: "wide", textContent: words("rehearsal.again") });
    again.classList.toggle("plain", !isFirst);
    again.dataset.again = event.happened;
    again.addEventListener("click", async () => { if (await orShowTrouble(course.goBack(event))) location.reload(); });
    row.append(again);
    return row;
  }

  function showAll() {
    page.toggleAttribute("data-over", true);
    document.querySelector("[data-sim]").toggleAttribute("data-over", true);
    const events = course.state.happened.filter(({ happened }) => happened !== "cannot");
    const mistakes = events.filter(sentences.isMistake);
    place.querySelector("[data-teaches]").textContent = sentences.teaches(course.scenario);
    place.querySelector("[data-happened-all]").replaceChildren(...events.map((each) => rowOf(each, each === mistakes[0])));
    place.querySelector("[data-none-happened]").hidden = events.length > 0;
    place.querySelector("[data-done-all]").replaceChildren(...done(course.state, scenarios[course.scenario].done).flatMap(({ done: code, met }) => (
      sentences.wanted(course.scenario, code).map((says) => element("li", { textContent: words(`rehearsal.${met ? "met" : "not_met"}`, { says }) }))
    )));
    place.hidden = false;
    scrollTo(0, 0);
    place.querySelector("h2").focus({ preventScroll: true });
  }

  return {
    show: showAll,

    /** Puts the rehearsal in the log, where practice stands. @returns {Promise<true>} */
    log() {
      const at = new Date().toISOString();
      const body = { exercise: REHEARSAL, at, initials: settings().initials || null, answers: answersOf(course, sentences, at) };
      return put(newEntry("training", body));
    },
  };
}

/** What went wrong, also what was done again since; else done, or not done. */
function answersOf(course, sentences, at) {
  const { scenario, state } = course;
  const now = state.happened.filter(sentences.isMistake).map(({ happened: chosen }) => ({ chosen, at }));
  const wrong = [...course.mistakes, ...now].map((each) => ({ stack: scenario, right: false, ...each }));
  if (wrong.length) return wrong;
  const isDone = done(state, scenarios[scenario].done).every(({ met }) => met);
  return [{ stack: scenario, chosen: isDone ? "done" : "not-done", right: isDone, at }];
}
