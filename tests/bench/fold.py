"""Folding a long log and adding one entry to it, in both runtimes: the PC's Python, and the phone's in a real page."""

import json
import time
import uuid
from collections.abc import Callable
from typing import Any

from playwright.sync_api import Page

from cotterbook.core import phone

SIZES = (1_000, 5_000, 10_000)
# The size that is aimed at, and the double of it.
SLOW_SIZES = (5_000, 10_000)
RUNS = 5
STAMP = {"now": 1_760_000_000_000, "device": "0195a000-0000-7000-8000-000000000907", "who": "Ann"}
TALLY = {"view": "tally", "which": "came_in"}
# Totals of 200 parts that one, two and three slips at once explain, and fewer do not.
WRITTEN = {1: "107463", 2: "120000.3", 3: "500000.3"}
TALLY_IN_PAGE = """async ({strip, entries, asked}) => {
    const core = await import('/core.js');
    await core.call('drop', {strip});
    for (let i = 0; i < entries.length; i += 500)
        await core.call('load', {strip, entries: entries.slice(i, i + 500)});
    const from = performance.now();
    let found = {so_far: null};
    do found = (await core.call('view', {strip, ...asked, so_far: found.so_far})).answer; while (found.so_far);
    return {size: found.size, taken: performance.now() - from};
}"""

# Folds the log in the page's worker, then adds one entry at a time; milliseconds of each by the page's clock.
IN_PAGE = """async ({strip, entries, more}) => {
    const core = await import('/core.js');
    await core.call('drop', {strip});
    const timed = async (work) => {
        const from = performance.now();
        await work();
        return performance.now() - from;
    };
    const sums = () => core.call('view', {strip, view: 'strip'});
    // In pages, as log.js gives them to the core.
    const fold = await timed(async () => {
        for (let i = 0; i < entries.length; i += 500)
            await core.call('load', {strip, entries: entries.slice(i, i + 500)});
        await sums();
    });
    const adds = [];
    for (const entry of more) adds.push(await timed(async () => {
        await core.call('load', {strip, entries: [entry]});
        await sums();
    }));
    return {fold, adds};
}"""


def _log_of(work: Callable[[Any, str], Any]) -> list[dict[str, Any]]:
    """The entries of a new strip-down after some work on it: `work(act, strip)`."""
    numbers = iter(range(1, 10**9))

    def new_id() -> str:
        # Ids in order and alike in every run: their time is the clock's, their rest a counter.
        number = next(numbers)
        milliseconds = STAMP["now"] + number
        return str(uuid.UUID(int=(milliseconds << 80) | (7 << 76) | (2 << 62) | number))

    call, found = phone.start(new_id), []

    def act(name: str, /, **form: Any) -> Any:
        stamp = STAMP | {"now": STAMP["now"] + 1_000 * len(found)}
        answer = json.loads(call("act", json.dumps({"act": name, "form": form} | stamp)))["result"]
        found.extend(answer["entries"])
        call("load", json.dumps({"strip": found[0]["strip"], "entries": answer["entries"]}))
        return answer

    work(act, act("begin_strip", name="Bench", machine_name="Bench")["strip"])
    return found


def long_log(many: int) -> list[dict[str, Any]]:
    """A strip-down of `many` entries or a few more: parts with bolts in a bag, a reading, every fourth one put back."""

    def work(act: Any, strip: str) -> None:
        number, entries = 0, 0
        while entries < many:
            number += 1
            entries += sum(len(answer["entries"]) for answer in _part(act, strip, number))

    return _log_of(work)


def _part(act: Any, strip: str, number: int) -> list[Any]:
    """One part of the long log, and what came of it."""
    answer = act(
        "take_off",
        strip=strip,
        name=f"Part {number}",
        bag_label=str(number % 20),
        outcome="goes_back" if number % 4 == 0 else "stays_off",
        outcome_done=number % 4 != 0,
        groups=[{"count": 4, "thread": "M8", "length": "25", "torque": "20"}],
        readings=[{"figure": str(100 + number % 900), "unit": "g", "step": "1"}],
    )
    if number % 4 != 0:
        return [answer]
    (moved,) = [entry for entry in answer["entries"] if entry["kind"] == "move"]
    back = {"strip": strip, "group": moved["group"], "count": 4}
    return [
        answer,
        act("move", **back, to="machine", from_bag=moved["to_bag"], **{"from": "bag"}),
        act("tighten", **back, torque="20"),
        act("part_on", strip=strip, part=answer["part"]),
    ]


def on_the_pc(entries: list[dict[str, Any]], more: list[dict[str, Any]]) -> dict[str, Any]:
    """The same two figures with the PC's Python."""
    strip = entries[0]["strip"]
    call = phone.start(lambda: str(uuid.uuid4()))

    def timed(work: Callable[[], Any]) -> float:
        begun = time.perf_counter()
        work()
        return (time.perf_counter() - begun) * 1_000

    def load(some: list[dict[str, Any]]) -> None:
        call("load", json.dumps({"strip": strip, "entries": some}))
        call("view", json.dumps({"strip": strip, "view": "strip"}))

    def whole() -> None:
        call("drop", json.dumps({"strip": strip}))
        load(entries)

    return {"fold": timed(whole), "adds": [timed(lambda entry=entry: load([entry])) for entry in more]}


def in_the_page(page: Page, entries: list[dict[str, Any]], more: list[dict[str, Any]]) -> dict[str, Any]:
    """The two figures with the phone's Python, in the worker of a real page."""
    return dict(page.evaluate(IN_PAGE, {"strip": entries[0]["strip"], "entries": entries, "more": more}))


