/** What a purge told, as figures: the same on the result's step, when it is saved, and in the record. */

import { calculators } from "../../calculators/declared.js";
import { calculatorWords } from "../../wording/declared.js";
import { tells } from "../../usual/purges.js";
import { words } from "../../wording/words.js";
import { element, figure } from "./figures.js";

const SHOWN = {
  volume_lost: ["purge-volume", "volume_lost"],
  overrun: ["purge-split", "overrun"],
  saved: ["purge-split", "saved"],
  solids: ["purge-split", "solids"],
  beer_in_solids: ["purge-split", "beer_in_solids"],
  money_lost: ["purge-split", "money_lost"],
  money_saved: ["purge-split", "money_saved"],
  top_up_mass: ["co2-top-up", "co2_mass"],
};

const SAVED = ["saved", "money_saved"];

/**
 * What cannot tell says so, for all of a purge where it is the volume; none of that is called saved.
 *
 * @param {Object<string, {value: number, uncertainty: number|null}>} result
 */
export function purgeFigures(result) {
  const isSavedTold = ["volume_lost", ...SAVED].every((name) => !result[name] || tells(result[name]));
  const isVolumeTold = !result.volume_lost || tells(result.volume_lost);
  const shown = Object.entries(SHOWN).filter(([name]) => result[name] && (isSavedTold || !SAVED.includes(name)));
  return shown.map(([name, [calculator, own]]) => {
    const made = figure(calculatorWords[calculator].results[own], result[name], calculators[calculator].results[own]);
    if (!tells(result[name]) && (isVolumeTold || name === "volume_lost")) made.append(element("p", { className: "doubt", textContent: words("purge.cannot_tell") }));
    return made;
  });
}
