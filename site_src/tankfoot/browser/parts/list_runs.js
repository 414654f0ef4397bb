/** What a run of a list and a round of practice tell, in sentences. */

import { standingLines } from "../../checklists/standing.js";
import { listed, words } from "../../wording/words.js";
import { written } from "./dates.js";

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
