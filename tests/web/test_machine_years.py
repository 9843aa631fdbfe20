"""A machine over the years on a phone without signal: what was planned and came of it, and two days compared."""

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

import pytest
from playwright.sync_api import expect

from screens import open_screen
from web.offline import phone_without_signal

MADE = """async () => {
  const shop = await import('/shop.js');
  await shop.setPerson('Ann');
  const begin = (name, of) => shop.act('begin_strip', { name, standard: '180', standard_unit: 'kg', ...of });
  const off = (strip, name, figure, more) => shop.act('take_off', { strip, name, place: 'tail', off: true,
    outcome: 'stays_off', readings: [{ figure, unit: 'g', step: '1', pieces: 1 }], ...more });
  const { strip } = await begin('First winter', { machine_name: 'Test hack' });
  const { part } = await off(strip, 'Case', '5000', {});
  const { machine } = await shop.view(strip, 'strip');
  await shop.act('item', { strip, part, what: 'buy', text: 'Blanking plates', cost: '40', currency: 'EUR' });
  const second = await begin('Second winter', { machine: machine.id, machine_name: machine.name });
  await off(second.strip, 'Lamp', '300', {});
  await shop.act('add_setting', { strip: second.strip, adjusted: 'preload', measured_in: 'turns', place: 'fork',
    as_found: '2', value: '3' });
  return strip;
}"""


@pytest.fixture
def page(chromium: Any, module_server: Any) -> Iterator[Any]:
    with phone_without_signal(chromium, module_server, MADE, locale="en-GB") as (page, strip):
        page.strip = strip
        yield page


def put(page: Any, field: str, value: str) -> None:
    page.get_by_role("button", name=f"Change: {field}", exact=True).tap()
    page.get_by_role("textbox", name=field).fill(value)
    page.get_by_role("button", name="Save", exact=True).tap()
    expect(page.get_by_role("button", name=f"Change: {field}", exact=True)).to_be_visible()


def test_what_was_planned_beside_what_came_of_it(page: Any) -> None:
    open_screen(page, f"#/strip/{page.strip}/off")
    page.get_by_text("About this strip-down").tap()
    put(page, "What it is to cost", "100")
    put(page, "Currency of what it is to cost", "EUR")
    put(page, "Hours it is to take", "3.5")
    page.goto(page.url.split("#")[0] + "#/")
    page.get_by_role("link", name="Over the years: Test hack").tap()
    expect(page.get_by_role("heading", name="Over the years", level=1)).to_be_visible()
    first = page.locator("section", has=page.get_by_role("heading", name="First winter", level=3)).last
    for words in ("To cost in all100 EUR", "Still to spend, by the estimates40 EUR", "To take3.5 h", "−5.0000"):
        expect(first).to_contain_text(words)
    expect(first).not_to_contain_text("Each gram lost cost")
    expect(page.get_by_role("heading", level=3).first).to_have_text("Second winter")


def test_what_was_paid_makes_the_cost_of_a_gram(page: Any) -> None:
    open_screen(page, f"#/strip/{page.strip}/open")
    page.get_by_role("button", name="Done: Blanking plates").tap()
    page.get_by_role("textbox", name="How was it done?").fill("bought")
    page.get_by_role("dialog").get_by_role("button", name="Done").tap()
    page.get_by_text("1 done").tap()
    page.get_by_text("Put it right, picture").tap()
    put(page, "What it came to", "50")
    open_screen(page, f"#/strip/{page.strip}/machine")
    expect(page.get_by_text("Spent50 EUR")).to_be_visible()
    expect(page.get_by_text("more than planned")).to_have_count(0)
    # 50 for 5,000 g.
    expect(page.get_by_text("Each gram lost cost0.01 EUR")).to_be_visible()
    page.get_by_text("What each part cost").tap()
    expect(page.get_by_text("changed by −5.0000")).to_be_visible()


def test_what_is_over_what_was_planned_is_marked_in_words_and_another_currency_is_not_held_against_it(
    page: Any,
) -> None:
    act = "async ([name, form]) => (await import('/shop.js')).act(name, form)"

    def item(text: str, cost: str, currency: str, done: bool = False) -> None:
        values = {"what": "buy", "text": text, "cost": cost, "currency": currency}
        made = page.evaluate(act, ["item", {"strip": page.strip} | values])
        if done:
            closed = {"strip": page.strip, "item": made["entries"][0]["thing"], "how": "bought"}
            page.evaluate(act, ["close_item", closed])

    page.evaluate("""async (strip) => (await import('/shop.js')).act('change', { strip, thing: strip, type: 'strip',
      values: { budget: '45', budget_currency: 'EUR' } })""", page.strip)
    open_screen(page, f"#/strip/{page.strip}/machine")
    # 40 still to spend of 45.
    expect(page.get_by_text("Still to spend, by the estimates40 EUR")).to_be_visible()
    expect(page.get_by_text("more than planned")).to_have_count(0)
    item("Seal", "17.5", "EUR")
    over = page.locator("dl.facts div", has_text="Still to spend").locator(".mark")
    expect(over).to_have_text("with this 12.50 EUR more than planned")
    item("Paint", "9000", "INR", True)
    expect(page.get_by_text("What is in another currency is not held against it.")).to_be_visible()
    expect(page.locator(".mark", has_text="more than planned")).to_have_count(1)
    item("Frame", "50", "eur", True)
    spent = page.locator("dl.facts div", has_text="Spent50 EUR").locator(".mark")
    expect(spent).to_have_text("5 EUR more than planned")
    expect(over).to_have_text("with this 62.50 EUR more than planned")
    # In the way of the language that is read.
    page.evaluate("async () => (await import('/words.js')).setLanguage({ locale: 'de-DE', texts: {} })")
    expect(over).to_have_text("with this 62,50 EUR more than planned")
    expect(page.locator("dl.facts div", has_text="Still to spend")).to_contain_text("57,50 EUR")


def test_two_days_compared_over_both_strip_downs(page: Any) -> None:
    open_screen(page, f"#/strip/{page.strip}/machine")
    today = date.today()
    first, second = page.get_by_label("From the end of"), page.get_by_label("To the end of")
    first.fill((today - timedelta(days=3)).isoformat())
    second.fill(today.isoformat())
    expect(page.get_by_text("Mass changed by −5.3000 ± 0.0012 kg.")).to_be_visible()
    expect(page.get_by_text("it stands for the machine as it came in")).to_be_visible()
    # What only the second strip-down tells holds from its beginning.
    began = "when “Second winter” began, then"
    for words in ("Case on, then off", f"Lamp on {began} off", f"2 turns {began} 3 turns"):
        expect(page.get_by_role("listitem").filter(has_text=words)).to_be_visible()
    first.fill(today.isoformat())
    expect(page.get_by_text("No change of mass is known.")).to_be_visible()
    expect(page.get_by_text("Nothing else is known to stand otherwise.")).to_be_visible()
    first.fill((today - timedelta(days=3)).isoformat())
    second.fill((today + timedelta(days=9)).isoformat())
    expect(page.get_by_text("That day is yet to come.")).to_be_visible()
    second.fill((today - timedelta(days=9)).isoformat())
    expect(page.get_by_text("The second day must not come before the first.")).to_be_visible()


def test_what_was_done_is_told_a_kind_at_a_time(page: Any) -> None:
    open_screen(page, f"#/strip/{page.strip}/machine")
    expect(page.get_by_text("2 turns, then 3 turns")).to_be_visible()
    page.get_by_label("Torques").check()
    expect(page.get_by_text("Nothing of the kind is written down yet.")).to_be_visible()
