"""Measures what a person with a poor phone would feel: python tests/bench/measure.py, or some of PARTS by name."""

import argparse
import gzip
import json
import os
import platform
import statistics
import sys
import tempfile
import urllib.request
from collections.abc import Callable
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
RESULTS = Path(__file__).parent / "results"
sys.path[:0] = [str(ROOT / "tests"), str(Path(__file__).parent)]

from playwright.sync_api import Browser, Page, expect, sync_playwright  # noqa: E402

import fold  # noqa: E402
from browsers import find_chromium  # noqa: E402
from running import RunningServer  # noqa: E402
from slow import held_to_a_share  # noqa: E402
from start_again import start_figures  # noqa: E402

ENTRIES = 1_000
# What a page asks for before its service worker serves it, as `test_first_load` sees it, and what that fetches then.
FIRST = ("/", "/style.css", "/sheets.css", "/tags.css", "/open.js", "/addresses.js", "/manifest.webmanifest",
         "/icons/icon.svg", "/sw.js", "/precache.js", "/program")
STRIP = "import('/shop.js').then((shop) => shop.strips()).then((all) => all[0]?.strip ?? null)"
ALL_SENT = "import('/log.js').then((log) => log.counts()).then((counts) => counts.unsent === 0)"


def first_load(server: RunningServer, encoding: str) -> int:
    """Bytes on the wire of everything that the first load fetches, in one encoding: what the page needs before its
    service worker is there, and then all in one piece."""

    def size(address: str) -> int:
        ask = urllib.request.Request(server.url + address, headers={"Accept-Encoding": encoding})
        with urllib.request.urlopen(ask) as answer:
            return len(answer.read())

    return sum(size(address) for address in FIRST)


def install(page: Page, url: str) -> str:
    """Opens the app, waits for its service worker, begins a strip-down; gives its id."""
    page.goto(url)
    page.locator("h1").wait_for()
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    return str(
        page.evaluate(
            """async () => {
                const shop = await import('/shop.js');
                await shop.ready();
                await shop.setPerson('Ann');
                return (await shop.act('begin_strip', {name: 'Bench', machine_name: 'Bench'})).strip;
            }"""
        )
    )


def start(page: Page, url: str, strip: str) -> float:
    """Milliseconds from opening the address to a form that takes a name, with the core's choices there."""
    page.goto("about:blank")
    page.goto(f"{url}/#/strip/{strip}/take_off")
    expect(page.get_by_role("button", name="Save", exact=True)).to_be_visible(timeout=60_000)
    return float(page.evaluate("performance.now()"))


def save(page: Page, number: int) -> float:
    """Milliseconds from a tap on Save to "Saved" on the screen, by the page's own clock."""
    page.get_by_label("Name of the part").fill(f"Part {number}")
    page.evaluate(
        """() => {
            globalThis.taken = new Promise((resolve) => {
                let from;
                addEventListener('click', () => { from = performance.now(); }, {capture: true, once: true});
                new MutationObserver((changes, observer) => {
                    if (!document.querySelector('.notice.good')) return;
                    observer.disconnect();
                    resolve(performance.now() - from);
                }).observe(document.body, {childList: true, subtree: true});
            });
        }"""
    )
    page.get_by_role("button", name="Save", exact=True).click()
    taken = float(page.evaluate("taken"))
    page.get_by_role("button", name="Next part").click()
    return taken


def write_entries(page: Page, strip: str, many: int) -> list[dict[str, Any]]:
    """Puts so many unsent entries into the phone's log, as acts of the core."""
    return list(
        page.evaluate(
            """async ([strip, many]) => {
                const [shop, log] = await Promise.all([import('/shop.js'), import('/log.js')]);
                for (let i = 0; i < many / 4; i += 1) {
                    await shop.act('take_off', {strip, name: `Part ${i}`, pieces: 1, side: 'left', bag_label: '1',
                        groups: [{count: 4, thread: 'M8', length: '25'}],
                        readings: [{figure: '412', unit: 'g', step: '1'}]});
                }
                return (await log.entriesOf(strip)).map((row) => row.entry);
            }""",
            [strip, many],
        )
    )


