"""Each order of tightening as it is drawn on a phone without signal, written with its steps, number by number."""

import itertools
import math
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from web.hands import Hands
from web.offline import hands_without_signal

ADD = """async ([strip, name, count]) => {
  const shop = await import('/shop.js');
  const { part } = await shop.act('take_off', { strip, name, place: 'engine', outcome: 'goes_back',
    groups: [{ count, thread: 'M8', length: '45' }] });
  return (await shop.view(strip, 'part', { part })).groups[0].group;
}"""
# Each number with where its mark is drawn, and the box that it takes on the screen.
DRAWN = """(drawing) => [...drawing.querySelectorAll('g')].map((each) => {
  const [mark, text] = [each.querySelector('circle'), each.querySelector('text')];
  const { left, right, top, bottom } = text.getBoundingClientRect();
  return { number: Number(text.textContent), x: Number(mark.getAttribute('cx')), y: Number(mark.getAttribute('cy')),
    box: [left, top, right, bottom], first: each.classList.contains('first') };
})"""
# Clockwise from the top or the upper left, along the row, or line by line: the numbers as they are drawn.
# Ring and cross: an opposite pair, the pair at 90 degrees, then the pairs between (MIL-HDBK-60 5.7, seen).
# Star, spiral and row from the middle: common practice, no source; worked out by hand.
PATTERNS = [
    ("Pair", 2, ["1", "2"]),
    ("Star", 5, ["1", "4", "2", "5", "3"]),
    ("Two rows, crosswise", 4, ["1", "3", "2", "4"]),
    ("Two rows, crosswise", 8, ["1", "5", "3", "7", "2", "6", "4", "8"]),
    ("Ring, across", 8, ["1", "5", "3", "7", "2", "6", "4", "8"]),
    ("Ring, across", 12, None),
    ("Spiral from the middle", 6, ["6", "1", "3", "5", "2", "4"]),
    ("Spiral from the middle", 10, None),
    ("Row from the middle", 5, ["5", "3", "1", "2", "4"]),
]
numbers = itertools.count(1)


@pytest.fixture(scope="module")
def phone(chromium: Any, module_server: Any) -> Iterator[Hands]:
    """A phone that has the program and no signal."""
    with hands_without_signal(chromium, module_server) as hands:
        yield hands


def written(phone: Hands, pattern: str, count: int, torque: str = "24", steps: str = "8 16") -> Any:
    """The card of so many bolts, with a torque, its steps and its order written on it; its drawing."""
    group = phone.page.evaluate(ADD, [phone.strip, f"Cover {next(numbers)}", count])
    phone.open(f"#/strip/{phone.strip}/torque/{group}")
    phone.unfold("Range, tolerance, steps")
    phone.write("Torque from the manual", torque)
    phone.write("Steps before it, N·m", steps)
    phone.tap("Save the specification")
    expect(phone.page.locator(".specification .torque").first).to_contain_text(torque)
    phone.choose("Order of tightening", pattern)
    phone.tap("Keep this order")
    drawing = phone.page.locator("svg.pattern")
    expect(drawing).to_be_visible()
    return drawing


@pytest.mark.parametrize(("pattern", "count", "expected"), PATTERNS)
def test_each_order_is_drawn_with_its_numbers_and_its_stages(
    phone: Hands, pattern: str, count: int, expected: list[str] | None
) -> None:
    drawing = written(phone, pattern, count)
    expect(drawing.locator("text")).to_have_count(count)
    if expected is not None:
        expect(drawing.locator("text")).to_have_text(expected)
    expect(phone.page.get_by_text(f"{pattern}, {count} fasteners", exact=True)).to_be_visible()
    stages = phone.page.get_by_role("list", name="Stages").get_by_role("listitem")
    expect(stages).to_have_text(["Round 1, to 8 N·m", "Round 2, to 16 N·m", "Round 3, to 24 N·m"])
    drawn = sorted(drawing.evaluate(DRAWN), key=lambda each: each["number"])
    assert [each["number"] for each in drawn] == list(range(1, count + 1))
    assert [each["first"] for each in drawn] == [True] + [False] * (count - 1)
    check_order(pattern, drawn)
    # What is read out is what is drawn.
    read = phone.page.get_by_role("list", name="Order of tightening").get_by_role("listitem").all_inner_texts()
    by_place = drawing.locator("text").all_text_contents()
    assert [by_place[int(each.split()[-1]) - 1] for each in read] == [str(turn + 1) for turn in range(count)]


def check_order(pattern: str, drawn: list[dict[str, Any]]) -> None:
    """What an order is for, on the drawing itself: `drawn` in the order of tightening."""
    spots = [(each["x"], each["y"]) for each in drawn]
    across = [sum(ends) / 2 for ends in zip(min(spots), max(spots), strict=True)][0]
    down = (min(y for _, y in spots) + max(y for _, y in spots)) / 2
    from_middle = [math.hypot(x - across, y - down) for x, y in spots]
    if pattern in ("Ring, across", "Two rows, crosswise"):
        for one, other in zip(spots[::2], spots[1::2], strict=True):
            assert (one[0] + other[0], one[1] + other[1]) == pytest.approx((2 * across, 2 * down), abs=0.5)
    if pattern in ("Row from the middle", "Spiral from the middle"):
        assert from_middle == pytest.approx(sorted(from_middle), abs=0.5)
    if pattern == "Star":
        for one, other in itertools.pairwise(spots):
            assert math.dist(one, other) == pytest.approx(max(math.dist(one, each) for each in spots), rel=0.01)


MANY = [("Ring, across", 24), ("Spiral from the middle", 24), ("Row from the middle", 16)]


@pytest.mark.parametrize(("pattern", "count"), MANY)
def test_many_numbers_stand_apart_and_inside_their_drawing(phone: Hands, pattern: str, count: int) -> None:
    drawing = written(phone, pattern, count)
    expect(drawing.locator("text")).to_have_count(count)
    boxes = [each["box"] for each in drawing.evaluate(DRAWN)]
    outer = drawing.bounding_box()
    for left, top, right, bottom in boxes:
        assert outer["x"] - 1 <= left and right <= outer["x"] + outer["width"] + 1
        assert outer["y"] - 1 <= top and bottom <= outer["y"] + outer["height"] + 1
    for one, other in itertools.combinations(boxes, 2):
        over = min(one[2], other[2]) - max(one[0], other[0]), min(one[3], other[3]) - max(one[1], other[1])
        # A line of text is taller than its digits: a quarter of it above and below is empty.
        assert over[0] <= 0.5 or over[1] <= 0.5 * (one[3] - one[1]), (one, other)
