/** What is usual for a tank, beside what one of its purges told. */

import { LAST } from "../../purge/machine.js";
import { usualResult } from "../../usual/purges.js";
import { latestPurges } from "../storage/record.js";

const PARTS = ["solids", "beer_in_solids", "overrun"];
const NOTHING = { count: 0, parts: [], whole: null };

/** Of the tank's latest finished purges but for one. @param {string|null} tank its id @param {string} except a purge's id */
export async function usualLosses(tank, except) {
  if (!tank) return NOTHING;
  const past = (await latestPurges(tank)).filter(({ id, body }) => id !== except && body.state === LAST);
  const told = past.map(({ body }) => body).filter(({ result }) => result.volume_lost);
  if (!told.length) return NOTHING;
  const parts = PARTS.map((part) => ({ part, value: usualResult(told, part) })).filter(({ value }) => value !== null);
  return { count: told.length, parts, whole: usualResult(told, "volume_lost") };
}
