/** Threads of their own: each runs one module. The build makes a file of its name for whoever says `THREAD = "..."`. */

const atOnce = globalThis.tankfootAtOnce ?? null; // what thread_at_once.js began
let policy = atOnce?.policy ?? null; // made once: a page may have no second one of that name

/**
 * @param {string} name of the module, such as "browser/storage/journal_worker"
 * @returns {Worker}
 */
export function newThread(name) {
  if (atOnce?.name === name && atOnce.thread) {
    const { thread } = atOnce;
    atOnce.thread = null; // whoever asks again gets one of its own
    return thread;
  }
  if (!globalThis.trustedTypes) return new Worker(address(name), { type: "module", name });
  policy ??= trustedTypes.createPolicy("tankfoot-thread", { createScriptURL: address });
  return new Worker(/** @type {any} */ (policy.createScriptURL(name)), { type: "module", name });
}

function address(name) {
  return new URL(`../../${name}.js`, import.meta.url).href;
}
