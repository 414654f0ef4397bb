/** The shape of what the build writes as office/declared.js: see site/declared.py. */

export const LARGEST: number;
export const PART: number;
/** Of each column the name, the path of its value and the kind of quantity. */
export const columns: [string, string, string | null][];
