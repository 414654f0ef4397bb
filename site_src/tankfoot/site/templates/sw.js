/** Keeps every file of one build on the phone, whole or not at all, and answers from there. Written by the build. */

const VERSION = "{{version}}";
const FILES = "{{files}}";
const PREFIX = "tankfoot-";
const CACHE = PREFIX + VERSION;
const SCOPE = self.registration.scope;
const MISSING_PAGE = "404.html";

self.addEventListener("install", (event) => event.waitUntil(keepAll()));
self.addEventListener("activate", (event) => event.waitUntil(dropOlder().then(() => self.clients.claim())));
self.addEventListener("message", (event) => {
  if (event.data === "take-over") self.skipWaiting();
});
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(SCOPE)) return;
  event.respondWith(request.mode === "navigate" ? page(request) : file(request));
});

async function keepAll() {
  const answers = await Promise.all(Object.entries(FILES).map(([path, hash]) => fetchWhole(path, hash)));
  const cache = await caches.open(CACHE);
  await Promise.all(answers.map(([url, answer]) => cache.put(url, answer)));
}

/** One file, refused unless it is the very file of this build. */
async function fetchWhole(path, hash) {
  const url = new URL(path, SCOPE).href;
  const answer = await fetch(url, { cache: "reload" });
  if (answer.status !== 200 || answer.redirected) throw new Error(`${url} answered ${answer.status}`);
  const digest = await crypto.subtle.digest("SHA-256", await answer.clone().arrayBuffer());
  const found = Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
  if (!found.startsWith(hash)) throw new Error(`${url} is not the file of this build`);
  return [url, answer];
}

let opened = null;

/** This version's cache, opened once for the life of the worker. */
function kept() {
  opened ??= caches.open(CACHE);
  return opened;
}

async function dropOlder() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(PREFIX) && name !== CACHE).map((name) => caches.delete(name)));
}

async function page(request) {
  const url = new URL(request.url);
  const path = url.pathname.replace(/index\.html$/, "");
  const cache = await kept();
  const found = await cache.match(url.origin + path);
  if (found) return found;
  if (await cache.match(`${url.origin}${path}/`)) return Response.redirect(`${path}/${url.search}`);
  return missing(cache);
}

/** The page for an unknown address, its relative links turned to the site's root. */
async function missing(cache) {
  const html = await (await cache.match(new URL(MISSING_PAGE, SCOPE).href)).text();
  const rooted = html.replace(/ (href|src)="(?![a-z]+:|#)(?:\.\/)?/g, ` $1="${new URL(SCOPE).pathname}`);
  return new Response(rooted, { status: 404, headers: { "Content-Type": "text/html; charset=utf-8" } });
}

async function file(request) {
  const cache = await kept();
  return await cache.match(request.url.split(/[?#]/)[0]) ?? fetch(request);
}
