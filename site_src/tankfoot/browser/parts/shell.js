/** What every page does: keeps the app on the phone, says so only when it is true, and waits with a new version. */

import { words } from "../../wording/words.js";
import { openMemory } from "../storage/memory.js";

const ROOT = new URL("../../../", import.meta.url);
const WORKER = new URL("sw.js", ROOT).href;
const LOOK = 60e3; // ms between two looks for a new version on a page that stays open
const AFTER = 300; // ms

const languages = openMemory("tankfoot-languages"); // those whose site this phone keeps, for before_drawn.js

let isTouched = false;
let policy = globalThis.tankfootWorkerPolicy ?? null; // made once: a page may have no second one of that name

keepOnPhone();
setTimeout(() => import("./alarms.js"), AFTER); // what the page shows comes first
for (const type of ["pointerdown", "keydown"]) addEventListener(type, () => { isTouched = true; }, { capture: true });
addEventListener("tankfoot-remembered", showRemembered);
for (const link of document.querySelectorAll("[data-language]")) link.addEventListener("click", changeLanguage);

/** The page was filled in from an older copy: it is loaded anew, unless somebody already works on it. */
function showRemembered() {
  if (!isTouched) location.reload();
}

async function changeLanguage(event) {
  const link = event.currentTarget;
  event.preventDefault();
  const { speak } = await import("./speak.js");
  const isSpoken = await speak(link.dataset.language, link.href);
  if (!isSpoken) link.nextElementSibling.textContent = words("app.not_this_language");
}

async function keepOnPhone() {
  const { serviceWorker } = navigator;
  if (!serviceWorker) {
    say("app.cannot_keep");
    return;
  }
  let taking = false;
  let registration;
  let tries = 0;
  let again = 0; // no sooner: each try may send all of it
  const register = async () => {
    again = Date.now() + LOOK * 2 ** tries;
    tries += 1;
    registration = await registered();
    if (registration) offerNewVersion(registration, () => { taking = true; });
  };
  const look = () => {
    if (document.visibilityState !== "visible" || !navigator.onLine || registration?.installing) return;
    if (registration?.active) registration.update().catch(stayWithThisVersion);
    else if (Date.now() >= again) register();
  };
  const hadVersion = serviceWorker.controller?.scriptURL === WORKER;
  serviceWorker.addEventListener("controllerchange", () => {
    if (taking) location.reload();
    else if (hadVersion) offer(() => location.reload()); // another window took it: this page is of the one before
  });
  serviceWorker.addEventListener("message", ({ data }) => {
    if (registration?.installing && !registration.active) sayHowFar(data);
  });
  serviceWorker.ready.then(({ scope }) => { if (scope === ROOT.href) sayKept(); }); // another language's may be nearer
  await register();
  document.addEventListener("visibilitychange", look);
  addEventListener("online", () => {
    again = 0;
    look();
  });
  setInterval(look, LOOK);
}

async function registered() {
  try {
    const address = workerAddress();
    const registration = await navigator.serviceWorker.register(address, { scope: ROOT.pathname, updateViaCache: "none" });
    registration.installing?.addEventListener("statechange", ({ target }) => {
      if (target.state === "activated") sayKept();
      if (target.state === "redundant" && !registration.active) say("app.not_kept");
    });
    return registration;
  } catch (error) {
    say("app.not_kept");
    if (!(error instanceof DOMException || error instanceof TypeError)) throw error;
    console.info("not kept:", error.message);
    return null;
  }
}

function sayKept() {
  say("app.ready");
  const { lang } = document.documentElement;
  if (!languages.glance()[lang]) languages.save({ [lang]: true });
}

function sayHowFar({ come, whole }) {
  say("app.keeping", { come: Math.round(come / 1000), whole: Math.round(whole / 1000) });
}

/** No signal, or a deploy in between: the version on the phone goes on. */
function stayWithThisVersion(error) {
  console.info("no update:", error.message);
}

function workerAddress() {
  if (!window.trustedTypes) return WORKER;
  policy ??= trustedTypes.createPolicy("tankfoot-worker", { createScriptURL: () => WORKER });
  return policy.createScriptURL("");
}

function offerNewVersion(registration, onTake) {
  const offerWaiting = () => {
    const waiting = registration.waiting;
    if (!waiting || !navigator.serviceWorker.controller) return;
    offer(() => {
      onTake();
      waiting.postMessage("take-over");
    });
  };
  // Another window may have found it, and it may be whole before this one hears of it.
  const watch = () => {
    registration.installing?.addEventListener("statechange", offerWaiting);
    offerWaiting();
  };
  watch();
  registration.addEventListener("updatefound", watch);
}

function offer(take) {
  const notice = document.querySelector("[data-new-version]");
  notice.hidden = false;
  notice.querySelector("button").onclick = take;
}

function say(key, facts) {
  for (const place of document.querySelectorAll("[data-kept]")) place.textContent = words(key, facts);
}
