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
const IDLE_MS = 400;
// Letters of JSON that leave too little behind to be looked for, and so much that it must not wait.
const LITTLE = 1_000_000;
const MUCH = 16_000_000;
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
  return { call: python.globals.get("call"), collect: () => python.runPython("gc.collect()") };
}

let idle = 0;
/** Letters of JSON that went in and out since Python last looked for what it no longer needs. */
let left = 0;

/** That look goes over all there is, and in a long log takes longer than the work itself: it waits until nobody does. */
function collectLater(letters, collect) {
  left += letters;
  clearTimeout(idle);
  if (left < LITTLE) return;
  idle = setTimeout(() => { left = 0; collect(); }, left < MUCH ? IDLE_MS : 0);
}

const starting = start();
starting.then(
  () => postMessage({ ready: true }),
  (error) => postMessage({ number: null, broken: String(error?.message ?? error) }),
);

addEventListener("message", async ({ data: { number, name, json } }) => {
  try {
    const { call, collect } = await starting;
    const answer = call(name, json);
    postMessage({ number, json: answer });
    collectLater(json.length + answer.length, collect);
  } catch (error) {
    postMessage({ number, broken: String(error?.message ?? error) });
  }
});
