/**
 * The invented brewery's record is as old as the app. Once it is loaded, its last day is the latest that is over by now:
 * every instant moves by the same number of whole days and keeps its time of day, on this phone's clock.
 */

const DAY = 86400000; // ms
const INSTANT = /^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\.[0-9]{3}Z$/;

/** @param {object[]} entries of the file, where a time of day in UTC stands for the brewery's own @param {number} now ms */
export function datedFromToday(entries, now) {
  const latest = instantsIn(entries).reduce((a, b) => (a > b ? a : b));
  let days = Math.ceil((now - Date.parse(latest)) / DAY) + 1;
  while (Date.parse(moved(latest, days)) > now) days -= 1;
  return withInstants(entries, (instant) => moved(instant, days));
}

/** A day of the calendar has 23 to 25 hours: what is kept is the time that a clock on the wall shows. */
function moved(instant, days) {
  const at = new Date(instant);
  const wall = new Date(
    at.getUTCFullYear(), at.getUTCMonth(), at.getUTCDate() + days,
    at.getUTCHours(), at.getUTCMinutes(), at.getUTCSeconds(), at.getUTCMilliseconds(),
  );
  return wall.toISOString();
}

function instantsIn(value) {
  const found = [];
  withInstants(value, (instant) => { found.push(instant); return instant; });
  return found;
}

/** The same with every instant in it changed, however deep it stands. */
function withInstants(value, change) {
  if (typeof value === "string") return INSTANT.test(value) ? change(value) : value;
  if (Array.isArray(value)) return value.map((each) => withInstants(each, change));
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, withInstants(each, change)]));
}
