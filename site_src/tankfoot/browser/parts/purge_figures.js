/** What a purge told, as figures: the same on the result's step, when it is saved, and in the record. */

import { calculators } from "../../calculators/declared.js";
import { calculatorWords } from "../../wording/declared.js";
import { figure } from "./figures.js";

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

/** @param {Object<string, {value: number, uncertainty: number|null}>} result */
export function purgeFigures(result) {
  return Object.entries(SHOWN).filter(([name]) => result[name]).map(([name, [calculator, own]]) => {
    return figure(calculatorWords[calculator].results[own], result[name], calculators[calculator].results[own]);
  });
}
