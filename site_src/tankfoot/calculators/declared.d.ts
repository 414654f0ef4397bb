/** The shape of what the build writes as calculators/declared.js: see site/declared.py. */

export interface Field {
  kind: string;
  low: number;
  high: number;
  defaults: Record<string, string | null>;
  examples: Record<string, string | null>;
  optional: boolean;
  relative: number | null;
  absolute: number | null;
  counted: boolean;
}

export interface Calculator { fields: Record<string, Field>; results: Record<string, string> }

export const calculators: Record<string, Calculator>;
