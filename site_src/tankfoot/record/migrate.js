/** Entries of an earlier schema version as those of today. Twin of migrate.py. */

const ADDED_IN_2 = { purge: { table: "1", initials: null }, tank: { stack: null, cap_way: null } };
const STEPS = [to2, to3, to4, to5, to6, to7];

/** @param {any} entry of a schema version, damaged or not @param {number} version */
export function migrated(entry, version) {
  return STEPS.slice(version - 1).reduce((older, step) => step(older), entry);
}

function to2(entry) {
  if (!isObject(entry) || typeof entry.kind !== "string" || !Object.hasOwn(ADDED_IN_2, entry.kind)) return entry;
  const added = ADDED_IN_2[entry.kind];
  const changed = { ...entry };
  if (Object.hasOwn(entry, "body")) changed.body = bodyTo2(entry.body, added);
  if (Array.isArray(entry.history)) {
    changed.history = entry.history.map((past) => (
      isObject(past) && Object.hasOwn(past, "body") ? { ...past, body: bodyTo2(past.body, added) } : past
    ));
  }
  return changed;
}

/** Version 3 knows rounds; what version 2 held is as it was. */
function to3(entry) {
  return entry;
}

/** Version 4 knows batches, readings, rules, what was put off and notes; what version 3 held is as it was. */
function to4(entry) {
  return entry;
}

/** Version 5 knows what a cost is held against; what version 4 held is as it was. */
function to5(entry) {
  return entry;
}

/** Version 6 knows what a camera saw of a run; what version 5 held is as it was. */
function to6(entry) {
  return entry;
}

/** Version 7 knows a list's language and, by its id, the list it was copied from; what version 6 held is as it was. */
function to7(entry) {
  return entry;
}

function bodyTo2(body, added) {
  if (!isObject(body) || !Object.keys(body).length) return body;
  const missing = Object.entries(added).filter(([key]) => !Object.hasOwn(body, key));
  return { ...body, ...(body.solids === "routine" ? { solids: "mixed" } : {}), ...Object.fromEntries(missing) };
}

function isObject(value) {
  return value !== null && typeof value === "object" && !Array.isArray(value);
}
