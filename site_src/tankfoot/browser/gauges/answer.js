/** What a reading at a tank's gauge says at once, in sentences; the first is what a hand has to do. */

import { toldBy, topUp } from "../../batches/gauge.js";
import { calculators } from "../../calculators/declared.js";
import { formatIn, formatNumber, formatResult } from "../../quantities/format.js";
import { local } from "../../quantities/locale.js";
import { readQuantity } from "../../quantities/text.js";
import { words } from "../../wording/words.js";
import { written } from "../parts/dates.js";
import { amountText } from "../parts/figures.js";
import { dangerIn } from "../parts/gauge.js";
import { gaugePast } from "../storage/gauge_past.js";
import { settings } from "../storage/settings.js";
import { unitOf } from "../storage/units.js";

const DIGITS = 3;
const FEW_DIGITS = 2;
const LONG = 72 * 3600; // s: from there on in days

/**
 * @param {any} tank its entry @param {any} reading the body of a reading
 * @returns {Promise<{danger: string|null, says: {about: string, text: string}[], isTopUp: boolean}>}
 */
export async function answerTo(tank, reading) {
  const { body } = tank;
  const danger = dangerIn(reading.topped_up ?? reading.pressure, body.rated_pressure);
  const isTopUp = reading.topped_up !== null;
  if (danger || (reading.pressure ?? reading.topped_up) === null) return { danger, says: [], isTopUp };
  const { points, breaks, vessel } = await gaugePast(tank);
  const point = points.at(-1);
  const gas = gasOf(point, body, vessel);
  const told = toldBy(points, breaks, vessel);
  return {
    danger, isTopUp: isTopUp || gas.about === "top-up",
    says: [gas, leakOf(told), floorOf(told, point, vessel.floor)].filter(Boolean),
  };
}

function pressure(si) {
  return local(formatIn(si, unitOf("gauge_pressure"), DIGITS));
}

function withSpread(amount, kind) {
  const { text, give_or_take: spread } = amountText(amount, kind);
  return words("gauges.with_spread", { text, spread });
}

/** The mass of a full cylinder as this phone has it. */
function cylinder() {
  const { system, values } = settings();
  return values.cylinder_mass ?? calculators["co2-top-up"].fields.cylinder_mass.examples[system];
}

function gasOf(point, body, vessel) {
  const { hold_pressure: hold, rated_pressure: plate } = body;
  const say = (key, facts = {}) => ({ about: "gas", text: words(`gauges.${key}`, facts) });
  if ((hold ?? null) === null) return say("no_hold");
  if ((plate ?? null) !== null && hold > plate) return say("hold_over_plate");
  const full = readQuantity(cylinder(), "gas_mass", unitOf("gas_mass")).si;
  const found = topUp(point, body, vessel.headspace, vessel.air_pressure, full);
  const now = point.topped_up ?? point.pressure;
  if (found === null) return say(now > hold ? "over_hold" : "at_hold", { hold: pressure(hold) });
  const text = words("gauges.top_up", {
    mass: withSpread(found, "gas_mass"), hold: pressure(hold), cylinder: local(cylinder()),
    share: local(`${formatNumber(100.0 * found.share, FEW_DIGITS)} %`),
  });
  const unknown = (plate ?? null) === null ? ` ${words("gauges.no_plate")}` : "";
  return { about: "top-up", text: `${text}${unknown}` };
}

function leakOf({ rate, usual, faster }) {
  if (faster === null) return { about: "cannot-tell", text: words("gauges.cannot_tell") };
  if (!faster) return { about: "leak", text: words("gauges.not_faster") };
  const [now, before] = [rate.value, usual].map((si) => local(formatIn(si, unitOf("leak"), FEW_DIGITS)));
  const key = usual > 0.0 ? "faster" : "faster_none";
  return { about: "faster", text: words(`gauges.${key}`, { rate: now, usual: before }) };
}

function floorOf({ to_floor: left }, point, floor) {
  if ((floor ?? null) === null) return null;
  const facts = { floor: pressure(floor) };
  if ((point.topped_up ?? point.pressure) < floor) return { about: "under-floor", text: words("gauges.under_floor", facts) };
  if (left === null) return null;
  const unit = left.value > LONG ? "day" : "h";
  const { text, give_or_take: spread } = formatResult(left.value, left.uncertainty, unit);
  return { about: "to-floor", text: words("gauges.to_floor", { ...facts, left: local(words("gauges.with_spread", { text, spread })) }) };
}

/** What was read of a tank, as it was typed: "12 psi, 36 °F at 10:14". */
export function readText({ at, pressure: gauge, temperature, topped_up: after }) {
  const [read, warmth, now] = [gauge, temperature, after].map((text) => text && local(text));
  const told = [read, warmth, now && words("gauges.after_top_up", { text: now })].filter(Boolean);
  const text = told.reduce((one, other) => words("gauges.joined", { one, other }));
  return words("gauges.read", { text, time: written(at, "timeOfDay") });
}
