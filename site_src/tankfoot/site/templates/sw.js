/**
 * Keeps every file of one build on the phone, whole or not at all, and answers from there. The build fills in what stands
 * in braces, and writes it and what it imports into one file.
 */

import { unpacking } from "./lzma.js";

const VERSION = "{{version}}";
const FILES = "{{files}}"; // by address: how its SHA-256 begins, and how many bytes it has in gzip
const ASKED_AT_FIRST = "{{asked_at_first}}"; // the addresses of what the first page asks for itself: not in the pack
const PACK = "{{pack}}";
const PREFIX = "{{prefix}}";
const OTHERS = "{{others}}"; // folders of the sites in other languages, which have workers of their own
const CACHE = PREFIX + VERSION;
const SCOPE = self.registration.scope;
const MISSING_PAGE = "404.html";
const NEW_LINE = 10;
const A_REQUEST = 2000; // bytes that a slow line could bring while it waits for one answer

self.addEventListener("install", (event) => event.waitUntil(keepAll()));
self.addEventListener("activate", (event) => event.waitUntil(dropOlder().then(() => self.clients.claim())));
self.addEventListener("message", (event) => {
  if (event.data === "take-over") self.skipWaiting();
});
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !isOfThis(request.url)) return;
  event.respondWith(request.mode === "navigate" ? page(request) : file(request));
});

function isOfThis(url) {
  return url.startsWith(SCOPE) && !OTHERS.some((folder) => url.startsWith(SCOPE + folder));
}

/** Each file from the nearest place that has it, and nothing is written before all are there. */
async function keepAll() {
  const found = new Map();
  await lookInKept(found);
  await openPack(found);
  await lookAtPages(found); // by now the page has them
  await fetchRest(found);
  await write(found);
}

function lacking(found, among = Object.keys(FILES)) {
  return among.filter((path) => !found.has(path));
}

/** Takes what is the very file of this build, and nothing else; whether it was. */
async function take(found, path, bytes, headers) {
  const isIt = await isKnown(bytes, FILES[path][0]);
  if (isIt) found.set(path, new Response(bytes, { headers }));
  return isIt;
}

async function isKnown(bytes, hash) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("").startsWith(hash);
}

/** What an earlier version has and this one has too. */
async function lookInKept(found) {
  for (const name of (await caches.keys()).filter(isOurs)) {
    const cache = await caches.open(name);
    await Promise.all(lacking(found).map(async (path) => {
      const answer = await cache.match(address(path));
      if (answer) await take(found, path, await answer.arrayBuffer(), answer.headers);
    }));
  }
}

/** What the page has just asked for is in the browser's own cache: it is not sent twice. */
async function lookAtPages(found) {
  await Promise.all(lacking(found, ASKED_AT_FIRST).map(async (path) => {
    const answer = await fetch(address(path), { cache: "force-cache" });
    if (isWhole(answer)) await take(found, path, await answer.arrayBuffer(), headersOf(answer));
  }));
}

/** The one file of all others, where that takes less than what is missing. A damaged one is as good as none. */
async function openPack(found) {
  const wanted = lacking(found).filter((path) => !ASKED_AT_FIRST.includes(path));
  if (weight(wanted) + wanted.length * A_REQUEST <= PACK.size) return;
  const answer = await fetch(address(PACK.address), { cache: "reload", priority: "low" });
  const bytes = isWhole(answer) ? await received(answer) : null;
  if (bytes === null) {
    console.info(`${answer.url} is not the pack of this build`);
    return;
  }
  let at = bytes.indexOf(NEW_LINE) + 1;
  for (const [path, type, length] of JSON.parse(new TextDecoder().decode(bytes.subarray(0, at)))) {
    if (!found.has(path)) await take(found, path, bytes.slice(at, at + length), headersOf(answer, type));
    at += length;
  }
}

/** What is in the pack, opened while it comes; null where it is not that of this build. */
async function received(answer) {
  const tell = teller(PACK.size);
  const pack = new Uint8Array(PACK.size);
  const open = unpacking(pack, PACK.whole);
  const reader = answer.body.getReader();
  let come = 0;
  for (let part = await reader.read(); !part.done; part = await reader.read()) {
    const { value } = part;
    if (come + value.length > PACK.size) {
      await reader.cancel();
      return null;
    }
    pack.set(value, come);
    come += value.length;
    open(come);
    await tell(value.length);
  }
  return await isKnown(pack, PACK.hash) ? open(Infinity) : null;
}

async function fetchRest(found) {
  const wanted = lacking(found);
  const tell = teller(weight(wanted));
  await Promise.all(wanted.map(async (path) => {
    const answer = await fetch(address(path), { cache: "reload" });
    if (!isWhole(answer)) throw new Error(`${answer.url} answered ${answer.status}`);
    if (!await take(found, path, await answer.arrayBuffer(), headersOf(answer))) {
      throw new Error(`${answer.url} is not the file of this build`);
    }
    await tell(weight([path]));
  }));
}

async function write(found) {
  const isNew = !(await caches.has(CACHE)); // it is not while a version that was taken back is still in use
  const cache = await caches.open(CACHE);
  try {
    await Promise.all(Array.from(found, ([path, answer]) => cache.put(address(path), answer)));
  } catch (error) {
    if (isNew) await caches.delete(CACHE);
    throw error;
  }
}

function address(path) {
  return new URL(path, SCOPE).href;
}

function weight(paths) {
  return paths.reduce((sum, path) => sum + FILES[path][1], 0);
}

function isWhole(answer) {
  return answer.status === 200 && !answer.redirected;
}

/** What the host says with an answer, such as its policy, without what is true of the answer's bytes alone. */
function headersOf(answer, type = answer.headers.get("Content-Type")) {
  const headers = new Headers(answer.headers);
  for (const name of answer.headers.keys()) if (/^content-(?!security-)/.test(name)) headers.delete(name);
  if (type !== null) headers.set("Content-Type", type);
  return headers;
}

/** Tells the pages, in tenths, how many bytes of a whole have come. */
function teller(whole) {
  let come = 0;
  let told = 0;
  return async (bytes) => {
    come += bytes;
    if (come < Math.min(whole, told + whole / 10)) return;
    told = come;
    const pages = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
    for (const page of pages) if (isOfThis(page.url)) page.postMessage({ come, whole });
  };
}

let opened = null;

/** This version's cache, opened once for the life of the worker. */
function kept() {
  opened ??= caches.open(CACHE);
  return opened;
}

function isOurs(name) {
  return name.startsWith(PREFIX) && !name.slice(PREFIX.length).includes("-");
}

async function dropOlder() {
  const names = (await caches.keys()).filter(isOurs);
  await Promise.all(names.filter((name) => name !== CACHE).map((name) => caches.delete(name)));
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
