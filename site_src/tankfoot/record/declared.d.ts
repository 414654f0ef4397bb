/** The shape of what the build writes as record/declared.js: see site/declared.py. */

/** The part of a JSON Schema that validate.js knows. */
export interface Shape {
  /** What a value must be, for a sentence. */
  what: Record<string, string | boolean>;
  type: string | string[];
  required?: string[];
  properties?: Record<string, Shape>;
  additionalProperties?: Shape;
  items?: Shape;
  prefixItems?: Shape[];
}

export const FORMAT: string;
export const SCHEMA_VERSION: number;
export const exportFile: Shape;
export const entry: Shape;
export const bodies: Record<string, Shape>;
