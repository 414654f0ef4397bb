/** The site's own currency sign, put where the sums say "$". */

import { settings } from "../storage/settings.js";

export function currencyText(text) {
  return text.replaceAll("$", () => settings().currency);
}

/** Shows a text in an element, with the site's currency, touching the page only when something changed. */
export function showCurrency(element, text) {
  const shown = currencyText(text);
  if (element.textContent !== shown) element.textContent = shown;
}