def sync(page: Page) -> float:
    """Milliseconds from asking to send until the phone knows that the PC has everything."""
    return float(
        page.evaluate(
            f"""async () => {{
                const sync = await import('/sync.js');
                const from = performance.now();
                sync.sendNow();
                while (!(await {ALL_SENT})) await new Promise((resolve) => setTimeout(resolve, 5));
                return performance.now() - from;
            }}"""
        )
    )


def several(many: int, measure: Callable[[int], float]) -> dict[str, Any]:
    """Median, least and most of several runs, in ms."""
    return summed_up([measure(number) for number in range(many)])


def summed_up(figures: list[float]) -> dict[str, Any]:
    """Median, least and most of figures in ms."""
    found = sorted(figures)
    return {"median": statistics.median(found), "least": found[0], "most": found[-1], "runs": len(found)}


Figures = tuple[dict[str, Any], dict[str, int]]


def first_load_figures(browser: Browser, server: RunningServer) -> Figures:
    """What comes over the wire before the program works without one."""
    return {}, {f"first load, {name}": first_load(server, name) for name in ("gzip", "br")}


def phone_figures(browser: Browser, server: RunningServer) -> Figures:
    """Start and save, as fast as this machine and as a poor phone."""
    context = browser.new_context(viewport={"width": 412, "height": 915})
    page = context.new_page()
    strip = install(page, server.url)
    context.set_offline(True)
    found = {
        "start offline": several(5, lambda _: start(page, server.url, strip)),
        "save": several(10, lambda number: save(page, number)),
    }
    with held_to_a_share(page, os.getpid()) as how:
        found[f"start offline, {how}"] = several(5, lambda _: start(page, server.url, strip))
        found[f"save, {how}"] = several(10, lambda number: save(page, 100 + number))
    context.close()
    return found, {}


def fold_figures(browser: Browser, server: RunningServer) -> Figures:
    """A long log folded, and one entry added to it, on both runtimes."""
    context = browser.new_context()
    page = context.new_page()
    install(page, server.url)
    found = fold.fold_figures(summed_up, page, fold.SIZES, "")
    with held_to_a_share(page, os.getpid()) as how:
        found |= fold.fold_figures(summed_up, page, fold.SLOW_SIZES, f", {how}")
    context.close()
    return found, {}


def start_again_figures(browser: Browser, server: RunningServer) -> Figures:
    """A long log opened without signal, the first time and later."""
    context = browser.new_context(viewport={"width": 412, "height": 915})
    page = context.new_page()
    install(page, server.url)
    rows = start_figures(summed_up, page, server.url)
    context.set_offline(True)
    found = rows("")
    with held_to_a_share(page, os.getpid()) as how:
        found |= rows(f", {how}")
    context.close()
    return found, {}


def tally_figures(browser: Browser, server: RunningServer) -> Figures:
    """A total checked against 200 lines, on both runtimes: one slip explains it, or two or three at once do."""
    context = browser.new_context()
    page = context.new_page()
    install(page, server.url)
    parts, found = fold.weighed_parts(200), {}
    for slips in fold.WRITTEN:
        words = f"check of a total against 200 lines, {slips} at once explain it"
        found[f"{words}, on the PC"] = several(3, lambda _, slips=slips: fold.tally_on_the_pc(parts, slips))
        found[f"{words}, in the page"] = several(3, lambda _, slips=slips: fold.tally_in_the_page(page, parts, slips))
    with held_to_a_share(page, os.getpid()) as how:
        found[f"{words}, in the page, {how}"] = several(3, lambda _: fold.tally_in_the_page(page, parts, slips))
    context.close()
    return found, {}


