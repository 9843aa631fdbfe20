"""A total that somebody wrote, checked on a phone without signal: the slip is named, and leads to its part."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from looked_over import RULES
from screens import sticking_out
from web.offline import phone_without_signal

# Three parts, 2346 g, 871 g and 415 g, off and staying off: 3632 g.
MADE = """async () => {
  const shop = await import('/shop.js');
  await shop.setPerson('Ann');
  const { strip } = await shop.act('begin_strip', { name: 'Evening work', machine_name: 'Test hack' });
  for (const [name, figure] of [['Rear rack', '2346'], ['Horn', '871'], ['Chain guard', '415']])
    await shop.act('take_off', { strip, name, outcome: 'stays_off', outcome_done: true,
      readings: [{ figure, unit: 'g', step: '1', pieces: 1 }] });
  return strip;
}"""


@pytest.fixture
def page(chromium: Any, server: Any) -> Iterator[Any]:
    """A phone on the screen for checking totals, its signal gone."""
    with phone_without_signal(chromium, server, MADE) as (page, strip):
        page.goto(f"{server.url}/#/strip/{strip}/statement")
        page.get_by_role("link", name="Check a total that somebody wrote").tap()
        yield page


def ask(page: Any, total: str, unit: str = "g") -> Any:
    page.get_by_label("The total that was written or said", exact=True).fill(total)
    page.get_by_label("Unit of: The total").select_option(unit)
    page.get_by_role("button", name="Look for what differs").tap()
    return page.locator("[aria-live] .section")


def test_a_part_that_was_left_out_is_named_and_leads_to_its_page(page: Any) -> None:
    expect(page.get_by_text("Our sum", exact=True)).to_be_visible()
    answer = ask(page, "2761")
    expect(answer).to_contain_text("the machine lost 871.0 ±\u00a00.6\u00a0g less than by our sum")
    expect(answer).to_contain_text("One slip explains it, and no other one does.")
    expect(answer.locator("ol > li")).to_have_count(1)
    expect(answer).to_contain_text("left out: −871 g.")
    answer.get_by_role("link", name="Horn").tap()
    expect(page.get_by_role("heading", name="Horn", level=1)).to_be_visible()


def test_a_total_that_agrees_says_so_and_one_that_nothing_explains_says_that(page: Any) -> None:
    answer = ask(page, "3,632", "kg")
    expect(answer).to_contain_text("The two agree")
    expect(answer.locator("ol")).to_have_count(0)
    answer = ask(page, "77777")
    expect(answer).to_contain_text("No one slip explains it, nor any two or three at once.")


def test_two_digits_the_wrong_way_round(page: Any) -> None:
    answer = ask(page, "3668")  # 451 for 415
    expect(answer).to_contain_text("415 g taken for 451 g, two digits the wrong way round.")


def test_what_is_no_total_is_refused_with_its_reason(page: Any) -> None:
    ask(page, " ")
    expect(page.get_by_role("alert")).to_contain_text("Type the total that somebody wrote or said.")
    ask(page, "much")
    expect(page.get_by_role("alert")).to_contain_text("“much” is no number.")
    ask(page, "9999999", "kg")
    expect(page.get_by_role("alert")).to_contain_text("cannot be right")
    expect(page.get_by_text("Not saved yet.")).to_have_count(0)
    page.locator("summary", has_text="rounded to").tap()
    page.get_by_label("Rounded to, kg").fill("-5")
    ask(page, "3,6", "kg")
    expect(page.get_by_role("alert")).to_contain_text("Rounded to: A total is rounded to something above 0")


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_the_answer_is_accessible_and_fits(page: Any, theme: str) -> None:
    page.emulate_media(color_scheme=theme)
    expect(ask(page, "2761")).to_be_visible()
    # The page is worked on without signal; axe comes from the test, not from the net.
    answer = Axe().run(page, options={"runOnly": {"type": "tag", "values": RULES}}).response
    assert json.dumps([each["id"] for each in answer["violations"]]) == "[]"
    for width in (320, 360, 1280):
        page.set_viewport_size({"width": width, "height": 740})
        assert sticking_out(page) == []
