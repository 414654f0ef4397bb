/** The invented brewery: put into the record by one tap, and out of it by another. */

import { readFile } from "../../office/transfer.js";
import { words } from "../../wording/words.js";
import { discard, takeIn } from "../storage/record.js";
import { clearCurrentTank, settings } from "../storage/settings.js";
import { isSound } from "../storage/sound.js";
import { everythingInSlices } from "../storage/whole.js";
import { orShowTrouble } from "../parts/trouble.js";
import { datedFromToday } from "./demo_dates.js";

export function offerDemo(page, whenChanged) {
  const loader = page.querySelector("[data-demo-load]");
  const remover = page.querySelector("[data-demo-remove]");
  const says = page.querySelector("[data-demo-says]");
  loader.addEventListener("click", async () => {
    says.textContent = await orShowTrouble(loadDemo(loader.dataset.from)) ?? "";
    await whenChanged();
  });
  remover.addEventListener("click", async () => {
    says.textContent = await orShowTrouble(removeDemo()) ?? "";
    await whenChanged();
  });
}

async function loadDemo(address) {
  const text = await fetchText(address);
  if (text === null) return words("demo.not_here");
  const { entries } = await readFile(text);
  await takeIn(datedFromToday(entries, Date.now()));
  return words("demo.loaded");
}

async function fetchText(address) {
  try {
    const answer = await fetch(address);
    return answer.ok ? await answer.text() : null;
  } catch (error) {
    if (!(error instanceof TypeError)) throw error; // what fetch throws without signal
    return null;
  }
}

async function removeDemo() {
  const ids = [];
  for await (const some of everythingInSlices()) {
    ids.push(...some.filter(([, entry]) => entry?.demo === true && isSound(entry)).map(([id]) => id));
  }
  await discard(...ids);
  if (ids.includes(settings().tank?.id)) clearCurrentTank();
  return words("demo.gone", { count: ids.length });
}
