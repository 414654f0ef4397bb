/** The shape of what the build writes as wording/declared.js: see site/declared.py. */

type Texts = { [name: string]: string };
type Labels = { labels: Texts; results: Texts; refusals: Texts; remarks: Texts };

export const calculatorWords: { [id: string]: Labels };
export const problemTemplates: Texts;
export const fileWords: { problems: Texts; shapes: Texts; units: Texts };
export const dueWords: {
  unnamed: string;
  rules: Texts; states: Texts; why: Texts; at_once: Texts; own: { [rule: string]: Texts }; days: Texts; hours: Texts;
  calendar: Texts;
};
export const screens: { [screen: string]: any };
