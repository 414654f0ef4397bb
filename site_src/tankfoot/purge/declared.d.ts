/** The shape of what the build writes as purge/declared.js: see site/declared.py. */

/** Where an event leads: a state, or states by how the tank stands. */
export type Target = string | Record<string, string>;
export type Row = {
  state: string; saves?: string[]; events: Record<string, Target>; skip?: Target; again?: string; hold?: string;
  pressures?: string[]; facts?: string[]; wait?: number; gate?: boolean; stop?: boolean; running?: boolean;
  vented?: boolean;
};

/** Parts of stacks to pick a tank's own from. */
export const typical: Record<string, string[]>;
/** How the tank stands, by the event that begins a purge. */
export const begins: Record<string, string>;
/** Steps that share a screen at the short pace. */
export type Shared = {
  steps: string[]; also?: string[]; told?: string[]; without?: string[]; tables?: string[]; kinds?: string[];
};
/** The tables, each with the ways that its variations change. */
export const rows: Record<string, { steps: Row[]; changes: Record<string, Record<string, Target>>; short: Shared[] }>;
/** For each reading the calculator and the field that it is like. */
export const readings: Record<string, [string, string]>;
export const sums: Record<string, { calculator: string; inputs: Record<string, string> }>;
/** Readings that count only once a hand has touched them. */
export const instruments: string[];
/** Of these, what holds for the whole purge once it was read. */
export const readOnce: string[];
/** Readings that are asked in litres or gallons. */
export const buckets: string[];
/** How far one tap moves what an instrument showed, by unit. */
export const stepBy: Record<string, number>;
/** How much a usual bucket holds, by the unit that buckets are told in. */
export const bucketHolds: Record<string, number>;
