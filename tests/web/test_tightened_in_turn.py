"""One fastener after another by a tap, the record that says it all, the odometer, and compound that cures."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from one_part import act, entries, phone_with_one_part, view
from screens import open_screen

READY = """async ([strip, part]) => {
  const shop = await import('/shop.js');
  const [{ group, places: [{ bag }] }] = (await shop.view(strip, 'part', { part })).groups;
  await shop.act('change', { strip, thing: group, type: 'group', values: { pattern: 'cross' }, saw: {} });
  await shop.act('move', { strip, group, count: 4, from: 'bag', from_bag: bag, to: 'machine' });
  return group;
}"""
MINUTE_MS = 60_000


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A phone with four bolts in their holes that have an order: (phone, group)."""
    with phone_with_one_part(chromium, module_server) as phone:
        page, strip, part = phone
        yield phone, page.evaluate(READY, [strip, part])


def tightenings(phone: Any) -> list[Any]:
    return [each.get("positions") for each in entries(phone) if each["kind"] == "tighten"]


def test_a_tap_says_which_one_it_was_and_another_than_the_next_is_noted(phone: Any) -> None:
    phone, group = phone
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/back")
    part = page.locator("details.part")
    part.locator("summary", has_text="Caliper bracket").click()
    part.locator("summary", has_text="One after another").click()
    # Four, counted clockwise, are tightened 1, 3, 2, 4: an opposite pair, then the other (MIL-HDBK-60, 5.7).
    for number, expected in ((1, [[1]]), (3, [[1], [2]]), (2, [[1], [2], [3]])):
        if number == 3:
            part.get_by_role("button", name="Number 3, out of turn").click()
        else:
            part.get_by_role("button", name=f"Number {number} is tightened", exact=True).click()
        expect(part).to_contain_text(f"{len(expected)} of 4 in this round")
        assert tightenings(phone) == expected
    # Once more the same one: no other has been tightened by it.
    part.get_by_role("button", name="Number 1, tightened: once more").click()
    expect(part).to_contain_text("4 of 4 on, 3 tight, 0 marked.")
    part.get_by_role("button", name="Number 4 is tightened", exact=True).click()
    expect(part).to_contain_text("4 of 4 on, 4 tight, 0 marked.")
    open_screen(page, f"#/strip/{strip}/torque/{group}")
    note = "Out of the laid-out order: number 3 was tightened when number 2 was next."
    expect(page.get_by_text(note)).to_be_visible()


def test_the_record_tells_each_tightening_and_why_one_counts_no_more(phone: Any) -> None:
    phone, group = phone
    page, strip, part = phone
    act(phone, "tighten", group=group, count=4, torque="25", tool="Long bar")
    act(phone, "part_off", part=part)
    open_screen(page, f"#/strip/{strip}/torque/{group}")
    page.get_by_role("link", name="The whole record").click()
    expect(page.locator("h1")).to_have_text("Record of 4\u00a0×\u00a0M8×25")
    line = page.locator("li.line").filter(has_text="4 tightened")
    for words in ("25.0 ± 1.2 N·m", "Wrench: Long bar.", "It counts no more: they came off again.", "Ann"):
        expect(line).to_contain_text(words.replace("± ", "±\u00a0").replace(" N·m", "\u00a0N·m"))
    expect(page.get_by_text("4 of 4 are not on the machine.")).to_be_visible()
    line.get_by_role("button", name="Strike: 4 tightened").click()
    question = page.get_by_role("dialog")
    question.get_by_label("Why was it a mistake?").fill("Other group")
    question.get_by_role("button", name="Strike it").click()
    expect(line).to_contain_text("Struck: Other group")


