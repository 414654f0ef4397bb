/** Where a run of a checklist stands by its events. Twin of standing.py. */

/** The last event of each line that is done or skipped, in the order in which they were; an unticked line has none. */
export function standingLines(events) {
  const stands = new Map();
  for (const event of events) {
    if (event.done || event.reason) stands.set(event.line, event);
    else stands.delete(event.line);
  }
  return [...stands.values()];
}

/** Those of a list's lines (ids) that are neither done nor skipped, in their order. */
export function linesLeft(lines, events) {
  const settled = new Set(standingLines(events).map(({ line }) => line));
  return lines.filter((line) => !settled.has(line));
}

/** Those of the people a list asks for ("initials", "second") who have not signed; two who sign alike are one person. */
export function peopleWanted(asked, { initials, second }) {
  const wanted = { initials: !initials, second: !second || second === initials };
  return asked.filter((name) => wanted[name]);
}

/** Whether nothing is missing in a run of a list with these lines that asks for these people. */
export function isFinished(lines, asked, body) {
  return linesLeft(lines, body.events).length === 0 && peopleWanted(asked, body).length === 0;
}
