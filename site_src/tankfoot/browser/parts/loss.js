/** Says where entries of the record are missing, and puts them back from the second copy with one tap. */

import { words } from "../../wording/words.js";
import { forgetLoss, keeping, lookForLoss, secondCopyOf } from "../storage/keeping.js";
import { takeIn } from "../storage/record.js";
import { written } from "./dates.js";
import { progressIn } from "./progress.js";
import { orShowTrouble } from "./trouble.js";

/** @param {HTMLElement} page @param {() => Promise<void>} whenChanged shows the page anew */
export async function offerLost(page, whenChanged) {
  const place = page.querySelector("[data-loss]");
  const [says, back, known] = ["says", "back", "known"].map((name) => place.querySelector(`[data-loss-${name}]`));
  const found = await orShowTrouble(lookForLoss());
  if (!found) return;
  show(found);

  function show({ missing, lost }) {
    place.hidden = missing.length + lost === 0;
    says.textContent = missing.length ? words("loss.missing", { count: missing.length }) : sayLost(lost);
    back.hidden = !missing.length;
    known.hidden = !back.hidden;
    back.onclick = async () => {
      back.disabled = true; // a second tap meanwhile is none
      await orShowTrouble(putBack(missing));
      back.disabled = false;
      const now = await orShowTrouble(lookForLoss());
      if (now) show(now);
      await whenChanged();
    };
    known.onclick = async () => {
      await orShowTrouble(forgetLoss());
      place.hidden = true;
    };
  }

  async function putBack(missing) {
    const tell = progressIn(says, "loss.putting_back");
    let done = 0;
    for await (const some of secondCopyOf(missing)) {
      await takeIn(some);
      done += some.length;
      await tell(done, missing.length);
    }
  }
}

function sayLost(count) {
  const { exported } = keeping();
  return exported === undefined
    ? words("loss.lost", { count })
    : words("loss.lost_since", { count, when: written(exported) });
}
