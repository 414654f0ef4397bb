/** What a person has to read before a changed list is saved: gates and signal words that went or were reworded. */

import { words } from "../../wording/words.js";
import { own } from "../parts/lookup.js";

const KEPT = ["act", "value", "gate", "signal", "consequence", "avoid"];

/**
 * @param {Object<string, {promises: string, empty_answers: string}>} rules by language; a list whose language has none,
 * or that does not say which, is held to those of the page
 * @returns {string[]} sentences; none where nothing grave was changed
 */
export function warningsOf(base, list, rules) {
  const { promises, empty_answers: empty } = own(rules, list.language) ?? rules[document.documentElement.lang];
  return [...changes(base, list), ...wordings(list, new RegExp(promises, "iu"), new RegExp(`^(?:${empty})$`, "iu"))];
}

export function linesOf(list) {
  return list?.parts.flatMap(({ lines }) => lines) ?? [];
}

function changes(base, list) {
  const now = new Map(linesOf(list).map((line) => [line.id, line]));
  const grave = linesOf(base).filter(({ gate, signal }) => gate || signal);
  const changed = grave.flatMap((line) => changeOf(line, now.get(line.id)));
  const order = [...now.keys()];
  const places = grave.map(({ id }) => order.indexOf(id)).filter((place) => place >= 0);
  const noAge = base?.grows_old && !list.grows_old ? [words("own.warnings.no_age")] : [];
  const isMoved = places.some((place, i) => place < places[i - 1]);
  return [...changed, ...(isMoved ? [words("own.warnings.order")] : []), ...noAge];
}

function changeOf(before, after) {
  const kind = before.signal ? "signal" : "gate";
  const signal = before.signal && words(`signals.${before.signal}`);
  const facts = { signal, act: before.act, why: before.consequence ?? before.why };
  if (!after) return [words(`own.warnings.${kind}.out`, facts)];
  if (before.gate && !after.gate) return [words(`own.warnings.${kind}.no_gate`, facts)];
  const isReworded = KEPT.some((key) => (before[key] || "") !== (after[key] || ""));
  return isReworded ? [words(`own.warnings.${kind}.reworded`, facts)] : [];
}

function wordings(list, promises, emptyAnswers) {
  return linesOf(list).flatMap((line) => [
    ...(emptyAnswers.test(line.value) ? [words("own.warnings.empty_answer", { value: line.value })] : []),
    ...Object.values(line).map((text) => promises.exec(text)).filter(Boolean)
      .map(([found]) => words("own.warnings.promise", { act: line.act, found })),
  ]);
}
