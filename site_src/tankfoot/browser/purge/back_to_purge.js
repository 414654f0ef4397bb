/** On the emergency cards: the way back to the purge that is under way, or to a rehearsal. */

import { orShowTrouble } from "../parts/trouble.js";
import { unfinishedPurges } from "../storage/record.js";

// Only for who comes from there: in an emergency nobody is led into a rehearsal.
const isRehearsing = new URL(document.referrer || location.href).pathname.endsWith("/rehearsal/run/");
document.querySelector("[data-back-to-rehearsal]").hidden = !isRehearsing;
const line = document.querySelector("[data-back-to-purge]");
const [purge] = await orShowTrouble(unfinishedPurges()) ?? [];
if (purge) {
  line.querySelector("a").hash = new URLSearchParams({ "go-on": purge.id });
  line.hidden = false;
}
