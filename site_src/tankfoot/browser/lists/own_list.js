/** A site's own list: filled in from the record, then run like any other. */

import { exportFile } from "../../office/transfer.js";
import { shown } from "../../checklists/shown.js";
import { words } from "../../wording/words.js";
import { get } from "../storage/record.js";
import { settings } from "../storage/settings.js";
import { unitsShown } from "../storage/units.js";
import { written } from "../parts/dates.js";
import { element } from "../parts/figures.js";
import { shareFile } from "../parts/share_file.js";
import { orShowTrouble } from "../parts/trouble.js";
import { inAddress } from "../parts/address.js";
import { inLanguage } from "../parts/list_language.js";
import { own } from "../parts/lookup.js";

/** Where words of the list itself stand: a voice reads these in its language, and all others in the page's. */
const ITS_WORDS = [
  "h1", ".intro", "legend", ".pause", ".act", ".value", ".hush", ".completion", ".caution p",
  "[data-why]", "[data-source]", "[data-sheet=title]",
].join();

const page = document.querySelector("[data-own-list]");
const [partMade, lineMade] = ["part", "line"].map((name) => page.querySelector(`[data-${name}-made]`).content);
const units = unitsShown();
const entry = await orShowTrouble(get(inAddress().get("id") ?? "", "site-list"));

addEventListener("hashchange", () => location.reload());
if (entry && !entry.deleted) await open(entry.body);
else page.querySelector("[data-missing]").hidden = entry === undefined;
page.dataset.ready = "true";

async function open({ list, version }) {
  page.querySelector("[data-not-open]").remove(); // from here on trouble is told within the run
  const asks = ["initials", "second"].filter((name) => list[name]).join(" ");
  Object.assign(page.dataset, { checklist: entry.id, version, versions: version, asks, ...(list.grows_old ? { growsOld: "" } : {}) });
  for (const name of ["title", "condition"]) page.querySelector(`[data-${name}]`).textContent = filledIn(list[name]);
  document.title = document.title.replace(/^[^·]*/, `${list.title} `);
  page.querySelector(".completion").textContent = list.completion;
  page.querySelector("[data-based]").textContent = [copiedFrom(list), inLanguage(list)].map((text) => text && ` ${text}`).join("");
  page.querySelector("[data-picture]").hidden = list.picture !== "valve-stack";
  page.querySelector("[data-parts]").replaceChildren(...list.parts.map(partOf));
  page.querySelector("[data-version-says]").textContent = words("own.version", { version, when: written(entry.edited) });
  if (list.language) for (const place of page.querySelectorAll(ITS_WORDS)) place.lang = list.language;
  const sheet = { version, dated: written(entry.edited, "wholeDay"), title: list.title };
  for (const place of page.querySelectorAll("[data-sheet]")) place.textContent = sheet[place.dataset.sheet];
  page.querySelector("[data-edit]").hash = new URLSearchParams({ id: entry.id });
  page.querySelector("[data-share]").addEventListener("click", shareList);
  page.querySelector("[data-whole]").hidden = false;
  const lines = [...page.querySelectorAll("[data-line]")].map(({ dataset }) => dataset.line);
  await import("./reviews.js");
  if (new Set(lines).size === lines.length) await import("./checklist.js");
  else refuse();
}

/** Which list of Tankfoot's it was made from; before schema 7 that was kept in words. */
function copiedFrom({ copied_from: from, based_on: said }) {
  const title = from && (own(JSON.parse(page.dataset.titles), from.list) ?? from.list);
  const of = from ? words("own.copied_list", { title, version: from.version }) : said;
  return of ? words("own.copied_from", { list: of }) : "";
}

function filledIn(text) {
  return shown(text, settings().region, units);
}

/** One tick would stand for two lines. */
function refuse() {
  page.querySelector("[data-run]").hidden = true;
  page.querySelector("[data-broken]").hidden = false;
}

function partOf({ title, pause, lines }) {
  const part = document.importNode(partMade, true).firstElementChild;
  part.querySelector("legend").textContent = title;
  part.querySelector(".pause").textContent = filledIn(pause);
  part.append(...lines.map(lineOf));
  return part;
}

function lineOf(said) {
  const texts = Object.entries(said).map(([name, text]) => [name, typeof text === "string" ? filledIn(text) : text]);
  const line = Object.fromEntries(texts);
  const made = document.importNode(lineMade, true).firstElementChild;
  made.classList.toggle("gate", Boolean(line.gate));
  made.toggleAttribute("data-gate", Boolean(line.gate));
  made.querySelector("[data-line]").dataset.line = line.id;
  made.querySelector(".act").textContent = line.act;
  made.querySelector(".value").textContent = line.value;
  for (const each of made.querySelectorAll("summary .hush")) each.textContent = ` ${line.act}`;
  made.querySelector("[data-why]").textContent = line.why;
  made.querySelector("[data-source]").textContent = line.source ?? "";
  if (line.gate) made.querySelector("[data-skip]").remove();
  showSignal(made.querySelector(".caution"), line);
  return made;
}

function showSignal(box, { signal, consequence, avoid }) {
  if (!signal) {
    box.remove();
    return;
  }
  box.className = `caution ${signal.toLowerCase()}`;
  box.dataset.signal = signal;
  const heading = box.querySelector("h2");
  if (signal === "NOTICE") heading.querySelector("svg").remove();
  heading.lastChild.textContent = " " + words(`signals.${signal}`);
  const hazard = box.querySelector("p");
  if (consequence || avoid) hazard.replaceChildren(element("strong", { textContent: consequence ?? "" }), ` ${avoid ?? ""}`);
  else hazard.remove();
}

/** A file with this one entry, which any phone's import takes. */
async function shareList() {
  const name = entry.body.list.title.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "") || "list";
  const text = await exportFile([entry], page.dataset.app);
  await shareFile(new File([text], `tankfoot-list-${name}.json`, { type: "application/json" }));
}
