/** Sentences for what is wrong and for what is due. Twin of those in __init__.py. */

import { usualLocale } from "../quantities/declared.js";
import { calculatorWords, dueWords, fileWords, problemTemplates } from "./declared.js";

/** How the name of a site's own rule begins. It is no word: a record has it, and each language says it in its own. */
export const OWN_RULE = "own-";

/**
 * Why an input is refused.
 *
 * @param {string} id of a calculator
 * @param {{field: string, code: string, facts: Object<string, string>}} problem
 */
export function problemSentence(id, { field, code, facts }) {
  const own = calculatorWords[id];
  const label = Object.hasOwn(own.labels, field) ? own.labels[field] : field;
  return filled(own.refusals[code] ?? problemTemplates[code], { label, ...facts });
}

/**
 * What is wrong with a file or an entry, behind its place.
 *
 * @param {{where: string, code: string, facts: Object<string, any>}} problem
 */
export function fileSentence({ where, code, facts }) {
  const shown = facts.what ? { ...facts, what: shapeWords(facts) } : facts;
  return `${where} ${filled(fileWords.problems[code], shown)}`.trim();
}

/** What a value must be. */
export function shapeWords(must) {
  const { shapes, units } = fileWords;
  const what = filled(shapes[must.what], { ...must, unit: units[must.unit] });
  return must.null ? filled(shapes["or-null"], { what }) : what;
}

/** What an item that is due asks for. @param {any} item @param {any} rule that it is asked by, null where that is no more */
export function dueTitle(item, rule) {
  const { rules, unnamed } = dueWords;
  const known = Object.hasOwn(rules, item.rule) ? rules[item.rule] : null;
  return rule?.title || (known ?? (item.rule.startsWith(OWN_RULE) ? unnamed : item.rule));
}

/** Why an item is due, in one sentence. @param {any} item @param {string} shownAt when that was, as a person reads it */
export function dueSentence({ rule, why: { code, days } }, shownAt) {
  const { own, why, at_once: atOnce } = dueWords;
  const reason = (Object.hasOwn(own, rule) && own[rule][code]) || why[code];
  return filled(days === 0 ? atOnce[code] : reason, { at: shownAt, days: length(days) });
}

function length(days) {
  const [forms, count] = days < 1 ? [dueWords.hours, days * 24] : [dueWords.days, days];
  const tenths = Math.floor(count * 10 + 0.5) / 10;
  return filled(ofCount(forms, tenths), { count: tenths });
}

/** The form for a count by the language's rule. @param {Object<string, string>} forms @param {number} count */
export function ofCount(forms, count) {
  return forms[new Intl.PluralRules(usualLocale).select(count)] ?? forms.other;
}

/** A template with what stands in its {braces}. */
export function filled(template, facts) {
  return template.replace(/\{(\w+)\}/g, (_, name) => facts[name]);
}