def test_a_lower_odometer_reading_is_asked_about_before_it_is_kept(phone: Any) -> None:
    phone, group = phone
    page, strip, _ = phone
    act(phone, "aftercare", group=group, retorque_distance="100", retorque_unit="mi", retorque_from="book 7-3")
    act(phone, "tighten", group=group, count=4, torque="25", tool="Long bar")
    open_screen(page, f"#/strip/{strip}/open")
    expect(page.get_by_text("Read the odometer: how far it is to a retorque is not known. Groups: 1.")).to_be_visible()
    page.get_by_role("link", name="Odometer and retorque", exact=True).first.click()
    expect(page.get_by_text("Unknown: no odometer reading since.")).to_be_visible()
    # Britain begins with miles; this one's odometer shows kilometres.
    page.locator("form select").first.select_option("km")
    for typed, words in (("12400", "In 100 miles."), ("12440", "In 75 miles.")):
        page.get_by_label("Odometer shows", exact=True).fill(typed)
        page.get_by_role("button", name="Save the odometer").click()
        expect(page.get_by_text(words)).to_be_visible()
    before = entries(phone)
    page.get_by_label("Odometer shows", exact=True).fill("1256")
    page.get_by_role("button", name="Save the odometer").click()
    expect(page.get_by_role("alert")).to_contain_text("The odometer was read at 12,440\u00a0km before.")
    assert entries(phone) == before
    page.get_by_role("radio", name="The odometer was changed or set back").check()
    page.get_by_role("button", name="Save the odometer").click()
    expect(page.get_by_text("odometer changed: counts anew from here")).to_be_visible()
    assert [each["kind"] for each in entries(phone)[len(before) :]] == ["machine_use"]


def test_a_retorque_is_written_as_such_and_one_that_is_wanted_once_is_done_by_it(phone: Any) -> None:
    phone, group = phone
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/torque/{group}")
    page.locator("summary", has_text="Write down retorque and cure time").click()
    page.get_by_label("After how many days", exact=True).fill("1")
    page.get_by_role("button", name="Save retorque and cure time").click()
    expect(page.get_by_role("alert")).to_contain_text("Say who wants it: the manual with its page")
    page.get_by_label("Who wants it", exact=True).fill("book 7-3")
    page.get_by_role("radio", name="Once", exact=True).check()
    page.get_by_role("button", name="Save retorque and cure time").click()
    expect(page.get_by_text("Retorque: not tightened yet")).to_be_visible()
    act(phone, "tighten", group=group, count=4, torque="25", tool="Long bar")
    expect(page.get_by_text("In one day.")).to_be_visible()
    open_screen(page, f"#/strip/{strip}/back")
    page.locator("summary", has_text="Caliper bracket").click()
    page.get_by_role("button", name="Tighten again").click()
    page.get_by_label("This is the retorque").check()
    page.get_by_role("button", name="4 tightened", exact=True).click()
    open_screen(page, f"#/strip/{strip}/torque/{group}")
    expect(page.get_by_text("Retorque: done")).to_be_visible()


def test_compound_counts_down_by_itself_and_nothing_waits_for_it(phone: Any) -> None:
    phone, group = phone
    page, strip, _ = phone
    page.clock.install()
    act(phone, "aftercare", group=group, locking_compound="The blue one", cure_hours="24", cure_from="its sheet")
    act(phone, "tighten", group=group, count=4, torque="25", tool="Long bar")
    open_screen(page, f"#/strip/{strip}/back")
    # In the part's one line, and once it is opened beside its fasteners.
    line = page.locator("summary", has_text="Caliper bracket")
    expect(line.get_by_text("The blue one: Cures for another 24 h 0 min.")).to_be_visible()
    line.click()
    cure = page.locator("details.part .inside").get_by_text("The blue one: Cures for another")
    expect(cure).to_contain_text("Cures for another 24 h 0 min.")
    page.clock.fast_forward(61 * MINUTE_MS)
    expect(cure).to_contain_text("Cures for another 22 h 5")
    act(phone, "mark", group=group, count=4)
    found = [each for each in view(phone, "part", part=phone[2])["groups"] if each["group"] == group]
    assert found[0]["needs"] == ["second_check"]
    page.clock.fast_forward(23 * 60 * MINUTE_MS)
    expect(page.get_by_text("The blue one: The cure time on its sheet is over.")).to_be_visible()
    expect(line.get_by_text("The blue one")).to_have_count(0)
