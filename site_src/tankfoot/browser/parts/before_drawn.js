/*
 * Runs before the page is drawn, so that it never flashes in the wrong light, or in another language. A phone that keeps
 * nothing yet begins to here: the app comes beside the page, not after it.
 */
(() => {
  const page = document.documentElement;
  const light = matchMedia("(prefers-color-scheme: light)");
  const remembered = (key) => {
    try {
      return JSON.parse(localStorage.getItem(key) ?? "{}");
    } catch {
      return {}; // storage refused or damaged: the phone's own light and language hold
    }
  };
  const apply = () => {
    const { theme } = remembered("tankfoot-settings");
    const resolved = theme === "light" || theme === "dark" ? theme : light.matches ? "light" : "dark";
    page.dataset.theme = resolved;
  };
  apply();
  light.addEventListener("change", apply);
  addEventListener("tankfoot-theme", apply);

  /* The language that was chosen here, else the phone's; one that the phone does not keep only where it keeps none. */
  const roots = JSON.parse(page.dataset.roots ?? "{}");
  const asked = [remembered("tankfoot-settings").language, ...navigator.languages.map((own) => own.split("-")[0])];
  const wanted = asked.find((language) => Object.hasOwn(roots, language)) ?? page.lang;
  const isThere = remembered("tankfoot-languages")[wanted] || !navigator.serviceWorker?.controller;
  if (wanted !== page.lang && isThere) {
    const here = new URL(roots[page.lang], location).pathname;
    const path = location.pathname.slice(here.length);
    location.replace(new URL(path + location.search + location.hash, new URL(roots[wanted], location)));
    return;
  }

  const { serviceWorker } = navigator;
  if (!serviceWorker || remembered("tankfoot-languages")[page.lang]) return;
  const root = new URL("./", document.querySelector("link[rel=manifest]").href);
  const address = new URL("sw.js", root).href;
  const policy = globalThis.trustedTypes?.createPolicy("tankfoot-worker", { createScriptURL: () => address });
  globalThis.tankfootWorkerPolicy = policy;
  serviceWorker.register(policy ? policy.createScriptURL("") : address, { scope: root.pathname, updateViaCache: "none" })
    .catch((error) => console.info("not yet kept:", error.message)); // shell.js tries again, and says what it knows
})();
