/** The shape of what the build writes as quantities/declared.js: see site/declared.py. */

export interface Unit { symbol: string; dimension: string; factor: number; offset: number }

export const systems: Record<string, string>;
export const units: Record<string, Unit>;
/** The units that a kind of quantity is offered in, by system. */
export const kinds: Record<string, Record<string, string[]>>;
export const dimensions: Record<string, string>;
export const symbolsByName: Record<string, string>;
/** Of the page's words, and how a phone writes it that says nothing nearer. */
export const language: string;
export const usualLocale: string;
/** Whether the language has a decimal comma, the regions that write the other sign, and whether its digits are Latin. */
export const numerals: { comma: boolean, others: string[], latin: boolean };
