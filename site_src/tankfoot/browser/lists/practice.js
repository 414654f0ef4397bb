/** The clamp gate as an exercise: a drawing, a choice, why it is right or wrong. Each answer is kept at once. */

import { edited, newEntry, ofKind, put } from "../storage/record.js";
import { words } from "../../wording/words.js";
import { settings } from "../storage/settings.js";
import { written } from "../parts/dates.js";
import { element } from "../parts/figures.js";
import { scoreText } from "../parts/list_runs.js";
import { orShowTrouble } from "../parts/trouble.js";

const PAST = 10; // scores shown

const page = document.querySelector("[data-practice]");
const exercise = page.dataset.practice;
const stacks = [...page.querySelectorAll("[data-stack]")];
const over = page.querySelector("[data-over]");

let runs = (await orShowTrouble(ofKind("training")) ?? [])
  .filter(({ body }) => body.exercise === exercise)
  .sort((a, b) => (a.created < b.created ? 1 : -1));
let run = runs.find(({ body }) => body.answers.length < stacks.length) ?? freshRun();

for (const stack of stacks) {
  stack.addEventListener("click", ({ target }) => choose(stack, target.closest("[data-choice]")?.dataset.choice));
  stack.querySelector("[data-next]").addEventListener("click", () => showNext(true));
}
over.querySelector("button").addEventListener("click", () => {
  run = freshRun();
  showNext(true);
});
showNext();
page.dataset.ready = "true";

function freshRun() {
  const initials = settings().initials || null;
  return newEntry("training", { exercise, at: new Date().toISOString(), initials, answers: [] });
}

async function choose(stack, chosen) {
  if (!chosen || "answered" in stack.dataset) return;
  const button = stack.querySelector(`button[data-choice=${chosen}]`);
  const right = "right" in button.dataset;
  const answer = { stack: stack.dataset.stack, chosen, right, at: new Date().toISOString() };
  const changed = edited(run, { ...run.body, answers: [...run.body.answers, answer] });
  stack.dataset.answered = "";
  if (!await orShowTrouble(put(changed))) {
    delete stack.dataset.answered;
    return;
  }
  run = changed;
  runs = [run, ...runs.filter(({ id }) => id !== run.id)];
  showReply(stack, button);
}

function showReply(stack, button) {
  for (const each of stack.querySelectorAll("button[data-choice]")) each.disabled = true;
  mark(stack, button, "✗");
  mark(stack, stack.querySelector("[data-right]"), "✓");
  stack.querySelector("[data-reply-here]").textContent = button.dataset.reply;
  showScores();
  const next = stack.querySelector("[data-next]");
  next.hidden = false;
  next.focus(); // brings the reply above the thumb, wherever was tapped
}

/** A sign on the button and, in the drawing, beside the letter; the right one's comes last and stays. */
function mark(stack, button, sign) {
  const { choice } = button.dataset;
  button.textContent = `${sign} ${button.textContent.replace(/^✗ /, "")}`;
  const letter = stack.querySelector(`g[data-choice=${choice}]`);
  if (letter) letter.dataset.mark = sign;
}

function showNext(isAsked) {
  const answered = new Set(run.body.answers.map(({ stack }) => stack));
  if (!answered.size) for (const stack of stacks) reset(stack);
  const left = stacks.filter(({ dataset }) => !answered.has(dataset.stack));
  const next = mixed(left)[0];
  for (const stack of stacks) stack.hidden = stack !== next;
  over.hidden = Boolean(next);
  showScores();
  if (isAsked) (next ?? over).querySelector("h2").focus();
}

/** The kinds in their order, within a kind another order each time. */
function mixed(left) {
  const [kind] = left.map(kindOf);
  return left.filter((stack) => kindOf(stack) === kind).sort(() => Math.random() - 0.5);
}

function kindOf(stack) {
  return stack.dataset.asks;
}

function reset(stack) {
  delete stack.dataset.answered;
  for (const each of stack.querySelectorAll("button[data-choice]")) {
    each.disabled = false;
    each.textContent = each.textContent.replace(/^[✓✗] /, "");
  }
  for (const letter of stack.querySelectorAll("[data-mark]")) delete letter.dataset.mark;
  stack.querySelector("[data-reply-here]").textContent = "";
  stack.querySelector("[data-next]").hidden = true;
}

function showScores() {
  const { answers } = run.body;
  const score = scoreText(answers);
  const count = stacks.length - answers.length;
  page.querySelector("[data-score]").textContent = words(answers.length ? "practice.left" : "practice.begin", { score, count });
  page.querySelector("[data-total]").textContent = score;
  const past = runs.filter((each) => each !== run || answers.length === stacks.length);
  page.querySelector("[data-no-past]").hidden = past.length > 0;
  const list = page.querySelector("[data-past]");
  list.hidden = past.length === 0;
  list.replaceChildren(...past.slice(0, PAST).map((each) => (
    element("li", { textContent: `${written(each.created)}: ${scoreText(each.body.answers)}` })
  )));
}
