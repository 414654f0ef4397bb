/** Threads of their own: each runs one module of the app's one file. */

let policy = null; // made once: a page may have no second one of that name

/** @param {string} name of the module, such as "browser/storage/journal_worker" @returns {Worker} */
export function newThread(name) {
  const url = new URL("../../tankfoot.js", import.meta.url).href;
  if (!globalThis.trustedTypes) return new Worker(url, { type: "module", name });
  policy ??= trustedTypes.createPolicy("tankfoot-thread", { createScriptURL: () => url });
  return new Worker(/** @type {any} */ (policy.createScriptURL("")), { type: "module", name });
}
