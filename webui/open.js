// Opens the program. On the first load of all the service worker fetches it in one piece, and the page takes it from
// there: else each of its files would be fetched twice, one by one.

import { SERVICE_WORKER } from "./addresses.js";

/** A phone that has waited so long for the one piece takes file by file what it needs. */
const LONGEST_MS = 20_000;

/** Until the service worker serves this page, or it is known that it will not. */
async function served() {
  const container = navigator.serviceWorker;
  if (!container || container.controller) return;
  const controlled = new Promise((resolve) => container.addEventListener("controllerchange", resolve, { once: true }));
  const { active, installing } = await container.register(SERVICE_WORKER, { updateViaCache: "none" });
  // One that is there already and does not serve this page was told not to.
  if (active || !installing) return;
  const failed = new Promise((resolve) => installing.addEventListener("statechange", () => { if (installing.state === "redundant") resolve(); }));
  await Promise.race([controlled, failed]);
}

const longest = new Promise((resolve) => setTimeout(resolve, LONGEST_MS));
// Without a service worker the program still works; it only needs the PC to start.
await Promise.race([served().catch(() => {}), longest]);
await import("./app.js");
