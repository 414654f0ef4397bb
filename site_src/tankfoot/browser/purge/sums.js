/** The sums of a purge's step: top-up, margin, and what the purge told. */

import { calculators } from "../../calculators/declared.js";
import { sums } from "../../purge/declared.js";
import { drawLimit, drawStop } from "../../purge/margin.js";
import { inLitres, workOut } from "../../purge/outcome.js";
import { formatIn } from "../../quantities/format.js";
import { local } from "../../quantities/locale.js";
import { words } from "../../wording/words.js";
import { settings } from "../storage/settings.js";
import { amountText } from "../parts/figures.js";
import { purgePicture } from "../parts/purge_figures.js";
import { LOST_KIND } from "../parts/purge_line.js";
import { shortStrip } from "../parts/run_strip.js";
import { usualLosses } from "../parts/usual_losses.js";
import { showTankNow } from "./tank_now.js";
import { readingOf, toldBy } from "./reading_texts.js";
import { fieldsIn, readingsIn } from "./readings.js";
import { problemText } from "../parts/problem_text.js";

/**
 * @param {HTMLElement} here the section of a step on the screen @param {object} run
 * @param {object} body the purge's, with what stands in the screen's fields among its readings
 */
export async function showSums(here, run, body) {
  const { step } = here.dataset;
  const isAhead = step === "result" && body.state !== step; // the result of what is being typed
  const { readings } = body;
  const { result, agree: isAgreed } = isAhead ? await toldBy(body) : body;
  const volume = result.volume_lost?.value ?? 0;
  const texts = { ...readings, ...readingsIn(here).texts };
  if (here.closest("[data-shared]")) texts.pressure_found ||= texts.pressure_before; // the gauge is read once there
  if (texts.headspace) texts.headspace_after = inLitres(readingOf("headspace", texts.headspace).si + volume);
  for (const place of here.querySelectorAll("[data-sum]")) await showSum(here, place, texts);
  if (step === "margin") await showLimit(here, texts);
  for (const place of here.querySelectorAll("[data-results]")) {
    place.replaceChildren(...purgePicture({ ...body, result }, await usualLosses(body.tank, run.id)), ...shortStrip(body));
  }
  await showTankNow(here, run);
  if (step === "result") {
    here.querySelector("[data-disagree]").hidden = isAgreed !== false;
    await showWays(here, body, isAhead);
  }
}

async function showSum(here, place, texts) {
  const { calculator } = sums[place.dataset.sum];
  const { results, problems } = await workOut(place.dataset.sum, texts, settings().system);
  const found = results[place.dataset.shows];
  const shown = found ? amountText(found, calculators[calculator].results[place.dataset.shows]) : null;
  place.querySelector("[data-text]").textContent = shown?.text ?? "–";
  place.querySelector("[data-spread]").textContent = shown?.give_or_take ?? "";
  here.querySelector("[data-sum-problem]").textContent = problems.length ? problemText(calculator, problems[0]) : "";
}

/** What may leave with the gas shut. Where the planned draw would take more, the screen says why, and stops.js closes the way on. */
async function showLimit(here, texts) {
  const { system } = settings();
  const planned = fieldsIn(here).find(({ name }) => name === "planned_draw");
  const text = readingsIn(here).texts.planned_draw;
  const unit = text ? readingOf("planned_draw", text).unit : planned.unit.value;
  const [limit, which] = await drawLimit(texts, system, unit);
  here.querySelector("[data-draw-limit] [data-text]").textContent = texts.pressure_before ? local(formatIn(limit, unit, 3)) : "–";
  const stop = text && texts.pressure_before ? await drawStop(texts, system) : null;
  for (const line of here.querySelectorAll("[data-limit]")) line.hidden = stop !== null || line.dataset.limit !== which;
  for (const place of here.querySelectorAll("[data-vacuum-stop]")) place.hidden = place.dataset.vacuumStop !== stop;
}

async function showWays(here, body, isAhead) {
  const { ways } = await toldBy(body);
  const lines = Object.entries(ways).map(([way, amount]) => {
    const { text, give_or_take: spread } = amountText(amount, LOST_KIND);
    return [words(`purge.ways.${way}`), text, spread].join(" ");
  });
  here.querySelector("[data-ways]").textContent = lines.length ? `${lines.join("; ")}.` : isAhead ? "" : words("purge.no_volume");
}
