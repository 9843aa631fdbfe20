// What screens share: a view of the core that stays fresh, acting with its problems, and what was said last.

import { useEffect, useRef, useState } from "../vendor/preact.js";
import { KeptAsDraft } from "../errors.js";
import * as log from "../log.js";
import * as shop from "../shop.js";
import { t } from "../words.js";
import { ask } from "./ask.js";

const listeners = new Set();
let lastSaid = "";

/** Put words in the line at the top: what was saved, and only once it was. */
export function say(words) {
  lastSaid = words;
  for (const listener of listeners) listener(words);
}

// What was said belongs to the screen it was said on, unless the program itself leads on from there.
let leading = false;
addEventListener("hashchange", () => {
  if (!leading) say("");
  leading = false;
});

/** Lead on to another screen after a save; what was said of it stays for that screen. @param {string} address as `route` gives it */
export function leadOn(address) {
  leading = location.hash !== address;
  location.hash = address;
}

/** The words said last. */
export function useSaid() {
  const [said, setSaid] = useState(lastSaid);
  useEffect(() => { listeners.add(setSaid); return () => listeners.delete(setSaid); }, []);
  return said;
}

/** Wait for a small thing that nobody watches, such as a setting; if it fails, the line at the top says so. */
export async function orSay(done) {
  try {
    return await done;
  } catch (error) {
    if (!error.sentence) throw error;
    say(t(error.sentence));
    return undefined;
  }
}

/** Any error as problems in the form that the core gives them. */
export const problemsOf = (error) => {
  if (error.problems) return error.problems;
  if (!error.sentence) throw error;
  return [{ code: error.name, field: "", ...error.sentence }];
};

/** Something asked for at the start and again at each change that concerns it; {data, trouble, retry}. */
export function useFresh(load, keys, concerns) {
  const [state, setState] = useState({ data: null, trouble: null });
  const [again, setAgain] = useState(0);
  useEffect(() => {
    let live = true;
    const ask = () => load().then(
      (data) => live && setState({ data, trouble: null }),
      (error) => live && setState((old) => ({ ...old, trouble: problemsOf(error)[0] })));
    ask();
    const stop = shop.onChange((change) => { if (concerns(change)) ask(); });
    return () => { live = false; stop(); };
  }, [...keys, again]);
  return { ...state, retry: () => setAgain(again + 1) };
}

const concernsOf = (strip) => (change) => change.strips?.includes(strip) && change.what !== "strips";

/** A view of a strip-down as the core works it out. */
export const useView = (strip, view, args = {}) =>
  useFresh(() => shop.view(strip, view, args), [strip, view, JSON.stringify(args)], concernsOf(strip));

/**
 * A view of a strip-down that hangs on the time: as of the moment it is asked for, so never before what it tells of.
 * @param {number} [everyMs] asked anew so often, for what counts down in sight
 */
export function useViewNow(strip, view, everyMs) {
  const [turn, setTurn] = useState(0);
  useEffect(() => {
    const timer = everyMs && setInterval(() => setTurn((last) => last + 1), everyMs);
    return () => clearInterval(timer);
  }, [everyMs]);
  return useFresh(() => shop.view(strip, view, { now_ms: Date.now() }), [strip, view, turn], concernsOf(strip));
}

/** The lines of the start screen. */
export const useSummaries = () => useFresh(() => shop.strips(), [], (change) => change.what === "strips");

/** Forms begun on this phone: [{key, value, at, submitted, problems}]. */
export const useDrafts = () => useFresh(() => log.drafts(), [], (change) => change.what === "drafts");

const never = () => false;

/** The lists to choose from, as the core gave them last until it answers; {data, trouble, retry}. */
export function useLists() {
  const fresh = useFresh(shop.choices, [], never);
  const kept = useFresh(shop.keptChoices, [], never);
  return { ...fresh, data: fresh.data ?? kept.data ?? null };
}

/** The lists to choose from; null until they are there. */
export const useChoices = () => useLists().data;

const AFTER_TYPING_MS = 200;

/**
 * What the core answers to a form that is being typed, a moment after the last key: {answer, problems}.
 * @param {(() => Promise<object>)|null} ask null while there is nothing to ask
 * @param {string} typed what the answer hangs on
 */
export function useAnswer(ask, typed) {
  const [state, setState] = useState({ answer: null, problems: [] });
  useEffect(() => {
    let live = true;
    const put = (next) => { if (live) setState(next); };
    const asked = () => (ask ? ask() : Promise.resolve(null));
    const timer = setTimeout(() => {
      asked().then((answer) => put({ answer, problems: [] }), (error) => put({ answer: null, problems: problemsOf(error) }));
    }, AFTER_TYPING_MS);
    return () => { live = false; clearTimeout(timer); };
  }, [typed]);
  return state;
}

/** Asks once who is working; false when nobody says. */
export async function someoneWorks() {
  if (shop.person()) return true;
  const name = await ask({
    title: t("Who is working?"), input: t("Your name"), action: t("That’s me"), longest: 60,
    text: t("It stands beside everything you log. This phone keeps it; you can change it at the start."),
  });
  if (!name) return false;
  await shop.setPerson(name);
  return true;
}

/**
 * Acting: run(name, form) gives the core's answer once it is stored, or null with `problems` set.
 * A form with a draft that waits for the core gives {waits: the sentence about it}: its form is free again.
 * While one runs, `run` leaves a second tap on the same button alone; `inTurn` is for what must not get lost, such as
 * each of several pictures: it waits until its turn comes, and keeps the problems of those before it in sight.
 */
export function useActing() {
  const [problems, setProblems] = useState([]);
  const [busy, setBusy] = useState(false);
  const last = useRef(null);
  function inTurn(name, form, options) {
    const before = last.current;
    const go = () => act(name, form, options, Boolean(before));
    const mine = before ? before.then(go, go) : go();
    last.current = mine;
    const over = () => { if (last.current === mine) last.current = null; };
    mine.then(over, over);
    return mine;
  }
  const run = async (name, form, options) => (last.current ? null : inTurn(name, form, options));
  async function act(name, form, options, isQueued) {
    // The same words again are only heard if they were gone in between.
    say("");
    try {
      if (!(await someoneWorks())) return null;
      setBusy(true);
      if (!isQueued) setProblems([]);
      const answer = await shop.act(name, form, options);
      say(t("Saved on this phone."));
      return answer;
    } catch (error) {
      if (error instanceof KeptAsDraft && options?.draft) return { waits: error.sentence };
      const found = problemsOf(error);
      options?.refused?.(found);
      setProblems((old) => (isQueued ? [...old, ...found] : found));
      return null;
    } finally {
      setBusy(false);
    }
  }
  return { run, inTurn, busy, problems, setProblems };
}

export { changeSetting, deleteDraft as dropDraft, dropUnnamedPhotos, putSetting, setting, strips } from "../log.js";
