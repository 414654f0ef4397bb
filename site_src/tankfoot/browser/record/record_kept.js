/** How safe the record is, in words. */

import { words } from "../../wording/words.js";
import { written } from "../parts/dates.js";
import { element } from "../parts/figures.js";
import { keeping } from "../storage/keeping.js";

/** @param {HTMLElement} page */
export function showKept(page) {
  const { exported, persisted, copied } = keeping();
  const lines = [
    exported === undefined ? words("keeping.never_exported")
      : words("keeping.exported", { when: written(exported) }),
    ...(copied === undefined ? [] : [words(copied ? "keeping.copied" : "keeping.not_copied")]),
    ...(persisted === undefined ? [] : [words(persisted ? "keeping.promised" : "keeping.not_promised")]),
  ];
  page.querySelector("[data-keeping]").replaceChildren(...lines.map((textContent) => element("li", { textContent })));
}
