/** On the record's page: the runs of lists and the rounds of practice, the latest first. */

import { REHEARSAL } from "../../purge/pace.js";
import { words } from "../../wording/words.js";
import { ofKind } from "../storage/record.js";
import { latestOfKind } from "../storage/slices.js";
import { element } from "../parts/figures.js";
import { inLanguage } from "../parts/list_language.js";
import { runTexts, trainingText } from "../parts/list_runs.js";
import { own } from "../parts/lookup.js";
import { orShowTrouble } from "../parts/trouble.js";

const SHOWN = 50;

/** @param {HTMLElement} page */
export function offerLists(page) {
  const fold = page.querySelector("[data-lists]");
  const titles = JSON.parse(fold.dataset.titles);
  fold.addEventListener("toggle", () => { if (fold.open) show(); });

  async function show() {
    const kinds = await orShowTrouble(Promise.all([
      ofKind("site-list", { withDeleted: true }), // a deleted list still names its runs
      latestOfKind("list-run", SHOWN, ({ body }) => body.events.length > 0), latestOfKind("training", SHOWN),
    ])) ?? [[], [], []];
    const ownLists = new Map(kinds[0].map((entry) => [entry.id, entry]));
    const entries = [...kinds[1], ...kinds[2]].sort((a, b) => (a.created < b.created ? 1 : -1)).slice(0, SHOWN);
    fold.querySelector("p").hidden = entries.length > 0;
    fold.querySelector("ul").hidden = entries.length === 0;
    fold.querySelector("ul").replaceChildren(...entries.map((entry) => rowOf(entry, ownLists)));
  }

  function rowOf(entry, ownLists) {
    const { kind, body } = entry;
    const list = ownLists.get(body.checklist);
    const ofSite = list ? [words("record.own_list", { title: list.body.list.title }), inLanguage(list.body.list)].join(" ").trim() : body.checklist;
    const title = kind === "training" ? fold.dataset[body.exercise === REHEARSAL ? "rehearsal" : "training"] : own(titles, body.checklist) ?? ofSite;
    const [first, ...rest] = kind === "training" ? [trainingText(entry)] : runTexts(entry, (line) => nameOf(line, list, body));
    return element("li", {}, element("strong", { textContent: title }),
      ...[first, ...rest].map((textContent) => element("p", { textContent })));
  }
}

/** What a line says in the version that was run, where that is here. */
function nameOf(line, list, { version }) {
  const bodies = list ? [list.body, ...list.history.map((past) => past.body)] : [];
  const lines = bodies.find((body) => body.version === version)?.list.parts.flatMap((part) => part.lines);
  return lines?.find(({ id }) => id === line)?.act ?? line.replaceAll("-", " ");
}
