/** The page of a purge of this phone's record: one under way goes on, else a tank is chosen and a new one begins. */

import { orShowTrouble } from "../parts/trouble.js";
import { whyNotShort } from "./hand_pace.js";
import { theRecord } from "./keeper.js";
import { offerPurges } from "./open_purges.js";
import { freshPurge } from "./run.js";
import { showChoice } from "./start.js";
import { openView } from "./view.js";

await openView({ keeper: theRecord, whyEvery: async () => await orShowTrouble(whyNotShort()) ?? null, offer });

function offer(page, { resume, take }) {
  return offerPurges(page, {
    resume,
    async choose(tankAsked, isRunning) {
      page.toggleAttribute("data-tank-asked", tankAsked !== null);
      await showChoice(page, tankAsked, isRunning, (tank) => take(tank, freshPurge(tank)));
    },
  });
}
