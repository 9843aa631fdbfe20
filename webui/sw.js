// The service worker: serves the program's files from the phone, so that it starts without a network.
//
// Every file is kept under its address and the SHA-256 of its content. A phone that
// has nothing yet fetches all in one piece, which is shorter and asks once; a new
// version fetches only what changed. Each file is checked against the list. A new
// version waits until a person lets it take over; until then the old one finds its own.

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

/** What of the one piece is of the piece and not of each file in it. */
const OF_THE_WHOLE = ["Content-Encoding", "Content-Length", "ETag", "Vary"];

/** Everything in one piece, cut up and kept. Whatever is wrong with it, `keep` fetches by itself what is missing then. */
async function keepInOnePiece(cache) {
  const { program, pieces } = self.PRECACHE;
  const answer = await fetch(program, { cache: "no-store" });
  if (!answer.ok || answer.redirected) return;
  const bytes = new Uint8Array(await answer.arrayBuffer());
  let at = 0;
  await Promise.all(pieces.map(async ([path, length, type, caching]) => {
    const piece = bytes.subarray(at, at += length);
    if ((await sha256(piece)) !== listed[path]) return;
    const headers = new Headers(answer.headers);
    for (const name of OF_THE_WHOLE) headers.delete(name);
    headers.set("Content-Type", type);
    headers.set("Cache-Control", caching);
    await cache.put(keyOf(path), new Response(piece, { headers }));
  }));
}

const keepEach = (cache) => Promise.all(Object.keys(listed).map((path) => keep(cache, path)));

async function keepAll() {
  const cache = await caches.open(CACHE);
  if ((await cache.keys()).length > 0) {
    await keepEach(cache);
    return;
  }
  await keepInOnePiece(cache).catch(() => {});
  try {
    await keepEach(cache);
  } catch (error) {
    // A phone that is too full for the program needs what room it has for the log.
    await caches.delete(CACHE);
    throw error;
  }
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
