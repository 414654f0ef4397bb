/** On the emergency cards: the way back to the purge that is under way. */

import { orShowTrouble } from "../parts/trouble.js";
import { unfinishedPurges } from "../storage/record.js";

const line = document.querySelector("[data-back-to-purge]");
const [purge] = await orShowTrouble(unfinishedPurges()) ?? [];
if (purge) {
  line.querySelector("a").hash = new URLSearchParams({ "go-on": purge.id });
  line.hidden = false;
}
