/** What has just happened, on the screen and for who cannot see it; values are spoken when they changed by what matters. */

import { words } from "../../wording/words.js";
import { hide, write } from "../parts/changed.js";
import { set } from "./sights.js";

const SPEAKS = 7e3; // Pa that the gauge moves between two words about it. Common practice, no source
const BETWEEN = 60; // steps between two words about values
const WORST_FIRST = ["DANGER", "WARNING", "CAUTION", "NOTICE", null];
const LEAVES = ["alarm", "phone"]; // a hand may go at these

/** @param {HTMLElement} pane @param {object} course @param {object} sentences see told.js */
export function openMessages(pane, course, sentences) {
  const part = (name) => pane.querySelector(`[data-sim-${name}]`);
  const [place, signal, text, card, leave, spoken] = ["told", "signal", "text", "card", "leave", "spoken"].map(part);
  const base = card.dataset.cards;
  let count = course.state.happened.length; // that were told
  let told = null; // the event that stands there
  let last = { gauge: null, glass: null, steps: -BETWEEN };

  function rank(event) {
    return WORST_FIRST.indexOf(sentences.signal(event));
  }

  function lasts({ happened }) {
    const { on, away } = course.state;
    return Object.hasOwn(on, happened) || (happened === "alarm" && !away);
  }

  /** What lasts is not hidden by something less serious. */
  function isLess(event) {
    return told !== null && lasts(told) && rank(event) > rank(told);
  }

  function tell(event) {
    told = event;
    const word = sentences.signal(event);
    set(place, "data-kind", (word ?? "none").toLowerCase());
    set(place, "data-happened", event.happened);
    hide(signal, word === null);
    write(signal, word === null ? "" : words(`signals.${word}`));
    write(text, sentences.says(event));
    hide(card, sentences.card(event) === null);
    if (sentences.card(event)) card.href = `${base}${sentences.card(event)}/`;
  }

  return {
    /** @param {object} seen @param {{gauge: string, glass: string}} says them in words */
    show(seen, says) {
      const came = course.state.happened.slice(count).filter((event) => !sentences.isQuiet(event));
      count = course.state.happened.length;
      const worst = came.toSorted((a, b) => rank(a) - rank(b))[0];
      if (worst && !isLess(worst)) tell(worst);
      const isCalled = course.state.happened.some(({ happened }) => LEAVES.includes(happened));
      hide(leave, !seen.handles.away && !isCalled);
      const isMoved = last.gauge === null || Math.abs(seen.gauge - last.gauge) >= SPEAKS;
      if (course.state.steps - last.steps < BETWEEN || (!isMoved && says.glass === last.glass)) return;
      if (last.gauge !== null) write(spoken, words("rehearsal.now", says));
      last = { gauge: seen.gauge, glass: says.glass, steps: course.state.steps };
    },
  };
}
