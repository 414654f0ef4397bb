/** Result figures made in the browser, looking like those the build makes. */

import { formatResult } from "../../quantities/format.js";
import { local } from "../../quantities/locale.js";
import { unitOf } from "../storage/units.js";
import { currencyText } from "./currency.js";

export function element(tag, properties = {}, ...children) {
  const made = Object.assign(document.createElement(tag), properties);
  made.append(...children);
  return made;
}

/** An SI amount as text in the unit this phone shows such a quantity in: {text, give_or_take}. */
export function amountText({ value, uncertainty }, kind) {
  const shown = formatResult(value, uncertainty, unitOf(kind));
  return { text: currencyText(local(shown.text)), give_or_take: currencyText(local(shown.give_or_take ?? "")) };
}

/** One figure: its name, the number, its ±. */
export function figure(label, amount, kind) {
  const { text, give_or_take: spread } = amountText(amount, kind);
  return element("div", { className: "result" },
    element("p", { className: "name", textContent: label }),
    element("p", { className: "figure" },
      element("output", { textContent: text }), " ", element("span", { className: "spread", textContent: spread })));
}
