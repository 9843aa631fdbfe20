// Runs the core's Python away from the page, so that drawing never waits for it.
//
// Messages in: {number, name, json}; out: {number, json} with what `phone.call`
// answered, or {number, broken: text} with Python's traceback. {ready: true} or
// {number: null, broken} comes once, after the start.

import { loadMicroPython } from "./vendor/micropython-1.27.0.mjs";
import { uuidv7 } from "./vendor/uuidv7-1.2.1.mjs";
import { CORE, MICROPYTHON } from "./addresses.js";

// The heap grows by itself beyond this: 40,000 entries fold as fast from here as from four times as much,
// and a poor phone has the rest for itself.
const HEAP_BYTES = 16 * 1024 * 1024;
// So long after the last call nobody waits for the next one.
const IDLE_MS = 150;
// So many calls in a row may leave things behind unlooked at, and so much may lie about.
const CALLS_AT_ONCE = 5;
const GARBAGE_BYTES = 12 * 1024 * 1024;
// Python's own stack, in words; the default ends at a call with some thousand arguments.
const STACK_WORDS = 64 * 1024;

async function sources() {
  const answer = await fetch(CORE);
  if (!answer.ok) throw new Error(`${CORE}: ${answer.status}`);
  return answer.json();
}

async function start() {
  const [python, modules] = await Promise.all([
    loadMicroPython({ url: MICROPYTHON, heapsize: HEAP_BYTES, pystack: STACK_WORDS }), sources(),
  ]);
  python.FS.mkdirTree("/lib/core");
  for (const [name, text] of Object.entries(modules)) python.FS.writeFile(`/lib/${name}`, text);
  python.registerJsModule("outside", { new_id: uuidv7 });
  python.runPython("import sys\nif '/lib' not in sys.path: sys.path.append('/lib')\nimport gc, outside\nfrom core import phone\ncall = phone.start(outside.new_id)\ngc.disable()");
  const allocated = python.globals.get("gc").mem_alloc;
  return { call: python.globals.get("call"), allocated, collect: () => python.runPython("gc.collect()") };
}

let idle = 0;
let calls = 0;
/** Bytes that were in use when Python last looked for what it no longer needs. */
let kept = 0;

/** That look goes over all there is, and in a long log takes longer than a call: it comes after an answer, if at all. */
function tidy({ allocated, collect }) {
  calls = 0;
  if (allocated() - kept < GARBAGE_BYTES) return;
  collect();
  kept = allocated();
}

function tidyLater(python) {
  clearTimeout(idle);
  calls += 1;
  if (calls >= CALLS_AT_ONCE) tidy(python);
  else idle = setTimeout(tidy, IDLE_MS, python);
}

const starting = start();
starting.then(
  () => postMessage({ ready: true }),
  (error) => postMessage({ number: null, broken: String(error?.message ?? error) }),
);

addEventListener("message", async ({ data: { number, name, json } }) => {
  try {
    const python = await starting;
    postMessage({ number, json: python.call(name, json) });
    tidyLater(python);
  } catch (error) {
    postMessage({ number, broken: String(error?.message ?? error) });
  }
});
