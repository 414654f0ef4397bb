/** On the emergency cards: the way back to the purge that is under way. */

import { unfinishedPurges } from "../storage/record.js";

const line = document.querySelector("[data-back-to-purge]");
const [purge] = await unfinishedPurges();
if (purge) {
  line.querySelector("a").hash = new URLSearchParams({ "go-on": purge.id });
  line.hidden = false;
}
