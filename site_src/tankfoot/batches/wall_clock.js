/** Days as a clock on the wall counts them, in a zone of the IANA time zone database. Twin of wall_clock.py. */

const DAY = 86_400_000; // ms
const PARTS = ["year", "month", "day", "hour", "minute", "second"];

const clocks = new Map(); // zone -> what writes its time
const offsets = new Map(); // zone and day -> ms that its clock is ahead of UTC as that day of UTC begins

/** The instant at which the clock of a zone shows the same time, so many days after. @param {number} days a float */
export function daysAfter(instant, days, zone) {
  return written(instantOf(wallOf(Date.parse(instant), zone) + Math.round(days * DAY), zone));
}

/** The first instant of the day in a zone that comes `days` (whole) after the one of `instant`. */
export function startOfDay(instant, days, zone) {
  const wall = wallOf(Date.parse(instant), zone);
  return written(instantOf(wall - (((wall % DAY) + DAY) % DAY) + Math.round(days * DAY), zone));
}

/** What the clock of a zone shows at `ms` since the start of 1970, UTC, in ms as if that were UTC. */
export function wallOf(ms, zone) {
  return ms + offsetAt(ms, zone);
}

function shownAt(ms, zone) {
  const shown = Object.fromEntries(clockOf(zone).formatToParts(ms).map(({ type, value }) => [type, Number(value)]));
  const [year, month, day, hour, minute, second] = PARTS.map((part) => shown[part]);
  return Date.UTC(year, month - 1, day, hour, minute, second) + (((ms % 1000) + 1000) % 1000);
}

/** What the clock of a zone shows at an instant, to the minute, as ISO 8601 writes days and times. */
export function wallText(instant, zone) {
  return written(wallOf(Date.parse(instant), zone)).slice(0, 16).replace("T", " ");
}

/** A time that the clock leaps over is taken with the offset before the leap; of one that it shows twice, the first. */
function instantOf(wall, zone) {
  const before = wall - offsetAt(wall - DAY, zone);
  const after = wall - offsetAt(wall + DAY, zone);
  const fits = [before, after].filter((ms) => wallOf(ms, zone) === wall);
  return fits.length ? Math.min(...fits) : before;
}

/** A day that begins and ends with one offset has it all day long: a clock is seldom asked for more than its days. */
function offsetAt(ms, zone) {
  const day = Math.floor(ms / DAY);
  const offset = offsetOfDay(day, zone);
  return offset === offsetOfDay(day + 1, zone) ? offset : shownAt(ms, zone) - ms;
}

function offsetOfDay(day, zone) {
  const key = `${zone} ${day}`;
  if (!offsets.has(key)) offsets.set(key, shownAt(day * DAY, zone) - day * DAY);
  return offsets.get(key);
}

function clockOf(zone) {
  if (!clocks.has(zone)) {
    const numbers = Object.fromEntries(PARTS.map((part) => [part, "numeric"]));
    clocks.set(zone, new Intl.DateTimeFormat("en-US", { ...numbers, timeZone: zone, hourCycle: "h23", calendar: "gregory" }));
  }
  return clocks.get(zone);
}

function written(ms) {
  return new Date(ms).toISOString();
}
