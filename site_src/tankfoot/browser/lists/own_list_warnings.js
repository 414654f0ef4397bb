/** What a person has to read before a changed list is saved: gates and signal words that went or were reworded. */

const KEPT = ["act", "value", "gate", "signal", "consequence", "avoid"];

/** @returns {string[]} sentences; none where nothing grave was changed */
export function mindsOf(base, list, { promises, emptyAnswers }) {
  return [...changes(base, list), ...wordings(list, new RegExp(promises, "iu"), new RegExp(`^(?:${emptyAnswers})$`, "iu"))];
}

export function linesOf(list) {
  return list?.parts.flatMap(({ lines }) => lines) ?? [];
}

function changes(base, list) {
  const now = new Map(linesOf(list).map((line) => [line.id, line]));
  const grave = linesOf(base).filter(({ gate, signal }) => gate || signal);
  const said = grave.flatMap((line) => changeOf(line, now.get(line.id)));
  const order = [...now.keys()];
  const places = grave.map(({ id }) => order.indexOf(id)).filter((place) => place >= 0);
  const isMoved = places.some((place, i) => place < places[i - 1]);
  return isMoved ? [...said, "Gates and signal words stand in another order than before."] : said;
}

function changeOf(before, after) {
  const what = `${before.signal ?? "gate"} line “${before.act}”`;
  const because = before.consequence ?? before.why;
  if (!after) return [`The ${what} is taken out. It was there because: ${because}`];
  if (before.gate && !after.gate) return [`The ${what} is no gate any more: it can be skipped. It was one because: ${because}`];
  const isReworded = KEPT.some((key) => (before[key] || "") !== (after[key] || ""));
  return isReworded ? [`The ${what} is reworded. It was there because: ${because}`] : [];
}

function wordings(list, promises, emptyAnswers) {
  return linesOf(list).flatMap((line) => [
    ...(emptyAnswers.test(line.value) ? [`“${line.value}” says nothing: state what is seen.`] : []),
    ...Object.values(line).map((text) => promises.exec(text)).filter(Boolean)
      .map(([found]) => `“${line.act}” promises too much (“${found}”): say what was seen instead.`),
  ]);
}