def weighed_parts(many: int) -> list[dict[str, Any]]:
    """A strip-down of so many parts that are off for good, 101 g to 999 g each by a scale with a step of 1 g."""
    return _log_of(lambda act, strip: [
        act("take_off", strip=strip, name=f"Part {number}", outcome="stays_off", outcome_done=True,
            readings=[{"figure": str(100 + number * 37 % 900), "unit": "g", "step": "1"}])
        for number in range(1, many + 1)
    ])


def tally_on_the_pc(entries: list[dict[str, Any]], slips: int) -> float:
    """Milliseconds that the PC takes to find what explains a written total, of which so many slips at once do."""
    strip = entries[0]["strip"]
    call = phone.start(lambda: str(uuid.uuid4()))
    call("load", json.dumps({"strip": strip, "entries": entries}))
    begun, so_far, found = time.perf_counter(), None, {"so_far": True}
    while found["so_far"]:
        asked = {"strip": strip, "total": WRITTEN[slips], "unit": "g", "so_far": so_far} | TALLY
        found = json.loads(call("view", json.dumps(asked)))["result"]["answer"]
        so_far = found["so_far"]
    assert found["size"] == slips, found
    return (time.perf_counter() - begun) * 1_000


def tally_in_the_page(page: Page, entries: list[dict[str, Any]], slips: int) -> float:
    """The same with the phone's Python, in the worker of a real page."""
    asked = {"total": WRITTEN[slips], "unit": "g"} | TALLY
    found = page.evaluate(TALLY_IN_PAGE, {"strip": entries[0]["strip"], "entries": entries, "asked": asked})
    assert found["size"] == slips, found
    return float(found["taken"])


def fold_figures(runs: Callable[..., dict[str, Any]], page: Page, sizes: tuple[int, ...], how: str) -> dict[str, Any]:
    """Rows of the table: first fold and one more entry, for each size; `runs` sums several figures up."""
    found: dict[str, Any] = {}
    for size in sizes:
        entries = long_log(size + RUNS * 4)
        begun, more = entries[:size], entries[size : size + RUNS * 4]
        runtimes = {f"in the page{how}": in_the_page(page, begun, more)}
        if not how:
            runtimes["on the PC"] = on_the_pc(begun, more)
        for name, taken in runtimes.items():
            found[f"fold of {size:,} entries, {name}"] = runs([taken["fold"]])
            found[f"one more entry and its sums on {size:,}, {name}"] = runs(taken["adds"])
    return found


# What is looked for in the long log: what every part has, one part, fasteners, a bag, a mistyped word, nothing.
LOOKED_FOR = ("part", "part 777", "m8x25", "bag 7", "p", "fastenr", "zzzz")
FIND_IN_PAGE = """async ({strip, entries, typed}) => {
    const core = await import('/core.js');
    await core.call('drop', {strip});
    for (let i = 0; i < entries.length; i += 500)
        await core.call('load', {strip, entries: entries.slice(i, i + 500)});
    // As it is read in German: the words of the choices are told with each search.
    const words = await import('/words.js');
    words.setLanguage({locale: 'de-DE', texts: await (await fetch('/languages/de.json')).json()});
    const { choices, texts } = (await core.call('choices', {})).found_by;
    const spoken = Object.fromEntries([
        ...choices.map(([field, code]) => [code, words.label(code, field)]),
        ...texts.map((text) => [text, words.t(text)]),
    ]);
    const timed = async (text) => {
        const from = performance.now();
        const { count } = await core.call('view', {strip, view: 'find', typed: text, spoken});
        return {count, taken: performance.now() - from};
    };
    // Some of it in each call, so that nobody who goes elsewhere waits for all of it.
    let index = 0;
    let longest = 0;
    for (let ready = false; !ready;) {
        const from = performance.now();
        ({ ready } = await core.call('view', {strip, view: 'find', typed: '', spoken}));
        index += performance.now() - from;
        longest = Math.max(longest, performance.now() - from);
    }
    const found = {};
    for (const text of typed) found[text] = await timed(text);
    return {index, longest, found};
}"""


def find_on_the_pc(entries: list[dict[str, Any]]) -> dict[str, Any]:
    """Milliseconds until the PC has made its index of a log, and for each search in it after that."""
    strip, call = entries[0]["strip"], phone.start(lambda: str(uuid.uuid4()))
    call("load", json.dumps({"strip": strip, "entries": entries}))

    def timed(text: str) -> dict[str, Any]:
        begun = time.perf_counter()
        found = json.loads(call("view", json.dumps({"strip": strip, "view": "find", "typed": text})))["result"]
        return {"count": found["count"], "taken": (time.perf_counter() - begun) * 1_000}

    begun, pieces, ready = time.perf_counter(), [], False
    while not ready:
        ready = json.loads(call("view", json.dumps({"strip": strip, "view": "find", "typed": ""})))["result"]["ready"]
        pieces.append((time.perf_counter() - begun) * 1_000 - sum(pieces))
    return {"index": sum(pieces), "longest": max(pieces), "found": {text: timed(text) for text in LOOKED_FOR}}


def find_in_the_page(page: Page, entries: list[dict[str, Any]]) -> dict[str, Any]:
    """The same with the phone's Python, in the worker of a real page."""
    asked = {"strip": entries[0]["strip"], "entries": entries, "typed": LOOKED_FOR}
    return dict(page.evaluate(FIND_IN_PAGE, asked))
