/** The unit in which a reading of a purge is asked, and in which a bare number typed for it falls. */

import { calculators } from "../../calculators/declared.js";
import { buckets, readings } from "../../purge/declared.js";
import { offered } from "../../quantities/text.js";
import { settings } from "../storage/settings.js";
import { unitOf } from "../storage/units.js";

/** What is caught or planned in buckets is asked in litres or gallons, however large the tank. */
export function readingUnit(name) {
  const [calculator, field] = readings[name];
  const { kind } = calculators[calculator].fields[field];
  const { system } = settings();
  const [first, ...others] = offered(kind, system);
  if (!buckets.includes(name)) return first;
  const wanted = unitOf("bucket_volume");
  return [first, ...others].includes(wanted) ? wanted : offered("bucket_volume", system)[0];
}
