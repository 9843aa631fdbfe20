"""Charts read as tables: by whoever listens at any time, by whoever looks on a tap."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from screens import PICK, open_screen

VIEW = "async ([strip, name, more]) => (await import('/shop.js')).view(strip, name, more)"


@pytest.fixture(scope="module")
def phone(chromium: Any, demo_server: Any) -> Iterator[Any]:
    """A phone with the demo strip-down: (page, strip)."""
    context = chromium.new_context(viewport={"width": 360, "height": 740})
    page = context.new_page()
    page.goto(demo_server.url + "/")
    expect(page.locator(".lines .line")).to_have_count(1, timeout=60_000)
    yield page, page.evaluate(PICK)["strip"]
    context.close()


def test_each_chart_is_a_table_to_whoever_listens(phone: Any) -> None:
    page, strip = phone
    open_screen(page, f"#/strip/{strip}/charts")
    expect(page.get_by_role("table")).to_have_count(3)
    stairs = page.evaluate(VIEW, [strip, "staircase", {}])
    table = page.get_by_role("table").first
    expect(table.get_by_role("row")).to_have_count(len(stairs["rows"]) + 1)
    expect(table.get_by_role("columnheader")).to_have_text(["Part", "Change", "Adds up to"])
    # The last row says the sum, though it is not drawn as a word; the bars say nothing.
    last = table.get_by_role("row").last.get_by_role("cell")
    expect(last).to_have_count(2)
    expect(last.nth(1)).to_have_text("−5.58 ± 0.27 kg")


@pytest.mark.parametrize("number", [0, 1, 2])
def test_a_tap_leaves_the_bars_away_and_another_brings_them_back(phone: Any, number: int) -> None:
    page, strip = phone
    open_screen(page, f"#/strip/{strip}/charts")
    chart = page.locator(".chart").nth(number)
    button = chart.get_by_role("button", name="As a table")
    expect(button).to_have_attribute("aria-pressed", "false")
    bars = chart.locator("svg")
    assert bars.count() > 0
    button.click()
    expect(button).to_have_attribute("aria-pressed", "true")
    expect(bars).to_have_count(0)
    expect(chart.get_by_role("columnheader").last).to_be_in_viewport(ratio=0.1)
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    button.click()
    expect(bars).not_to_have_count(0)


def test_the_balance_says_where_no_difference_is_shown(phone: Any) -> None:
    page, strip = phone
    open_screen(page, f"#/strip/{strip}/charts")
    rows = page.evaluate(VIEW, [strip, "balance_chart", {}])["rows"]
    chart = page.locator(".chart").nth(1)
    for shows, words in ((False, "No difference is shown:"), (True, "Change:")):
        expect(chart.get_by_text(words)).to_have_count(len([row for row in rows if row["shows"] is shows]))
    assert {row["shows"] for row in rows} == {True, False}


# Of each axis the marks that are said, from left to right: (from, to) in pixels.
SAID = """() => Array.from(document.querySelectorAll('.chart .marks'), (marks) => Array.from(marks.children,
  (mark) => mark.getBoundingClientRect()).filter((box) => box.width > 0).map(({ left, right }) => [left, right]))"""


@pytest.mark.parametrize(("width", "size"), [(320, "100%"), (360, "100%"), (360, "200%"), (1280, "100%")])
def test_the_marks_of_an_axis_do_not_run_together(phone: Any, width: int, size: str) -> None:
    page, strip = phone
    open_screen(page, f"#/strip/{strip}/charts")
    expect(page.locator(".chart").nth(2)).to_be_visible()
    try:
        page.set_viewport_size({"width": width, "height": 740})
        page.evaluate("(size) => { document.documentElement.style.fontSize = size; }", size)
        axes = page.evaluate(SAID)
    finally:
        page.evaluate("() => { document.documentElement.style.fontSize = ''; }")
        page.set_viewport_size({"width": 360, "height": 740})
    assert len(axes) >= 4 and all(len(marks) >= 2 for marks in axes), axes
    for marks in axes:
        for (_, right), (left, _) in zip(marks, marks[1:], strict=False):
            assert left - right >= 4, axes
