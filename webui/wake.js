// Keeps the screen on while many pictures go across or a file is worked on: a phone that falls asleep stops there.
//
// The browser takes the lock back whenever the page is out of sight, and may say no, as when the battery is low:
// then everything goes on as without it.

/** Fewer pictures are across before a screen goes dark. */
const PICTURES = 10;

/** Why the screen is to stay on, each by its name. @type {Set<string>} */
const reasons = new Set();
/** @type {WakeLockSentinel|null} */
let lock = null;
let asking = false;

const wanted = () => reasons.size > 0 && !document.hidden;

async function settle() {
  if (asking || !navigator.wakeLock) return;
  asking = true;
  try {
    // What is wanted may change while the browser is asked.
    while (wanted() !== Boolean(lock)) {
      if (lock) await letGo();
      else await take();
    }
  } catch {
    // Asked again at the next change, or when the page comes back.
  } finally {
    asking = false;
  }
}

async function take() {
  const taken = await navigator.wakeLock.request("screen");
  taken.addEventListener("release", () => { if (lock === taken) lock = null; });
  if (!taken.released) lock = taken;
}

async function letGo() {
  const held = lock;
  lock = null;
  await held.release();
}

/** @param {string} reason @param {boolean} on */
export function stayAwake(reason, on) {
  if (on) reasons.add(reason);
  else reasons.delete(reason);
  return settle();
}

/**
 * Stay awake while many pictures are sent: from ten on, until none is left or sending stops.
 * @param {(listener: (state: {phase: string, unsent_photos: number}) => void) => unknown} subscribe to the sender
 */
export function stayAwakeWhileSending(subscribe) {
  subscribe(({ phase, unsent_photos: left }) => stayAwake("pictures", phase === "sending" && left >= (reasons.has("pictures") ? 1 : PICTURES)));
  document.addEventListener("visibilitychange", settle);
}
