/** What is due, as a file for the phone's own calendar. */

import { calendarFile } from "../../office/calendar.js";
import { dueNow, nowInstant, zone } from "../parts/due_now.js";
import { shareFile } from "../parts/share_file.js";
import { orShowTrouble } from "../parts/trouble.js";
import { ofKind } from "../storage/record.js";
import { beersIn } from "../storage/stays.js";

const NAME = "tankfoot-due.ics";

/** @param {HTMLElement} button */
export function offerCalendar(button) {
  button.addEventListener("click", () => orShowTrouble(share()));
}

async function share() {
  const tanks = await ofKind("tank");
  const { items, rules, stays } = await dueNow(tanks);
  const names = Object.fromEntries([...tanks.map(({ id, body }) => [id, body.name]), ...await beersIn(stays)]);
  const text = calendarFile(items, rules, names, nowInstant(), zone());
  await shareFile(new File([text], NAME, { type: "text/calendar" }));
}
