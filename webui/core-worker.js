// Runs the core's Python away from the page, so that drawing never waits for it.
//
// Messages in: {number, name, json}; out: {number, json} with what `phone.call`
// answered, or {number, broken: text} with Python's traceback. {ready: true, holds}
// or {number: null, broken} comes once, after the start. `holds` is what was said
// with {number, keep: holds} when the image was kept that it started from, else null.

import { loadMicroPython } from "./vendor/micropython-1.27.0.mjs";
import { uuidv7 } from "./vendor/uuidv7-1.2.1.mjs";
import { CORE, MICROPYTHON } from "./addresses.js";
import * as image from "./core-image.js";

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

const OUTSIDE = { new_id: uuidv7 };
const LENT = [OUTSIDE, OUTSIDE.new_id];
const BEGIN = `import sys
if '/lib' not in sys.path: sys.path.append('/lib')
import gc, outside
from core import phone
call, allocated = phone.start(outside.new_id), gc.mem_alloc
gc.disable()`;

async function sources() {
  const answer = await fetch(CORE);
  if (!answer.ok) throw new Error(`${CORE}: ${answer.status}`);
  return answer.text();
}

async function start() {
  image.watch();
  const text = sources();
  const key = text.then((files) => image.sha256(JSON.stringify([MICROPYTHON, HEAP_BYTES, STACK_WORDS, BEGIN, files])));
  const [python, files, kept] = await Promise.all([
    loadMicroPython({ url: MICROPYTHON, heapsize: HEAP_BYTES, pystack: STACK_WORDS }), text, image.kept(key),
  ]);
  if (kept) image.restore(python, kept, LENT);
  else begin(python, JSON.parse(files));
  return {
    key: await key, holds: kept?.holds ?? null, call: python.globals.get("call"), allocated: python.globals.get("allocated"),
    collect: () => python.runPython("gc.collect()"),
  };
}

function begin(python, modules) {
  python.FS.mkdirTree("/lib/core");
  for (const [name, text] of Object.entries(modules)) python.FS.writeFile(`/lib/${name}`, text);
  python.registerJsModule("outside", OUTSIDE);
  python.runPython(BEGIN);
}

let idle = 0;
let calls = 0;
/** Bytes that were in use when Python last looked for what it no longer needs. */
let used = 0;

/** That look goes over all there is, and in a long log takes longer than a call: it comes after an answer, if at all. */
function tidy(python) {
  calls = 0;
  if (python.allocated() - used >= GARBAGE_BYTES) collect(python);
}

function collect({ allocated, collect: look }) {
  look();
  used = allocated();
}

function tidyLater(python) {
  clearTimeout(idle);
  calls += 1;
  if (calls >= CALLS_AT_ONCE) tidy(python);
  else idle = setTimeout(tidy, IDLE_MS, python);
}

/** The next call need not wait until the image is stored; a phone that has no room for it does without. */
function keep(python, holds) {
  collect(python);
  const taken = image.take(LENT);
  if (taken) image.keep(taken, python.key, holds).catch(() => {});
  return JSON.stringify({ result: Boolean(taken) });
}

const starting = start();
starting.then(
  ({ holds }) => postMessage({ ready: true, holds }),
  (error) => postMessage({ number: null, broken: String(error?.message ?? error) }),
);

addEventListener("message", async ({ data: { number, name, json, keep: holds } }) => {
  try {
    const python = await starting;
    if (holds) return postMessage({ number, json: keep(python, holds) });
    postMessage({ number, json: python.call(name, json) });
    tidyLater(python);
  } catch (error) {
    postMessage({ number, broken: String(error?.message ?? error) });
  }
  return undefined;
});
