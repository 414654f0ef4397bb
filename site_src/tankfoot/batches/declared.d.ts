/** The shape of what the build writes as batches/declared.js: see site/declared.py. */

export interface EventKind {
  amount: string | null;
  days: boolean;
  sign: number;
  fills: boolean;
  empties: boolean;
  carried: boolean;
}

export const events: Record<string, EventKind>;
export const defaultRules: any[];
