/** Threads of their own: each runs one module. The build makes a file of its name for whoever says `THREAD = "..."`. */

let policy = null; // made once: a page may have no second one of that name

/**
 * @param {string} name of the module, such as "browser/storage/journal_worker"
 * @returns {Worker}
 */
export function newThread(name) {
  if (!globalThis.trustedTypes) return new Worker(address(name), { type: "module", name });
  policy ??= trustedTypes.createPolicy("tankfoot-thread", { createScriptURL: address });
  return new Worker(/** @type {any} */ (policy.createScriptURL(name)), { type: "module", name });
}

function address(name) {
  return new URL(`../../${name}.js`, import.meta.url).href;
}
