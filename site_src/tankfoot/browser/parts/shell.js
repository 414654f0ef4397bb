/** What every page does: keeps the app on the phone, says so only when it is true, and waits with a new version. */

import { words } from "../../wording/words.js";

const ROOT = new URL("../../../", import.meta.url);
const LOOK = 60e3; // ms between two looks for a new version on a page that stays open
const AFTER = 300; // ms

let isTouched = false;

keepOnPhone();
setTimeout(() => import("./alarms.js"), AFTER); // what the page shows comes first
for (const type of ["pointerdown", "keydown"]) addEventListener(type, () => { isTouched = true; }, { capture: true });
addEventListener("tankfoot-remembered", showRemembered);

/** The page was filled in from an older copy: it is loaded anew, unless somebody already works on it. */
function showRemembered() {
  if (!isTouched) location.reload();
}

async function keepOnPhone() {
  if (!("serviceWorker" in navigator)) {
    say("app.cannot_keep");
    return;
  }
  let taking = false;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (taking) location.reload();
  });
  let registration;
  try {
    registration = await navigator.serviceWorker.register(workerAddress(), { scope: ROOT.pathname, updateViaCache: "none" });
  } catch (error) {
    say("app.not_kept");
    if (!(error instanceof DOMException || error instanceof TypeError)) throw error;
    console.info("not kept:", error.message);
    return;
  }
  navigator.serviceWorker.ready.then(() => say("app.ready"));
  registration.installing?.addEventListener("statechange", ({ target }) => {
    if (target.state === "redundant" && !registration.active) say("app.not_kept");
  });
  offerNewVersion(registration, () => { taking = true; });
  const look = () => {
    if (document.visibilityState === "visible" && navigator.onLine) registration.update().catch(stayWithThisVersion);
  };
  document.addEventListener("visibilitychange", look);
  setInterval(look, LOOK);
}

/** No signal, or a deploy in between: the version on the phone goes on. */
function stayWithThisVersion(error) {
  console.info("no update:", error.message);
}

function workerAddress() {
  const address = new URL("sw.js", ROOT).href;
  if (!window.trustedTypes) return address;
  return trustedTypes.createPolicy("tankfoot-worker", { createScriptURL: () => address }).createScriptURL("");
}

function offerNewVersion(registration, onTake) {
  const notice = document.querySelector("[data-new-version]");
  const offer = () => {
    const waiting = registration.waiting;
    if (!waiting || !navigator.serviceWorker.controller) return;
    notice.hidden = false;
    notice.querySelector("button").onclick = () => {
      onTake();
      waiting.postMessage("take-over");
    };
  };
  // Another window may have found it, and it may be whole before this one hears of it.
  const watch = () => {
    registration.installing?.addEventListener("statechange", offer);
    offer();
  };
  watch();
  registration.addEventListener("updatefound", watch);
}

function say(key) {
  for (const place of document.querySelectorAll("[data-kept]")) place.textContent = words(key);
}
