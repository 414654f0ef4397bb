/** The shape of what the build writes as purge/declared.js: see site/declared.py. */

export const steps: Record<string, { events: Record<string, string>; skip: string | null }>;
/** For each reading the calculator and the field that it is like. */
export const readings: Record<string, [string, string]>;
export const sums: Record<string, { calculator: string; inputs: Record<string, string> }>;
