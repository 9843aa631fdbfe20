"""Opening the mass statement of a long log: the first time, and once the core has been kept as it stands."""

from collections.abc import Callable
from typing import Any

from playwright.sync_api import Page, expect

from fold import long_log

ENTRIES = 5_000
AGAIN = 3
PATIENCE_MS = 120_000
RECEIVE = "async (entries) => (await import('/log.js')).receive(entries[0].strip, entries, entries.length)"
KEPT = "async () => Boolean(await (await caches.open('cotterbook-core')).match('/core-image'))"
FORGET = "async () => (await import('/core-image.js')).forget()"


def open_statement(page: Page, url: str, strip: str) -> float:
    """Milliseconds from opening the address to the sums on the screen, by the page's clock."""
    page.goto("about:blank")
    page.goto(f"{url}/#/strip/{strip}/statement")
    expect(page.locator(".figure").first).to_be_visible(timeout=PATIENCE_MS)
    return float(page.evaluate("performance.now()"))


def wait_until_kept(page: Page) -> None:
    """Ask nothing until the core has been kept."""
    while not page.evaluate(KEPT):
        page.wait_for_timeout(500)


def start_figures(runs: Callable[..., dict[str, Any]], page: Page, url: str) -> Callable[[str], dict[str, Any]]:
    """Puts the log on the phone; what comes back gives the rows of the table, for one way to run the browser."""
    entries = long_log(ENTRIES)
    page.evaluate(RECEIVE, entries)
    strip = entries[0]["strip"]

    def rows(how: str) -> dict[str, Any]:
        page.evaluate(FORGET)
        first = open_statement(page, url, strip)
        wait_until_kept(page)
        again = [open_statement(page, url, strip) for _ in range(AGAIN)]
        what = f"mass statement of {ENTRIES:,} entries opened offline"
        return {f"{what}, nothing kept{how}": runs([first]), f"{what}, core kept{how}": runs(again)}

    return rows
