"""A phone that has loaded the program once and has no signal: what tests of single screens begin from."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from playwright.sync_api import expect

from web.hands import PHONE, Hands
from web.seven_parts import begin

LAST = "async (strip) => (await (await import('/log.js')).entriesOf(strip)).at(-1).entry"


@contextmanager
def phone_without_signal(chromium: Any, server: Any, made: str, **options: Any) -> Iterator[Any]:
    """A small phone on which the script `made` did its work, whose answer names the strip-down: (page, strip)."""
    context = chromium.new_context(**{"viewport": {"width": 360, "height": 740}, "has_touch": True} | options)
    page = context.new_page()
    page.goto(server.url + "/")
    # The service worker is there first, and the app opens from what it keeps.
    expect(page.locator("h1")).to_be_visible()
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    strip = page.evaluate(made)
    context.set_offline(True)
    yield page, strip
    context.close()


@contextmanager
def hands_without_signal(chromium: Any, server: Any) -> Iterator[Hands]:
    """Hands on a common phone that has begun a strip-down."""
    context = chromium.new_context(**PHONE)
    hands = Hands(context.new_page(), server.url)
    hands.install()
    context.set_offline(True)
    begin(hands)
    yield hands
    context.close()


def empty_form(hands: Hands) -> Hands:
    """The form for taking off, with nothing in it."""
    hands.open(f"#/strip/{hands.strip}/take_off")
    hands.reload()
    if hands.draft() is not None:
        hands.tap("Start afresh")
        hands.tap("Start afresh", hands.page.get_by_role("dialog"))
        expect(hands.page.get_by_text("Your unfinished part is here again")).to_have_count(0)
    expect(hands.page.get_by_label("Name of the part")).to_have_value("")
    return hands
