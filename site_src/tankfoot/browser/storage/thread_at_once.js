/* Begins the thread that the page names before the page's own modules are there: it takes as long to start as they do. */
(() => {
  const { dataset: { thread: name }, src } = document.currentScript;
  if (!globalThis.Worker) return; // thread.js is asked then, and its page does without
  const address = (of) => new URL(`../../${of}.js`, src).href;
  const policy = globalThis.trustedTypes?.createPolicy("tankfoot-thread", { createScriptURL: address });
  const thread = new Worker(policy ? policy.createScriptURL(name) : address(name), { type: "module", name });
  globalThis.tankfootAtOnce = { name, thread, policy };
})();
