/** When tanks are due for a purge. Twin of due.py. */

const DAY = 86400.0;
const HOUR = 3600.0;

/** The instant a finished purge ended; a purge that came without events, when it was made. */
export function endOf(entry) {
  return entry.body.events.at(-1)?.at ?? entry.created;
}

/**
 * @param {{every: any, since: string}[]} tanks s between purges, and the instant of the last one or, before the
 *   first, of the tank's making; a tank without `every` is never due
 * @param {number} now ms since the start of 1970, UTC
 * @returns the same with `wait`, s until it is due, negative once it is overdue; the longest overdue first
 */
export function byDue(tanks, now) {
  return tanks
    .filter(({ every }) => every)
    .map((tank) => ({ ...tank, wait: (Date.parse(tank.since) - now) / 1000.0 + tank.every }))
    .sort((a, b) => a.wait - b.wait);
}

/** A wait in days from two days on, else in hours, rounded: [2, "day"]; less than an hour either way is null. */
export function inDaysOrHours(wait) {
  const seconds = Math.abs(wait);
  if (seconds < HOUR) return null;
  const [length, unit] = seconds < 2.0 * DAY ? [HOUR, "hour"] : [DAY, "day"];
  return [Math.floor(seconds / length + 0.5), unit];
}
