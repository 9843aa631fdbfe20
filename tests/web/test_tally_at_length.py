"""A written total against a long list, on a phone without signal: three slips at once, and pounds with ounces."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from screens import sticking_out

# 110 parts of 101 g to 999 g, off for good: 57.785 kg together, about 800 single slips.
MADE = """async () => {
  const shop = await import('/shop.js');
  await shop.setPerson('Ann');
  const { strip } = await shop.act('begin_strip', { name: 'Long evening', machine_name: 'Test hack' });
  for (let number = 1; number <= 110; number += 1)
    await shop.act('take_off', { strip, name: `Part ${number}`, outcome: 'stays_off', outcome_done: true,
      readings: [{ figure: String(100 + number * 37 % 900), unit: 'g', step: '1', pieces: 1 }] });
  return strip;
}"""
WATCH = """() => {
  window.progressSeen = false;
  new MutationObserver(() => { window.progressSeen ||= Boolean(document.querySelector('progress')); })
    .observe(document.body, { childList: true, subtree: true });
}"""
LOG_ONE = """async (strip) => {
  const shop = await import('/shop.js');
  await shop.act('take_off', { strip, name: 'Logged meanwhile', outcome: 'stays_off', outcome_done: true });
  return (await shop.view(strip, 'off')).parts.length;
}"""


@pytest.fixture(scope="module")
def page(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A phone with a long list on the screen for checking totals, its signal gone."""
    context = chromium.new_context(viewport={"width": 360, "height": 740}, has_touch=True, locale="en-GB")
    page = context.new_page()
    page.set_default_timeout(60_000)
    page.goto(module_server.url + "/")
    expect(page.locator("h1")).to_be_visible()
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    page.strip = page.evaluate(MADE)
    context.set_offline(True)
    page.goto(f"{module_server.url}/#/strip/{page.strip}/tally")
    expect(page.get_by_text("Of 110 lines.")).to_be_visible()
    yield page
    context.close()


def ask(page: Any, total: str, unit: str) -> Any:
    page.get_by_label("The total that was written or said", exact=True).fill(total)
    page.get_by_label("Unit of: The total").select_option(unit)
    page.get_by_role("button", name="Look for what differs").tap()
    return page.locator("[aria-live] .section")


def test_three_slips_at_once_are_counted_while_something_is_logged(page: Any) -> None:
    page.evaluate(WATCH)
    answer = ask(page, "400000,4", "g")
    assert page.evaluate(LOG_ONE, page.strip) == 111
    # Two figures taken for kilograms and one slip more; three such sets, as the core counts them on the PC too.
    expect(answer).to_contain_text("Only three slips at once explain it, in 3 ways. Take it as a hint, no more.")
    expect(answer.locator("ol > li")).to_have_count(3)
    expect(answer.locator("ol > li").first.locator("ul > li")).to_have_count(3)
    expect(page.get_by_role("progressbar")).to_have_count(0)
    expect(page.get_by_role("button", name="Look for what differs")).to_be_enabled()
    assert page.evaluate("window.progressSeen")
    for link in answer.get_by_role("link").all()[:3]:
        assert link.bounding_box()["height"] >= 56
    for width in (360, 390):
        page.set_viewport_size({"width": width, "height": 740})
        assert sticking_out(page) == []


def test_a_total_in_pounds_and_ounces_is_answered_in_them(page: Any) -> None:
    # 57.785 kg are 127.394 lb, so 127 lb 1 oz is 5.3 oz short of it (the pound: 453.59237 g, NIST SP 811).
    answer = ask(page, "127 lb 1 oz", "kg")
    expect(page.get_by_text("Taken as −127.06\u00a0lb: a loss.")).to_be_visible()
    expect(answer).to_contain_text("5.31 ±\u00a00.52\u00a0oz less than by our sum")
