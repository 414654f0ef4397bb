/** The site's own lists on the page of all lists. */

import { edited, get, ofKind, put } from "../storage/record.js";
import { element } from "./figures.js";
import { orTell } from "./trouble.js";

const place = document.querySelector("[data-own-lists]");

await show();
await offerUndo();
document.querySelector("main").dataset.ready = "true";

async function show() {
  const lists = (await orTell(ofKind("site-list")) ?? []).filter(({ deleted }) => !deleted);
  lists.sort((a, b) => a.body.list.title.localeCompare(b.body.list.title, undefined, { numeric: true }));
  place.hidden = lists.length === 0;
  document.querySelector("[data-no-own]").hidden = lists.length > 0;
  place.replaceChildren(...lists.map(({ id, body: { list } }) => (
    element("li", {}, element("a", { className: "tile", href: `${place.dataset.at}#id=${id}` },
      element("strong", { textContent: list.title }), " ", element("span", { textContent: list.condition })))
  )));
}

/** A list deleted a moment ago can be had back. */
async function offerUndo() {
  const id = new URLSearchParams(location.hash.slice(1)).get("deleted");
  const entry = id && await orTell(get(id));
  if (!entry?.deleted) return;
  const line = document.querySelector("[data-undo]");
  line.hidden = false;
  line.querySelector("button").addEventListener("click", async () => {
    if (!await orTell(put(edited(entry, entry.body, { deleted: false })).then(() => true))) return;
    line.hidden = true;
    history.replaceState(null, "", location.pathname);
    await show();
  });
}
