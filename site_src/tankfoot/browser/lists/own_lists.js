/** The site's own lists on the page of all lists. */

import { byName } from "../parts/by_name.js";
import { inLanguage, langOf } from "../parts/list_language.js";
import { ofKind } from "../storage/record.js";
import { element } from "../parts/figures.js";
import { orShowTrouble } from "../parts/trouble.js";
import { offerUndo } from "../parts/undo_deleted.js";

const place = document.querySelector("[data-own-lists]");

await show();
await offerUndo("site-list", show);
document.querySelector("main").dataset.ready = "true";

async function show() {
  const found = await orShowTrouble(ofKind("site-list"));
  const lists = byName(found ?? [], ({ list }) => list.title);
  place.hidden = lists.length === 0;
  document.querySelector("[data-no-own]").hidden = !found || lists.length > 0;
  place.replaceChildren(...lists.map(({ id, body: { list } }) => (
    element("li", {}, element("a", { className: "tile", href: `${place.dataset.at}#id=${id}` },
      element("strong", { textContent: list.title, ...langOf(list) }), " ",
      element("span", { textContent: list.condition, ...langOf(list) }), ` ${inLanguage(list)}`))
  )));
}
