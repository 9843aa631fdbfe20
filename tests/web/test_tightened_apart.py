"""Two phones tighten the same fasteners while neither can reach the PC: once both have sent, both tell the same."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from web.hands import PHONE, Hands

MADE_BY_ANN = """async () => {
  const shop = await import('/shop.js');
  await shop.setPerson('Ann');
  const { strip } = await shop.act('begin_strip', { name: 'Evening work', machine_name: 'Test hack' });
  const { part } = await shop.act('take_off', { strip, name: 'Carrier', place: 'tail', outcome: 'goes_back',
    bag_label: '7', groups: [{ count: 4, thread: 'M8', length: '25', torque: '25' }] });
  const [{ group, places: [{ bag }] }] = (await shop.view(strip, 'part', { part })).groups;
  await shop.act('move', { strip, group, count: 4, from: 'bag', from_bag: bag, to: 'machine' });
  await shop.act('part_on', { strip, part });
  return { strip, group };
}"""
APART = "tightened these apart, perhaps the same ones. Tighten all once more, or those left out."


@pytest.fixture
def phones(chromium: Any, server: Any) -> Iterator[tuple[Hands, Hands]]:
    """Ann's and Bo's phone on one PC."""
    contexts = [chromium.new_context(**PHONE) for _ in range(2)]
    ann, bo = (Hands(context.new_page(), server.url) for context in contexts)
    for hands in (ann, bo):
        hands.install()
    bo.page.evaluate("async () => (await import('/shop.js')).setPerson('Bo')")
    yield ann, bo
    for context in contexts:
        context.close()


def test_both_tell_that_it_may_be_the_same_two(phones: tuple[Hands, Hands]) -> None:
    ann, bo = phones
    made = ann.page.evaluate(MADE_BY_ANN)
    strip, group = made["strip"], made["group"]
    ann.open(f"#/strip/{strip}/back")
    ann.all_sent()
    bo.open(f"#/strip/{strip}/back")
    expect(bo.page.locator("details.part")).to_have_count(1)
    for hands in (ann, bo):
        hands.page.context.set_offline(True)
        hands.to("Put back")
        hands.unfold("Carrier")
        card = hands.page.get_by_role("group", name="M8×25", exact=True)
        for _ in range(2):
            hands.tap("One less: Tightened", card)
        hands.tap("2 tightened", card)
        hands.tap("Paint mark on 2", card)
        expect(card).to_contain_text("4 of 4 on, 2 tight, 2 marked.")
    for hands in (ann, bo, ann):
        hands.page.context.set_offline(False)
        hands.all_sent()
    for hands in (ann, bo):
        hands.to("Put back")
        part = hands.page.locator("details.part")
        expect(part).to_contain_text("4 of 4 on, 2 tight, 2 marked.")
        expect(part).to_contain_text(APART)
        hands.open(f"#/strip/{strip}/record/{group}")
        line = hands.page.locator("li.line").filter(has_text="Not known then: ")
        expect(line).to_have_count(1)
        expect(line).to_contain_text("tightened 2. They are taken to be the same, as far as can be.")
    # Whoever knows of both makes sure of all four.
    bo.to("Put back")
    bo.unfold("Carrier")
    card = bo.page.get_by_role("group", name="M8×25", exact=True)
    for _ in range(2):
        bo.tap("One more: Tightened", card)
    bo.tap("4 tightened", card)
    bo.tap("Paint mark on 4", card)
    bo.all_sent()
    ann.all_sent()
    for hands in (ann, bo):
        hands.to("Put back")
        expect(hands.page.get_by_text(APART)).to_have_count(0)
        assert hands.exact()["groups"][group]["needs"] == []
