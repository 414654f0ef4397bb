/** Purges that were begun and not finished: which one this page opens, and the way to the others. */

import { words } from "../../wording/words.js";
import { inAddress } from "../parts/address.js";
import { written } from "../parts/dates.js";
import { element } from "../parts/figures.js";
import { canRun, nameOf } from "../parts/purge_wait.js";
import { orShowTrouble } from "../parts/trouble.js";
import { openRun } from "./run.js";
import { unfinishedPurges } from "../storage/record.js";

/**
 * The purge that the address names, or that of the tank it names, opens; else what is not finished is offered, else a
 * new one begins. Whatever opens, the others wait under it by name.
 */
export async function offerPurges(page, { resume, choose }) {
  const open = await orShowTrouble(unfinishedPurges()) ?? [];
  const asked = inAddress();
  const [purge, tank] = [asked.get("go-on"), asked.get("tank")];
  const wanted = open.find(({ id, body }) => id === purge || (tank !== null && body.tank === tank));
  const others = open.filter((each) => each !== wanted);
  const goOn = (entry) => { showOthers(page, open.filter((each) => each !== entry)); return resume(entry); };
  const start = () => choose(tank, open.filter(canRun));
  if (wanted || tank || !open.length) {
    showOthers(page, others);
    await (wanted ? resume(wanted) : start());
  } else {
    offer(page, open, { goOn, start });
  }
}

function offer(page, open, { goOn, start }) {
  for (const each of page.querySelectorAll("[data-step]")) each.hidden = true;
  const made = page.querySelector("[data-open-purge]").content.firstElementChild;
  page.querySelector("[data-open-purges]").replaceChildren(...open.map((entry) => offered(made, entry, goOn)));
  page.querySelector("[data-resume]").hidden = false;
  page.querySelector("[data-another]").onclick = async () => {
    page.querySelector("[data-resume]").hidden = true;
    showOthers(page, open);
    await start();
  };
}

function offered(template, entry, goOn) {
  const made = document.importNode(template, true);
  const part = (name) => made.querySelector(`[data-${name}]`);
  part("open-name").textContent = nameOf(entry);
  part("open-what").textContent = whatOf(entry);
  part("go-on").onclick = () => goOn(entry);
  part("leave").onclick = () => { part("leave-sure").hidden = false; part("leave").hidden = true; };
  part("leave-no").onclick = () => { part("leave-sure").hidden = true; part("leave").hidden = false; };
  part("leave-yes").onclick = async () => { if (await orShowTrouble(openRun(entry).leave())) location.reload(); };
  return made;
}

function showOthers(page, others) {
  const place = page.querySelector("[data-others]");
  place.hidden = others.length === 0;
  place.querySelector("ul").replaceChildren(...others.map((entry) => {
    const address = new URL(location.href);
    address.hash = new URLSearchParams({ "go-on": entry.id }).toString();
    const link = element("a", { className: "tile", href: address.href },
      element("strong", { textContent: nameOf(entry) }), " ", element("span", { textContent: whatOf(entry) }));
    link.addEventListener("click", () => setTimeout(() => location.reload()));
    return element("li", {}, link);
  }));
}

function whatOf({ body, created }) {
  const when = written(body.events[0]?.at ?? created);
  return words("purge.open_since", { solids: words(`purge.solids.${body.solids}`), when });
}
