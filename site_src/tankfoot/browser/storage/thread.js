/** Threads of their own: each runs one module of the app's one file, or of a file made for it alone. */

let policy = null; // made once: a page may have no second one of that name

/**
 * @param {string} name of the module, such as "browser/storage/journal_worker"
 * @param {string} file that it is in
 * @returns {Worker}
 */
export function newThread(name, file = "tankfoot") {
  if (!globalThis.trustedTypes) return new Worker(address(file), { type: "module", name });
  policy ??= trustedTypes.createPolicy("tankfoot-thread", { createScriptURL: address });
  return new Worker(/** @type {any} */ (policy.createScriptURL(file)), { type: "module", name });
}

function address(file) {
  return new URL(`../../${file}.js`, import.meta.url).href;
}
