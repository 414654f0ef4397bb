/** Pictures of runs that a camera watched. Twin of strips.py, which says what a run is and what is where. */

import { inRun, timesOf } from "../purge/times.js";
import { coloursOf } from "../watch/strip.js";
import { box, fitted, path, picture, px, text } from "./marks.js";

const [START, FINISH] = [2.0, 326.0];
const [BAND, UNSEEN, BEER] = [[22.0, 62.0], 68.0, [74.0, 86.0]];
const [SEEN, TAPPED, ENDS] = [17.0, 90.0, 120.0];
const [KEY, KEY_ROW, KEY_TEXT] = [134, 24, 30.0];
const [ROW, NAME, ROW_BAND, ROW_BEER] = [58, 16.0, [23.0, 39.0], [42.0, 50.0]];
const LONGEST = 36;
/** @type {Record<string, (top: number) => Mark>} of the key, in its order */
const SYMBOLS = {
  seen: (top) => down("seen", 12.0, top + 14.0),
  tapped: (top) => up("tapped", 12.0, top + 2.0),
  beer: (top) => path("beer", box(START, top + 2.0, START + 18.0, top + 14.0)),
  unseen: (top) => path("unseen", `M${px(START)} ${px(top + 8.0)}H${px(START + 18.0)}`),
};
export const A_PICTURE = 15; // rows: more would not fit a sheet of paper

/**
 * @typedef {import("./marks.js").Mark} Mark
 * @typedef {import("./marks.js").Picture} Picture
 * @typedef {{run: number, change: number|null, tapped: number|null, seen: number|null, watched: import("../watch/strip.js").Watched}} Run
 */

/** The run of a purge's body, null where no camera watched it or its times are not known. @returns {Run|null} */
export function runOf(body) {
  if (!body.watched) return null;
  const { run, change, tapped, seen } = timesOf(body);
  if (run === null || run <= 0.0) return null;
  return { run, change: inRun(change, run), tapped: inRun(tapped, run), seen: inRun(seen, run), watched: body.watched };
}

/**
 * The strip of one run: opened on the left, closed on the right, beer as a bar below, marks for both instants.
 *
 * @param {Run} run
 * @param {{title: string, says: string, opened: string, closed: string, seen: string, tapped: string, beer: string, unseen: string}} words
 * @returns {Picture}
 */
export function strip(run, words) {
  const x = scale(run.run);
  const { seen, tapped, change } = run;
  const stretches = run.watched.unseen.filter(([from]) => from < run.run);
  const isShown = { seen: seen !== null, tapped: tapped !== null, beer: change !== null, unseen: stretches.length > 0 };
  const key = Object.entries(SYMBOLS).filter(([name]) => isShown[name]);
  return picture("run-strip", KEY + KEY_ROW * key.length, words, [
    ...band(run, x, BAND[0], BAND[1]),
    ...stretches.map(([from, to]) => path("unseen", `M${px(x(from))} ${px(UNSEEN)}H${px(Math.max(x(to), x(from) + 2.0))}`)),
    ...beer(run, x, BAND[0], BEER[0], BEER[1]),
    ...(seen !== null ? [down("seen", x(seen), SEEN)] : []),
    ...(tapped !== null ? [up("tapped", x(tapped), TAPPED)] : []),
    text("opened", START, ENDS, words.opened), text("last", FINISH, ENDS, words.closed),
    ...key.flatMap(([name, symbol], place) => [
      symbol(KEY + KEY_ROW * place), text("key", KEY_TEXT, KEY + KEY_ROW * place + 14.0, words[name]),
    ]),
  ]);
}

/**
 * Strips below one another, all from opened on and to the same scale, whose end is the longest run, s.
 *
 * @param {(Run & {label: string, text: string})[]} rows @param {number} longest
 * @param {{title: string, says: string}} words @returns {Picture}
 */
export function strips(rows, longest, words) {
  const x = scale(longest);
  return picture("run-strips", ROW * Math.max(1, rows.length), words, rows.flatMap((row, place) => {
    const top = ROW * place;
    return [
      text("name", START, top + NAME, fitted(row.label, LONGEST - Array.from(row.text).length)),
      text("figure", FINISH, top + NAME, row.text),
      ...band(row, x, top + ROW_BAND[0], top + ROW_BAND[1]),
      ...beer(row, x, top + ROW_BAND[0], top + ROW_BEER[0], top + ROW_BEER[1]),
    ];
  }));
}

/** Colours as a strip has them, as the address of a picture of one row. @param {string} colours */
export function imageOf(colours) {
  const pixels = coloursOf(colours).flatMap(([red, green, blue]) => [blue, green, red]);
  const count = pixels.length / 3;
  while (pixels.length % 4) pixels.push(0);
  const size = pixels.length;
  const head = [
    [54 + size, 4], [0, 4], [54, 4], [40, 4], [count, 4], [1, 4], [1, 2], [24, 2], [0, 4], [size, 4], [0, 4], [0, 4], [0, 4], [0, 4],
  ].flatMap(([value, bytes]) => littleEndian(value, bytes));
  return `data:image/bmp;base64,${btoa(String.fromCharCode(66, 77, ...head, ...pixels))}`;
}

function littleEndian(value, bytes) {
  return Array.from({ length: bytes }, (_, place) => Math.floor(value / 256 ** place) % 256);
}

function scale(longest) {
  return (seconds) => START + Math.min(seconds / longest, 1.0) * (FINISH - START);
}

/** The colours of a run, and around them the time that the port was open. @returns {Mark[]} */
function band({ run, watched }, x, top, bottom) {
  const [start, end] = [x(watched.from), x(watched.from + watched.every * watched.colours.length / 4)];
  return [
    ["image", {
      class: "colours", href: imageOf(watched.colours), x: px(start), y: px(top), width: px(end - start), height: px(bottom - top),
      preserveAspectRatio: "none",
    }, ""],
    path("open", box(START, top, x(run), bottom)),
  ];
}

/** From the colour change on: a line through the colours, and how long beer ran as a bar below. @returns {Mark[]} */
function beer({ run, change }, x, top, bar, bottom) {
  if (change === null) return [];
  const line = `M${px(x(change))} ${px(top)}V${px(bottom)}`;
  return [path("beer", box(x(change), bar, x(run), bottom)), path("around", line), path("change", line)];
}

function down(kind, x, y) {
  return path(kind, `M${px(x)} ${px(y)}l-7 -12h14Z`);
}

function up(kind, x, y) {
  return path(kind, `M${px(x)} ${px(y)}l7 12h-14Z`);
}
