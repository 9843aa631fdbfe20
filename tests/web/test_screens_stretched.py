"""Every screen with long names and large figures: accessible, nothing cut off, large enough, readable in the sun."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from looked_over import HEIGHT, what_breaks
from screens import NAMES, STRETCH, open_screen, place_of, unfold


@pytest.fixture(scope="module")
def stretched(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A phone with a strip-down that stretches all: (page, what names its screens, what broke in it)."""
    context = chromium.new_context(viewport={"width": 360, "height": HEIGHT}, has_touch=True)
    page, broke = context.new_page(), list[Any]()
    page.on("pageerror", lambda error: broke.append(error))
    page.goto(module_server.url + "/")
    expect(page.locator("h1")).to_be_visible()
    yield page, page.evaluate(STRETCH), broke
    context.close()


@pytest.mark.parametrize("name", NAMES)
def test_a_stretched_screen_is_for_everybody(stretched: Any, name: str) -> None:
    page, found, broke = stretched
    open_screen(page, place_of(name, **found))
    unfold(page)
    # A screen that broke while it was drawn shows little, and little is never too wide.
    assert not broke
    assert what_breaks(page) == {}
    assert not broke
