/** What a run of a list and a round of practice tell, in sentences. */

import { REHEARSAL } from "../../purge/pace.js";
import { standingLines } from "../../checklists/standing.js";
import { screens } from "../../wording/declared.js";
import { listed, words } from "../../wording/words.js";
import { written } from "./dates.js";
import { own } from "./lookup.js";

/** A run in one sentence and one for each line that was skipped. @param {(line: string) => string} nameOf a line */
export function runTexts({ created, body }, nameOf) {
  const people = listed([body.initials, body.second].filter(Boolean));
  const stands = standingLines(body.events);
  const run = [written(created), people].filter(Boolean).join(", ");
  return [
    words(body.finished ? "log.finished" : "log.not_finished", { run, count: stands.length }),
    ...stands.filter(({ done }) => !done).map(({ line, reason }) => words("log.skipped", { line: nameOf(line), reason })),
  ];
}

/** A round of practice in one sentence. @param {{right: boolean}[]} answers */
export function scoreText(answers) {
  return words("practice.score", { right: answers.filter(({ right }) => right).length, count: answers.length });
}

/** Who practised or rehearsed when, and how it went. */
export function trainingText({ created, body }) {
  const how = body.exercise === REHEARSAL ? rehearsed(body.answers) : scoreText(body.answers);
  return `${[written(created), body.initials].filter(Boolean).join(", ")}: ${how}`;
}

/** Which scenario, done or what went wrong, each thing once. */
function rehearsed(answers) {
  const { titles, wrong } = screens.rehearsal;
  const scenario = answers[0]?.stack ?? "";
  const title = own(titles, scenario) ? words(`rehearsal.titles.${scenario}`) : scenario;
  const codes = [...new Set(answers.filter(({ right }) => !right).map(({ chosen }) => chosen))];
  if (!codes.length) return words("rehearsal.done", { title });
  return words("rehearsal.went_wrong", { title, what: listed(codes.map((code) => own(wrong, code) ? words(`rehearsal.wrong.${code}`) : code)) });
}
