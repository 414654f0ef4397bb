/** The record out of the phone: all of it as files that an import takes, and the purges as a table. */

import { words } from "../../wording/words.js";
import { noteExported } from "../storage/keeping.js";
import { settings } from "../storage/settings.js";
import { showKept } from "./record_kept.js";
import { element } from "../parts/figures.js";
import { shareFile } from "../parts/share_file.js";
import { orShowTrouble } from "../parts/trouble.js";
import { Stopped } from "./at_work.js";

/** @param {HTMLElement} page @param {ReturnType<import("./at_work.js").newWork>} atWork */
export function offerExport(page, atWork) {
  const place = page.querySelector("[data-files-say]");

  async function exportAll() {
    for (const link of place.querySelectorAll("a[download]")) URL.revokeObjectURL(link.href);
    const all = await asked("exported", { version: page.dataset.version });
    if (!all) return;
    const files = all.parts.map((part, number) => named(part, "json", all.parts.length > 1 ? `-${number + 1}` : ""));
    if (files.length === 1) await shareFile(files[0]);
    place.replaceChildren(...said(files), tiles(all.damaged.map(damagedLink)));
    await noteExported();
    showKept(page);
  }

  async function exportTable() {
    const { system, currency } = settings();
    const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
    const made = await asked("table", { system, zone, currency });
    if (!made) return;
    const file = named(made, "csv");
    await shareFile(file);
    place.replaceChildren(...said([file]));
  }

  /** What the thread makes; nothing where that is stopped, or the record cannot be read, which is said. */
  async function asked(what, given) {
    place.textContent = "";
    try {
      return await orShowTrouble(atWork("files.making", ({ ask }) => ask(what, given)));
    } catch (stopped) {
      if (!(stopped instanceof Stopped)) throw stopped;
      place.textContent = words("files.stopped_making");
      return undefined;
    }
  }

  page.querySelector("[data-export]").addEventListener("click", exportAll);
  page.querySelector("[data-csv]").addEventListener("click", exportTable);
}

function named(blob, ending, part = "") {
  return new File([blob], `tankfoot-${new Date().toISOString().slice(0, 10)}${part}.${ending}`, { type: blob.type });
}

/** One file is already handed on; of several each is saved by a tap, since a browser may hold back all but the first. */
function said(files) {
  if (files.length === 1) return [words("files.made", { file: files[0].name })];
  const links = files.map((file) => linkTo({ href: URL.createObjectURL(file), download: file.name }, file.name));
  return [element("p", { textContent: words("files.parts", { count: files.length }) }), tiles(links)];
}

function damagedLink({ id, name }) {
  return linkTo({ href: `entry/#${new URLSearchParams({ id })}` }, name);
}

function linkTo(address, textContent) {
  return element("a", { className: "tile", ...address }, element("strong", { textContent }));
}

function tiles(links) {
  return links.length ? element("ul", { className: "tiles" }, ...links.map((link) => element("li", {}, link))) : "";
}
