"""Every screen of the demo: accessible, nothing cut off, large enough for a glove, readable in the sun."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from looked_over import CONTRASTS, HEIGHT, what_breaks
from screens import NAMES, PICK, open_screen, place_of, unfold

# Those that show figures: to find none there would be to look at nothing.
WITH_FIGURES = ("start", "off", "back", "statement", "part", "sending", "torque")


@pytest.fixture(scope="module")
def demo(chromium: Any, demo_server: Any) -> Iterator[Any]:
    """A phone that has fetched the demo strip-down: (page, what names its screens, what broke in it)."""
    context = chromium.new_context(viewport={"width": 360, "height": HEIGHT}, has_touch=True)
    page, broke = context.new_page(), list[Any]()
    page.on("pageerror", lambda error: broke.append(error))
    page.goto(demo_server.url + "/")
    expect(page.locator(".lines .line")).to_have_count(1, timeout=60_000)
    yield page, page.evaluate(PICK), broke
    context.close()


@pytest.mark.parametrize("name", NAMES)
def test_a_screen_of_the_demo_is_for_everybody(demo: Any, name: str) -> None:
    page, found, broke = demo
    open_screen(page, place_of(name, **found))
    unfold(page)
    # A screen that broke while it was drawn shows little, and little is never too wide.
    assert not broke
    assert page.evaluate(CONTRASTS) or name not in WITH_FIGURES
    assert what_breaks(page) == {}
    assert not broke


def test_the_theme_that_was_chosen_stays(demo: Any) -> None:
    page = demo[0]
    open_screen(page, place_of("sending", **demo[1]))
    page.get_by_label("Dark, for the night").check()
    expect(page.locator("html")).to_have_attribute("data-theme", "dark")
    page.reload()
    expect(page.locator("html")).to_have_attribute("data-theme", "dark")
    page.get_by_label("As the phone").check()
    expect(page.locator("html")).not_to_have_attribute("data-theme", "dark")