def find_figures(browser: Browser, server: RunningServer) -> Figures:
    """A search in 5,000 entries, once its index is made, on both runtimes; and the making of it."""
    context = browser.new_context()
    page = context.new_page()
    install(page, server.url)
    entries, found = fold.long_log(5_000), {}

    def rows(how: str, measure: Callable[[], dict[str, Any]]) -> None:
        runs = [measure() for _ in range(3)]
        found[f"index for the search of 5,000 entries, {how}"] = summed_up([each["index"] for each in runs])
        found[f"longest piece of its making, {how}"] = summed_up([each["longest"] for each in runs])
        for text in fold.LOOKED_FOR:
            taken = [each["found"][text]["taken"] for each in runs]
            count = runs[0]["found"][text]["count"]
            found[f"search for “{text}”: {count} found, {how}"] = summed_up(taken)

    rows("on the PC", lambda: fold.find_on_the_pc(entries))
    rows("in the page", lambda: fold.find_in_the_page(page, entries))
    with held_to_a_share(page, os.getpid()) as how:
        rows(f"in the page, {how}", lambda: fold.find_in_the_page(page, entries))
    context.close()
    return found, {}


def sync_figures(browser: Browser, server: RunningServer) -> Figures:
    """Sending 1,000 entries, and its bytes."""
    context = browser.new_context()
    page = context.new_page()
    sent: list[int] = []
    page.on("request", lambda each: sent.append(len(each.post_data or "")) if "/api/sync" in each.url else None)
    strip = install(page, server.url)

    def once(_: int) -> float:
        context.set_offline(True)
        write_entries(page, strip, ENTRIES)
        context.set_offline(False)
        sent.clear()
        return sync(page)

    times = several(3, once)
    entries = page.evaluate(
        "(s) => import('/log.js').then((l) => l.entriesOf(s)).then((r) => r.map((e) => e.entry))", strip
    )
    lines = "\n".join(json.dumps(entry, separators=(",", ":")) for entry in entries[-ENTRIES:]).encode()
    context.close()
    return {f"sync of {ENTRIES} entries": times}, {
        f"bytes sent for {ENTRIES} entries": sum(sent),
        "the entries alone": len(lines),
        "the entries alone as gzip": len(gzip.compress(lines)),
    }


PARTS = {
    "load": first_load_figures,
    "phone": phone_figures,
    "fold": fold_figures,
    "again": start_again_figures,
    "tally": tally_figures,
    "find": find_figures,
    "sync": sync_figures,
}


def main() -> None:
    """Runs all of it, or the parts that are named, and writes the table."""
    parser = argparse.ArgumentParser(description="Measure what a person with a poor phone would feel.")
    parser.add_argument("parts", nargs="*", metavar="PART", help=f"of {', '.join(PARTS)}; all where none is named")
    chosen = parser.parse_args().parts
    if unknown := [name for name in chosen if name not in PARTS]:
        parser.error(f"there is no part {unknown[0]}")
    times: dict[str, Any] = {}
    sizes: dict[str, int] = {}
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=find_chromium(), args=["--no-sandbox"])
        for name in chosen or PARTS:
            with tempfile.TemporaryDirectory() as folder:
                server = RunningServer(Path(folder) / "data").start()
                more_times, more_sizes = PARTS[name](browser, server)
                server.stop()
            times |= more_times
            sizes |= more_sizes
        version = browser.version
        browser.close()
    write(times, sizes, version)


def write(times: dict[str, Any], sizes: dict[str, int], version: str) -> None:
    """The table, printed and kept as Markdown and JSON."""
    machine = f"{platform.system()}, {os.cpu_count()} cores, Python {platform.python_version()}, Chromium {version}"
    rows = [
        f"| {name} | {each['median']:.0f} ms | {each['least']:.0f} to {each['most']:.0f} ms, {each['runs']} runs |"
        for name, each in times.items()
    ]
    rows += [f"| {name} | {size:,} bytes | |" for name, size in sizes.items()]
    table = "\n".join([machine, "", "| figure | median | spread |", "|---|---|---|", *rows, ""])
    RESULTS.mkdir(exist_ok=True)
    (RESULTS / "table.md").write_text(table, encoding="utf-8")
    (RESULTS / "table.json").write_text(json.dumps({"machine": machine, "ms": times, "bytes": sizes}, indent=1))
    print(table)


if __name__ == "__main__":
    main()
