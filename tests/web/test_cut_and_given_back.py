"""The mass statement on a phone without signal: a part that was cut, and bolts weighed along that are used again."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from screens import sticking_out
from web.hands import Hands
from web.offline import hands_without_signal

USE_AGAIN = """async ([strip, count]) => {
  const shop = await import('/shop.js');
  const { parts } = await shop.view(strip, 'off');
  for (const { part } of parts) {
    const { groups } = await shop.view(strip, 'part', { part });
    for (const { group, places } of groups) {
      const from_bag = places.find((place) => place.bag)?.bag;
      if (from_bag) await shop.act('move', { strip, group, count, from: 'bag', from_bag, to: 'machine' });
    }
  }
}"""


@pytest.fixture
def hands(chromium: Any, server: Any) -> Iterator[Hands]:
    """A phone without signal on the form for taking off, its strip-down just begun."""
    with hands_without_signal(chromium, server) as hands:
        hands.open(f"#/strip/{hands.strip}/take_off")
        yield hands


def line_of(hands: Hands, name: str) -> Any:
    """A part's line in the statement, and the row under it, unfolded."""
    hands.to("Masses")
    line = hands.page.get_by_role("row").filter(has=hands.page.get_by_role("link", name=name, exact=True))
    beneath = hands.page.locator("tr.beneath").filter(has_text=f"{name}:")
    hands.unfold("how well it is known", beneath)
    return line, beneath


def change_of(line: Any) -> Any:
    return line.locator('[data-name="Change"]')


def test_a_part_that_is_cut_counts_by_its_offcut(hands: Hands) -> None:
    hands.name("Tail tidy plate")
    hands.outcome("Cut down", done=True)
    reading = hands.reading()
    hands.choose("What was weighed", "The offcut", reading)
    hands.weigh(reading, "312", "g", "1")
    hands.saved("Tail tidy plate")
    line, beneath = line_of(hands, "Tail tidy plate")
    # A step of 1 g: 2 x 1 / (2 sqrt 3) = 0.6 g (GUM F.2.2.1).
    expect(change_of(line)).to_contain_text("−312.0 ±\u00a00.6\u00a0g")
    expect(beneath).to_contain_text("Cut: the offcut counts.")
    expect(beneath).to_contain_text("the offcut")
    expect(hands.sum("Since it came in")).to_contain_text("−312.0 ±\u00a00.6\u00a0g")
    for width in (360, 390):
        hands.page.set_viewport_size({"width": width, "height": 740})
        assert sticking_out(hands.page) == []


def test_the_offcut_speaks_before_what_it_weighed_before_and_after(hands: Hands) -> None:
    hands.name("Rear loop")
    hands.outcome("Cut down", done=True)
    for number, (what, grams) in enumerate(
        (("As taken off", "2000"), ("After the cut", "1600"), ("The offcut", "397")), 1
    ):
        reading = hands.reading(number)
        hands.choose("What was weighed", what, reading)
        hands.weigh(reading, grams, "g", "1")
    hands.saved("Rear loop")
    line, beneath = line_of(hands, "Rear loop")
    expect(change_of(line)).to_contain_text("−397.0 ±\u00a00.6\u00a0g")
    expect(beneath).to_contain_text("Cut: the offcut counts.")


def test_bolts_weighed_along_and_used_again_are_given_back(hands: Hands) -> None:
    hands.name("Engine guard")
    row = hands.fasteners(4, "M8", "25", "3")
    hands.unfold("Grade, finish, bolt length", row)
    hands.write("One weighs, g", "15", row)
    hands.outcome("Stays off", done=True)
    reading = hands.reading()
    hands.weigh(reading, "1260", "g", "1")
    reading.get_by_label("Weighed with its fasteners").check()
    hands.saved("Engine guard")
    line, beneath = line_of(hands, "Engine guard")
    expect(change_of(line)).to_contain_text("−1.2600 ±")
    hands.page.evaluate(USE_AGAIN, [hands.strip, 4])
    # 1260 g less 4 x 15 g.
    expect(change_of(line)).to_contain_text("−1.2000 ±")
    expect(beneath).to_contain_text("Weighed with its fasteners, of which 4 are on the machine again:")
    expect(beneath).to_contain_text("60")
    expect(beneath).to_contain_text("given back")
    link = line.get_by_role("link", name="Engine guard")
    assert link.bounding_box()["height"] >= 56
    link.tap()
    expect(hands.page.get_by_role("heading", name="Engine guard", level=1)).to_be_visible()
