// Registers the service worker and tells when a newer version of the program waits.
// Nothing is lost by taking over: forms lie in the database, not in the page.

import { SERVICE_WORKER } from "./addresses.js";

const listeners = new Set();
/** @type {"none"|"waiting"|"taken_over"} */
let state = "none";
let registration = null;
let asked = false;

function set(next) {
  if (next === state) return;
  state = next;
  for (const listener of listeners) listener(state);
}

/**
 * Register; call once.
 * @returns {Promise<boolean>} whether the program will start without a network
 */
export async function register() {
  const container = navigator.serviceWorker;
  if (!container) return false;
  let controlled = Boolean(container.controller);
  container.addEventListener("controllerchange", () => {
    if (asked) location.reload();
    // Another tab took the new version: this page still works, and may be loaded again when it suits.
    else if (controlled) set("taken_over");
    asked = false;
    controlled = true;
  });
  registration = await container.register(SERVICE_WORKER, { updateViaCache: "none" });
  look();
  registration.addEventListener("updatefound", () => registration.installing?.addEventListener("statechange", look));
  document.addEventListener("visibilitychange", () => { if (!document.hidden) check(); });
  await container.ready;
  return true;
}

function look() {
  if (registration.waiting && navigator.serviceWorker.controller) set("waiting");
}

/** Ask the PC for a newer version now; quiet when the PC is away. */
export async function check() {
  await registration?.update().catch(() => {});
}

/**
 * Hear of a newer version; called at once with what is known.
 * @param {(state: "none"|"waiting"|"taken_over") => void} listener
 * @returns {() => void} stops it
 */
export function subscribe(listener) {
  listeners.add(listener);
  listener(state);
  return () => listeners.delete(listener);
}

/** A person said yes: the new version takes over and the page is loaded once. */
export function takeOver() {
  asked = true;
  if (registration?.waiting) registration.waiting.postMessage({ type: "take_over" });
  else location.reload();
}
