// The service worker: serves the program's files from the phone, so that it starts without a network.
//
// Every file is kept under its address and the SHA-256 of its content. A new
// version fetches only what changed, checks each file against the list, and waits
// until a person lets it take over; until then the old version finds its own files.

/* global PRECACHE */
importScripts("/precache.js");

const CACHE = "cotterbook-files";
const listed = self.PRECACHE.files;
const keyOf = (path) => new URL(`${path}?sha256=${listed[path]}`, location.origin).href;

async function sha256(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

async function keep(cache, path) {
  if (await cache.match(keyOf(path))) return;
  const answer = await fetch(path, { cache: "no-store" });
  if (!answer.ok || answer.redirected) throw new Error(`${path}: ${answer.status}`);
  if ((await sha256(await answer.clone().arrayBuffer())) !== listed[path]) throw new Error(`${path} is not what the list says`);
  await cache.put(keyOf(path), answer);
}

async function keepAll() {
  const cache = await caches.open(CACHE);
  await Promise.all(Object.keys(listed).map((path) => keep(cache, path)));
}

async function dropOthers() {
  const cache = await caches.open(CACHE);
  const wanted = new Set(Object.keys(listed).map(keyOf));
  const kept = await cache.keys();
  await Promise.all(kept.filter((request) => !wanted.has(request.url)).map((request) => cache.delete(request)));
}

self.addEventListener("install", (event) => event.waitUntil(keepAll()));

self.addEventListener("activate", (event) => event.waitUntil((async () => {
  // An older version that became active meanwhile may have dropped files of this one.
  await keepAll().catch(() => {});
  await dropOthers();
  await self.clients.claim();
})()));

self.addEventListener("message", (event) => {
  if (event.data?.type === "take_over") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== location.origin || address.pathname.startsWith("/api/")) return;
  if (Object.hasOwn(listed, address.pathname)) event.respondWith(fromPhone(address.pathname, request));
  // A page that is not ours to keep comes from the PC, and without it the program opens instead.
  else if (request.mode === "navigate") event.respondWith(fetch(request).catch(() => fromPhone("/", request)));
});

async function fromPhone(path, request) {
  const cache = await caches.open(CACHE);
  return (await cache.match(keyOf(path))) ?? fetch(request);
}
