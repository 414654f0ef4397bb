/** Who reviewed a list, and when: kept in the record, shown with the version that it was for, on paper too. */

import { words } from "../../wording/words.js";
import { edited, newEntry, ofKind, put } from "../storage/record.js";
import { written } from "../parts/dates.js";
import { element } from "../parts/figures.js";
import { orShowTrouble } from "../parts/trouble.js";

const page = document.querySelector("[data-checklist]");
const fold = page.querySelector("[data-reviews]");
const [reviewer, day] = ["#reviewer", "#reviewed-on"].map((id) => fold.querySelector(id));
const { checklist, version, versions } = page.dataset;

let reviews = (await orShowTrouble(ofKind("review")) ?? []).filter(({ body }) => body.list === checklist);
day.value = today();
fold.querySelector("[data-review]").addEventListener("click", keep);
show();

/** The day here, as a field for days writes it. */
function today() {
  const now = new Date();
  return new Date(now - now.getTimezoneOffset() * 60e3).toISOString().slice(0, 10);
}

async function keep() {
  const by = reviewer.value.trim();
  const isDay = /^(19|20)\d\d-/.test(day.value) && day.value <= today();
  fold.querySelector("[data-review-problem]").textContent = by
    ? isDay ? "" : words("review.no_day") : words("review.no_name");
  if (!by || !isDay) return;
  const review = newEntry("review", { list: checklist, version, by, on: day.value });
  if (!await orShowTrouble(put(review))) return;
  reviews = [...reviews, review];
  reviewer.value = "";
  show();
}

async function takeOut(review) {
  if (!await orShowTrouble(put(edited(review, review.body, { deleted: true })))) return;
  reviews = reviews.filter(({ id }) => id !== review.id);
  show();
}

/** Those of this version first, the latest day first among each. */
function show() {
  const isOther = ({ body }) => Number(body.version !== version);
  reviews.sort((a, b) => isOther(a) - isOther(b) || (a.body.on < b.body.on ? 1 : -1));
  const list = fold.querySelector("[data-reviewed]");
  list.hidden = reviews.length === 0;
  list.replaceChildren(...reviews.map((review) => {
    const out = element("button", { type: "button", className: "plain", textContent: words("review.take_out") });
    out.addEventListener("click", () => takeOut(review));
    return element("li", {}, textOf(review), " ", out);
  }));
  for (const place of page.querySelectorAll("[data-awaits-review]")) place.hidden = reviews.some((each) => !isOther(each));
  page.querySelector("[data-reviewed-sheet]").textContent = reviews.map(textOf).join(" ");
}

function textOf({ body }) {
  const facts = { by: body.by, on: written(`${body.on}T12:00:00`, "wholeDay"), version: body.version };
  const of = body.version === version ? "by" : versions.split(" ").includes(body.version) ? "other_language" : "earlier";
  return words(`review.${of}`, facts);
}
