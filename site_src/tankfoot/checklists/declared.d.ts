/** The shape of what the build writes as checklists/declared.js: see site/declared.py. */

/** Emergency numbers by region: [number, a second one that works there, what the region is called]. */
export const regions: Record<string, [string, string | null, string]>;
/** Whose limits hold in a region, null where none of them is known to. */
export const standardOf: Record<string, string | null>;
export const standards: Record<string, Record<string, string>>;
/** How many answers are a whole practice. */
export const wholePractice: number;
