"""Drafts that the log overtook: a specification, a wrench or a scale that is another one, or put away, by now."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from web.unfinished import Phone, phone_with_two_parts, until_drafts

SPECIFY = """async ([strip, group, more]) => {
  const shop = await import('/shop.js');
  const { form, fields } = await shop.view(strip, 'torque', { group, now_ms: Date.now() });
  const ids = ({ heads }) => heads.map((head) => head.entry);
  const saw = Object.fromEntries(Object.entries(fields).map(([name, field]) => [name, ids(field)]));
  await shop.act('specify', { strip, group, ...form, torque: '50', torque_page: 'book 7-2', ...more, saw });
}"""
PUT_AWAY = """async ([strip, type]) => {
  const shop = await import('/shop.js');
  const { tools } = await shop.view(strip, 'tools', { now_ms: Date.now() });
  const { scales } = await shop.view(strip, 'gear');
  const thing = type === 'tool' ? tools[0].tool : scales[0].scale;
  await shop.act('change', { strip, thing, type, values: { put_away: true } });
}"""


@pytest.fixture
def phone(chromium: Any, server: Any) -> Iterator[Phone]:
    """A phone without signal, two groups of four bolts on the machine."""
    with phone_with_two_parts(chromium, server) as phone:
        yield phone


def test_a_step_that_the_specification_has_no_more_does_not_stand_in_the_way_unseen(phone: Phone) -> None:
    group = phone.made["case"]["group"]
    phone.page.evaluate(SPECIFY, [phone.strip, group, {"torque_steps": "20 40"}])
    phone.open(f"#/strip/{phone.strip}/back")
    phone.unfold("Case")
    part = phone.page.locator("details.part").filter(has_text="Case")
    phone.choose("Which step", "2: 40 N·m", part)
    phone.choose("With which wrench", "Bench wrench, 10 to 60 N·m", part)
    phone.write("Torque applied", "41", part)
    until_drafts(phone, "41")
    phone.page.evaluate(SPECIFY, [phone.strip, group, {"torque_steps": ""}])
    phone.page.evaluate(PUT_AWAY, [phone.strip, "tool"])
    phone.reload()
    expect(part.get_by_label("Torque applied", exact=True)).to_have_value("41")
    expect(part.get_by_role("group", name="Which step")).to_have_count(0)
    expect(part.get_by_role("radio", name="One that was put away since", exact=True)).to_be_checked()
    expect(part).to_contain_text("below the specification")
    phone.tap("4 tightened", part)
    until_drafts(phone)
    entry = [each for each in phone.entries() if each["kind"] == "tighten"][-1]
    assert entry.get("step") is None and entry["newton_metres"] == 41


def test_a_scale_that_was_put_away_since_is_seen_before_the_weighing_is_saved(phone: Phone) -> None:
    phone.open(f"#/strip/{phone.strip}/weigh_in")
    phone.write("Under the front wheel", "98")
    phone.write("Under the rear wheel", "102")
    phone.unfold("Which scale, its step")
    phone.choose("Scale under the front wheel", "Bench scale")
    until_drafts(phone, "98", "102")
    phone.page.evaluate(PUT_AWAY, [phone.strip, "scale"])
    phone.reload()
    front = phone.page.get_by_role("group", name="Scale under the front wheel", exact=True)
    expect(front.get_by_role("radio", name="one that was put away since", exact=True)).to_be_checked()
    phone.choose("Scale under the front wheel", "none with a card")
    phone.tap("Save the weighing")
    until_drafts(phone)
    assert not [each for each in phone.entries() if each["kind"] == "weigh_in"][-1].get("front_scale")
