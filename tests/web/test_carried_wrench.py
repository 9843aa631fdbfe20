"""What is worked out on the torque card goes along to the tightening: wrench, adapter, angle, also after a reload."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from web.hands import Hands
from web.offline import hands_without_signal

MADE = """async (strip) => {
  const shop = await import('/shop.js');
  for (const [name, low, high] of [['Bench wrench', '10', '60'], ['Small wrench', '2', '20']])
    await shop.act('add_tool', { strip, name, low, high, step: '0.5', tool_type: 'click', lever: '320' });
  const groups = [];
  for (const name of ['Bracket one', 'Bracket two']) {
    const { part } = await shop.act('take_off', { strip, name, place: 'side', outcome: 'goes_back', bag_label: '7',
      groups: [{ count: 4, thread: 'M8', length: '25', torque: '25', torque_page: 'book 7-2' }] });
    const [{ group, places: [{ bag }] }] = (await shop.view(strip, 'part', { part })).groups;
    await shop.act('move', { strip, group, count: 4, from: 'bag', from_bag: bag, to: 'machine' });
    groups.push(group);
  }
  return groups;
}"""
MORE = "Adapter, locking nut, or clicked at a setting"
BENCH = "Bench wrench, 10 to 60 N·m"


@pytest.fixture
def bench(chromium: Any, server: Any) -> Iterator[Any]:
    """A phone without signal, with two groups that are on and wait for the wrench: (hands, their ids)."""
    with hands_without_signal(chromium, server) as hands:
        yield hands, hands.page.evaluate(MADE, hands.strip)


def card(hands: Hands, group: str) -> Any:
    hands.open(f"#/strip/{hands.strip}/torque/{group}")
    expect(hands.page.get_by_role("heading", name="Wrench and adapter")).to_be_visible()
    return hands.page.locator("section").filter(has=hands.page.get_by_role("heading", name="Wrench and adapter"))


def unfolded(hands: Hands, name: str) -> Any:
    hands.unfold(name)
    return hands.page.locator("details.part").filter(has_text=name)


def work_out(hands: Hands, group: str) -> None:
    """25 x 320 / (320 + 40) = 22.22 (TM 1-1500-204-23-9, seen); the nearest mark is 22."""
    wrench = card(hands, group)
    wrench.get_by_role("radio", name=BENCH, exact=True).check()
    hands.unfold("With an adapter or a crowfoot", wrench)
    hands.write("Length of the adapter, mm", "40 mm", wrench)
    expect(wrench.locator(".setting .torque")).to_have_text("22 N·m")


def test_wrench_and_adapter_of_the_card_are_there_when_it_is_tightened(bench: Any) -> None:
    hands, (group, _) = bench
    work_out(hands, group)
    hands.page.get_by_role("link", name="Tighten and mark them").tap()
    part = unfolded(hands, "Bracket one")
    expect(part.get_by_role("radio", name=BENCH, exact=True)).to_be_checked()
    expect(part.locator("summary").filter(has_text=MORE)).to_contain_text("adapter 40 mm")
    expect(part.locator(".setting .torque")).to_have_text("22 N·m")
    hands.tap("4 tightened", part)
    expect(part).to_contain_text("wrench set to 22 N·m")
    entry = [each for each in hands.entries() if each["kind"] == "tighten"][-1]
    assert (entry["adapter_millimetres"], entry["adapter_degrees"], entry["setting_newton_metres"]) == (40, 0, 22)
    assert entry["group"] == group and entry["with_tool"]


def test_it_is_there_after_a_reload_without_signal_and_by_another_way_and_for_these_alone(bench: Any) -> None:
    hands, (group, _) = bench
    work_out(hands, group)
    hands.choose("How the adapter stands", "Square across")
    expect(hands.page.locator(".setting .torque")).to_have_text("25 N·m")
    hands.reload()
    # The card itself begins with it again.
    expect(hands.page.get_by_role("radio", name="Square across", exact=True)).to_be_checked()
    hands.to("Put back")
    hands.reload()
    part = unfolded(hands, "Bracket one")
    expect(part.get_by_role("radio", name=BENCH, exact=True)).to_be_checked()
    hands.unfold(MORE, part)
    expect(part.get_by_label("Length of the adapter, mm", exact=True)).to_have_value("40 mm")
    expect(part.get_by_role("radio", name="Square across", exact=True)).to_be_checked()
    other = unfolded(hands, "Bracket two")
    expect(other.get_by_role("radio", name="One without a card", exact=True)).to_be_checked()
    expect(other.locator("summary").filter(has_text=MORE)).not_to_contain_text("adapter")


def test_a_wrench_that_was_put_away_since_is_not_taken_up(bench: Any) -> None:
    hands, (group, _) = bench
    work_out(hands, group)
    hands.page.evaluate(
        """async (strip) => {
          const shop = await import('/shop.js');
          const { tools } = await shop.view(strip, 'tools', { now_ms: Date.now() });
          const { tool } = tools.find((each) => each.name === 'Bench wrench');
          await shop.act('change', { strip, thing: tool, type: 'tool', values: { put_away: true } });
        }""",
        hands.strip,
    )
    hands.to("Put back")
    part = unfolded(hands, "Bracket one")
    expect(part.get_by_role("radio", name="One without a card", exact=True)).to_be_checked()
    expect(part.get_by_role("radio", name=BENCH, exact=True)).to_have_count(0)


def test_two_tabs_take_nothing_from_each_other_s_groups(bench: Any) -> None:
    hands, (first, second) = bench
    other = Hands(hands.page.context.new_page(), hands.url)
    other.strip = hands.strip
    # Both have read what lies there before either chooses.
    mine, theirs = card(hands, first), card(other, second)
    mine.get_by_role("radio", name=BENCH, exact=True).check()
    theirs.get_by_role("radio", name="Small wrench, 2 to 20 N·m", exact=True).check()
    for tab in (hands, other):
        expect(card(tab, first).get_by_role("radio", name=BENCH, exact=True)).to_be_checked()
        expect(card(tab, second).get_by_role("radio", name="Small wrench, 2 to 20 N·m", exact=True)).to_be_checked()
    hands.reload()
    expect(card(hands, first).get_by_role("radio", name=BENCH, exact=True)).to_be_checked()
    # For one group the last choice holds.
    card(other, first).get_by_role("radio", name="Small wrench, 2 to 20 N·m", exact=True).check()
    expect(card(hands, second).get_by_role("radio", name="Small wrench, 2 to 20 N·m", exact=True)).to_be_checked()
    expect(card(hands, first).get_by_role("radio", name="Small wrench, 2 to 20 N·m", exact=True)).to_be_checked()
