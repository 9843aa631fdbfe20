"""Opening the long lists of a long log: the first time, and once the core has been kept as it stands."""

from collections.abc import Callable
from typing import Any

from playwright.sync_api import Page, expect

from fold import long_log

ENTRIES = 5_000
AGAIN = 3
PATIENCE_MS = 240_000
# A plain file of the same origin, from which modules can be asked without any screen.
BARE_PAGE = "/style.css"
SCREENS = {
    "statement": ("mass statement", ".statement tbody tr"),
    "off": ("parts that are off", "a.line .figure"),
    "back": ("way back", "details.part"),
    "open": ("open items", "details"),
}
RECEIVE = "async (entries) => (await import('/log.js')).receive(entries[0].strip, entries, entries.length)"
KEPT = "async () => Boolean(await (await caches.open('cotterbook-core')).match('/core-image'))"
FORGET = "async () => (await import('/core-image.js')).forget()"
FOLDED = """async (strip) => {
    const shop = await import('/shop.js');
    const from = performance.now();
    await shop.ready();
    await shop.view(strip, 'strip');
    return performance.now() - from;
}"""


def open_list(page: Page, url: str, strip: str, screen: str) -> float:
    """Milliseconds from opening the address to the sums and the first rows on the screen, by the page's clock."""
    page.goto("about:blank")
    page.goto(f"{url}/#/strip/{strip}/{screen}")
    expect(page.locator(SCREENS[screen][1]).first).to_be_visible(timeout=PATIENCE_MS)
    return float(page.evaluate("performance.now()"))


def first_sums(page: Page, url: str, strip: str) -> float:
    """Milliseconds from a core that has not begun to start to the sums of the log, without any screen."""
    page.goto("about:blank")
    page.goto(url + BARE_PAGE)
    return float(page.evaluate(FOLDED, strip))


def wait_until_kept(page: Page) -> None:
    """Ask nothing until the core has been kept."""
    while not page.evaluate(KEPT):
        page.wait_for_timeout(500)


def start_figures(runs: Callable[..., dict[str, Any]], page: Page, url: str) -> Callable[[str], dict[str, Any]]:
    """Puts the log on the phone; what comes back gives the rows of the table, for one way to run the browser."""
    entries = long_log(ENTRIES)
    page.evaluate(RECEIVE, entries)
    strip = entries[0]["strip"]

    def first_and_again(what: str, measure: Callable[[], float], how: str) -> dict[str, Any]:
        page.evaluate(FORGET)
        first = measure()
        wait_until_kept(page)
        again = [measure() for _ in range(AGAIN)]
        return {f"{what}, nothing kept{how}": runs([first]), f"{what}, core kept{how}": runs(again)}

    def rows(how: str) -> dict[str, Any]:
        found: dict[str, Any] = {}
        for screen, (name, _) in SCREENS.items():
            what = f"{name} of {ENTRIES:,} entries opened offline"
            found |= first_and_again(what, lambda screen=screen: open_list(page, url, strip, screen), how)
        what = f"core started and {ENTRIES:,} entries folded"
        return found | first_and_again(what, lambda: first_sums(page, url, strip), how)

    return rows
