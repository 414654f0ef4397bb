/* Begins the thread that the page names before the page's own modules are there: it takes as long to start as they do. */
(() => {
  const { thread: name } = document.currentScript.dataset;
  if (!globalThis.Worker) return; // thread.js is asked then, and its page does without
  const root = document.querySelector("link[rel=manifest]").href;
  const address = (of) => new URL(`js/${of}.js`, root).href;
  const policy = globalThis.trustedTypes?.createPolicy("tankfoot-thread", { createScriptURL: address });
  const thread = new Worker(policy ? policy.createScriptURL(name) : address(name), { type: "module", name });
  globalThis.tankfootAtOnce = { name, thread, policy };
})();
