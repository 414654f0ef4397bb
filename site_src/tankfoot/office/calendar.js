/** What is due as a calendar that other programs read: iCalendar by RFC 5545. Twin of calendar.py. */

import { ruleOf } from "../batches/due.js";
import { startOfDay, wallText } from "../batches/wall_clock.js";
import { dueWords } from "../wording/declared.js";
import { dueSentence, dueTitle, filled } from "../wording/sentences.js";

const LONGEST_LINE = 75; // octets, RFC 5545, 3.1
const OWNER = "tankfoot.invalid"; // a name that nobody can have, RFC 2606
const COUNTED_BY_DAY = ["again", "returns"];

/**
 * The text of an iCalendar file of those items of due.js that are not done, as they stand now.
 *
 * @param {any[]} items @param {any[]} rules @param {Object<string, string>} names by id, of tanks and batches' beers
 * @param {string} now an instant @param {string} zone
 */
export function calendarFile(items, rules, names, now, zone) {
  const events = items.filter(({ state }) => state !== "done")
    .flatMap((item) => event(item, ruleOf(item, rules), names, now, zone));
  const lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Tankfoot//Tankfoot//EN", ...events, "END:VCALENDAR"];
  return lines.map((line) => `${folded(line)}\r\n`).join("");
}

function event(item, rule, names, now, zone) {
  const { key, tank, batch, why } = item;
  const named = (id) => (Object.hasOwn(names, id) ? names[id] : "");
  const facts = { tank: named(tank), asks: dueTitle(item, rule), beer: named(batch) };
  const summary = filled(dueWords.calendar[facts.beer ? "with_beer" : "summary"], facts);
  return [
    "BEGIN:VEVENT", `UID:${key}.${tank}@${OWNER}`, `DTSTAMP:${utc(now)}`, ...times(item, rule, zone),
    `SUMMARY:${asText(summary)}`, `DESCRIPTION:${asText(dueSentence(item, wallText(why.at, zone)))}`,
    "TRANSP:TRANSPARENT", "END:VEVENT", // nobody is busy the whole time
  ];
}

/** Start and end; an end must come after its start, RFC 5545, 3.8.2.2, so one that does not is left out. */
function times({ from, until, why }, rule, zone) {
  const isCounted = (rule && rule.every !== null) || COUNTED_BY_DAY.includes(why.code);
  const isByDay = isCounted && [from, until].every((end) => startOfDay(end, 0.0, zone) === end);
  const [start, end] = [from, until].map((instant) => (isByDay ? date(instant, zone) : utc(instant)));
  const form = isByDay ? ";VALUE=DATE" : "";
  return [`DTSTART${form}:${start}`, ...(end > start ? [`DTEND${form}:${end}`] : [])];
}

function date(instant, zone) {
  return wallText(instant, zone).slice(0, 10).replaceAll("-", "");
}

function utc(instant) {
  return `${instant.slice(0, 19).replace(/[-:]/g, "")}Z`;
}

/** A value of type TEXT, RFC 5545, 3.3.11; half of a surrogate pair is nothing that UTF-8 can write. */
function asText(text) {
  const plain = text.replace(/(?![\t\r\n])\p{Cc}/gu, "").replace(/\p{Cs}/gu, "\ufffd");
  return plain.replace(/[\\;,]/g, "\\$&").replace(/\r\n|\r|\n/g, "\\n");
}

/** Cut so that no line is too long and no letter is cut; each but the first begins with a space, which counts. */
function folded(line) {
  const lines = [""];
  let size = 0;
  for (const letter of line) {
    const octets = new TextEncoder().encode(letter).length;
    if (size + octets > LONGEST_LINE) {
      lines.push(" ");
      size = 1;
    }
    lines[lines.length - 1] += letter;
    size += octets;
  }
  return lines.join("\r\n");
}
