/** The record out of the phone: all of it as files that an import takes, and the purges as a table. */

import { purgesCsv } from "../../office/csv_export.js";
import { PART } from "../../office/declared.js";
import { exportFile } from "../../office/transfer.js";
import { words } from "../../wording/words.js";
import { allIds, getStored, ofKind } from "../storage/record.js";
import { noteExported } from "../storage/keeping.js";
import { settings } from "../storage/settings.js";
import { damageOf, nameOfDamaged } from "./damaged.js";
import { showKept } from "./record_kept.js";
import { element } from "../parts/figures.js";
import { progressIn } from "../parts/progress.js";
import { shareFile } from "../parts/share_file.js";
import { orShowTrouble } from "../parts/trouble.js";

const IN_TABLE = ["purge", "batch", "batch-event"]; // what the table of purges is made from
const AT_ONCE = 200; // entries read; a phone has no room for all, with their photos

/** @param {HTMLElement} page */
export function offerExport(page) {
  const place = page.querySelector("[data-files-say]");

  async function exportAll() {
    for (const link of place.querySelectorAll("a[download]")) URL.revokeObjectURL(link.href);
    const all = await orShowTrouble(allInParts(page.dataset.version, progressIn(place, "files.making")));
    if (!all) {
      place.textContent = "";
      return;
    }
    const files = all.parts.map((part, number) => named(part, "json", all.parts.length > 1 ? `-${number + 1}` : ""));
    if (files.length === 1) await shareFile(files[0]);
    place.replaceChildren(...said(files), tiles(all.damaged.map(damagedLink)));
    await noteExported();
    showKept(page);
  }

  async function exportTable() {
    const told = await orShowTrouble(Promise.all(IN_TABLE.map((kind) => ofKind(kind))));
    if (!told) return;
    const { system, currency } = settings();
    const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
    const file = named(new Blob([purgesCsv(told.flat(), system, zone, currency)], { type: "text/csv" }), "csv");
    await shareFile(file);
    place.replaceChildren(...said([file]));
  }

  page.querySelector("[data-export]").addEventListener("click", exportAll);
  page.querySelector("[data-csv]").addEventListener("click", exportTable);
}

/**
 * Export files that together are the whole record: none is larger than any import reads, and no more than one is in
 * memory at a time. All that can be read is in them: a damaged entry goes along as it is, and is named.
 */
async function allInParts(version, tell) {
  const [parts, damaged, ids] = [[], [], await allIds()];
  let [held, size] = [[], 0];
  const close = async () => {
    parts.push(new Blob([await exportFile(held, version)], { type: "application/json" }));
    [held, size] = [[], 0];
  };
  for (let start = 0; start < ids.length; start += AT_ONCE) {
    const some = ids.slice(start, start + AT_ONCE);
    await tell(start, ids.length);
    for (const [place, entry] of (await getStored(some)).entries()) {
      if (damageOf(entry) !== null) damaged.push({ id: some[place], name: nameOfDamaged(entry) });
      if (entry === undefined) continue;
      const more = bytesOf(entry);
      if (held.length && size + more > PART) await close();
      held.push(entry);
      size += more;
    }
  }
  if (held.length || !parts.length) await close();
  return { parts, damaged };
}

/** A line of the file, its comma and its end. */
function bytesOf(entry) {
  return new TextEncoder().encode(JSON.stringify(entry)).length + 2;
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
