"""The line at the top says what was saved when it is saved, to eyes and ears, and lets it go on the next screen."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from web.hands import PHONE, Hands
from web.seven_parts import begin

# What a screen reader hears of a polite region: each text that it comes to hold.
HEAR = """() => {
  window.heard = [];
  new MutationObserver(() => heard.push(document.querySelector('.state').textContent))
    .observe(document.querySelector('.state'), { childList: true, characterData: true, subtree: true });
}"""
SAVED = "Saved on this phone."


@pytest.fixture
def hands(chromium: Any, module_server: Any) -> Iterator[Hands]:
    """A fresh phone that has just begun a strip-down."""
    context = chromium.new_context(**PHONE)
    hands = Hands(context.new_page(), module_server.url)
    hands.open()
    begin(hands)
    yield hands
    context.close()


def test_what_was_saved_is_said_on_its_screen_and_where_the_program_leads_on(hands: Hands) -> None:
    status = hands.page.get_by_role("status").filter(has_text=SAVED)
    # Beginning a strip-down led here.
    expect(status).to_have_count(1)
    hands.to("Off")
    expect(hands.status()).not_to_contain_text(SAVED)
    hands.to("Take off")
    expect(hands.status()).not_to_contain_text(SAVED)
    hands.name("Horn")
    hands.saved("Horn")
    expect(status).to_have_count(1)
    hands.page.go_back()
    expect(hands.page.get_by_role("heading", level=1)).to_have_text("What is off")
    expect(hands.status()).not_to_contain_text(SAVED)


def test_each_save_is_heard_of_by_itself(hands: Hands) -> None:
    hands.to("Off")
    hands.to("Take off")
    hands.page.evaluate(HEAR)
    for part in ("Horn", "Seat"):
        hands.name(part)
        hands.saved(part)
    said = hands.page.evaluate("() => heard.map((text) => text.includes('Saved on this phone.'))")
    beginnings = [now for before, now in zip([False, *said], said, strict=False) if now and not before]
    assert len(beginnings) == 2
