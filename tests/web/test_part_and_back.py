"""A part's page, the way back and the page of sending, by tapping: corrections, disputes, strikes, counts, refusals."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from one_part import act, entries, phone_with_one_part
from screens import open_screen


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone with one part: (page, strip, part)."""
    with phone_with_one_part(chromium, module_server) as phone:
        yield phone


def last_entry(phone: Any) -> dict[str, Any]:
    return entries(phone)[-1]


def part_page(phone: Any) -> Any:
    page, strip, part = phone
    open_screen(page, f"#/strip/{strip}/part/{part}")
    return page


def test_two_answers_are_shown_and_settled(phone: Any) -> None:
    page = part_page(phone)
    dispute = page.locator(".notice", has_text="Two answers for: Place on the machine")
    expect(dispute.get_by_role("button")).to_have_count(2)
    expect(dispute).to_contain_text("Ann")
    dispute.get_by_role("button", name="Keep: rear brake").click()
    expect(dispute).to_have_count(0)
    entry = last_entry(phone)
    assert entry["values"] == {"place": "rear_brake"}
    assert len(entry["saw"]["place"]) == 2


def test_a_correction_says_what_its_author_saw(phone: Any) -> None:
    page = part_page(phone)
    page.get_by_role("button", name="Change: Name").click()
    page.get_by_label("Name", exact=True).fill("Caliper carrier")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.locator("h1")).to_have_text("Caliper carrier")
    entry = last_entry(phone)
    assert entry["values"] == {"name": "Caliper carrier"}
    assert len(entry["saw"]["name"]) == 1
    expect(page.locator(".history li").first).to_contain_text("Caliper carrier")


def test_a_refused_correction_stays_open_with_its_reason(phone: Any) -> None:
    page = part_page(phone)
    page.get_by_role("button", name="Change: Pieces").click()
    page.get_by_label("Pieces", exact=True).fill("9000")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("alert")).to_contain_text("Not saved yet.")
    expect(page.get_by_label("Pieces", exact=True)).to_have_attribute("aria-invalid", "true")
    expect(page.get_by_label("Pieces", exact=True)).to_have_value("9000")


def test_a_reading_is_weighed_again_another_piece_added_and_one_struck(phone: Any) -> None:
    page = part_page(phone)
    page.get_by_role("button", name="Weigh again").click()
    page.get_by_label("Figure", exact=True).fill("402")
    page.get_by_role("button", name="Save the reading").click()
    expect(page.get_by_role("button", name="Weigh again")).to_have_count(2)
    assert last_entry(phone)["again"]
    page.get_by_role("button", name="Weigh another piece").first.click()
    page.get_by_label("Figure", exact=True).fill("405")
    page.get_by_role("button", name="Save the reading").click()
    expect(page.get_by_role("button", name="Weigh again")).to_have_count(3)
    assert (last_entry(phone)["pieces"], last_entry(phone).get("again")) == (1, None)
    page.get_by_role("button", name="Strike: 405 g").click()
    page.get_by_role("dialog").get_by_label("Why was it a mistake?").fill("The scale was not level")
    page.get_by_role("button", name="Strike it").click()
    expect(page.get_by_role("button", name="Weigh again")).to_have_count(2)
    expect(page.locator(".struck")).to_contain_text("Struck by Ann: The scale was not level")


def test_a_lost_bolt_and_a_new_one_from_stock(phone: Any) -> None:
    page = part_page(phone)
    page.locator("summary", has_text="Move some").click()
    page.get_by_label("How many", exact=True).fill("1")
    page.get_by_label("Lost", exact=True).check()
    page.get_by_role("button", name="Move them").click()
    expect(page.get_by_text("1 lost", exact=True).first).to_be_visible()
    page.get_by_label("new from stock").check()
    page.get_by_label("How many", exact=True).fill("1")
    page.get_by_label("In a bag", exact=True).check()
    page.get_by_label("Which bag").fill("7")
    page.get_by_role("button", name="Move them").click()
    expect(page.get_by_text("4 in bag 7", exact=True).first).to_be_visible()
    _, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/back")
    # Said once, at the head of every screen.
    expect(page.get_by_role("region", name="Stop")).to_contain_text("1 of 4 M8×25 of Caliper bracket lost")
    expect(page.locator(".notice", has_text="Short or left over")).to_have_count(0)


def test_moving_begins_at_what_is_there_and_never_guesses_a_count_left_empty(phone: Any) -> None:
    page = part_page(phone)
    before = len(entries(phone))
    page.locator("summary", has_text="Move some").click()
    count = page.get_by_label("How many", exact=True)
    expect(count).to_have_value("4")
    page.get_by_label("new from stock").check()
    # All four are out, so four is what the part lacks; never the most that a move may hold.
    expect(count).to_have_value("4")
    count.fill("")
    page.get_by_label("In spares", exact=True).check()
    page.get_by_role("button", name="Move them").click()
    expect(page.get_by_role("alert")).to_contain_text("This is missing.")
    expect(count).to_have_attribute("aria-invalid", "true")
    assert len(entries(phone)) == before
    page.get_by_label("4 in bag 7").check()
    expect(count).to_have_value("4")


def test_putting_back_down_to_the_last_mark(phone: Any) -> None:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/back")
    page.locator("summary", has_text="Caliper bracket").click()
    expect(page.get_by_text("let a second person look")).to_be_visible()
    for _press in range(2):
        page.get_by_role("button", name="One less: Out of bag 7 and in").click()
    page.get_by_role("button", name="Put 2 back").click()
    expect(page.get_by_text("2 of 4 on, 0 tight, 0 marked.")).to_be_visible()
    expect(page.locator(".notice", has_text="Short or left over")).to_contain_text("2 of 4 M8×25 still in bag 7")
    page.get_by_role("button", name="Put 2 back").click()
    # The specification stands in the field already: one tap.
    expect(page.get_by_label("Torque applied", exact=True)).to_have_value("25")
    page.get_by_role("button", name="4 tightened").click()
    expect(page.get_by_text("within the specification")).to_be_visible()
    page.get_by_role("button", name="Paint mark on 4").click()
    expect(page.get_by_text("4 of 4 on, 4 tight, 4 marked.")).to_be_visible()
    page.get_by_role("button", name="The part is back on").click()
    expect(page.locator("summary", has_text="Caliper bracket")).to_contain_text("a second check is missing")
    page.get_by_role("button", name="Second check: M8×25").click()
    page.get_by_label("Who is looking", exact=True).fill("Bo")
    page.get_by_label("Torque and mark", exact=True).check()
    page.get_by_role("button", name="4 right").click()
    expect(page.locator("summary", has_text="Done")).to_contain_text("one part")
    expect(page.locator(".notice", has_text="Short or left over")).to_have_count(0)
    page.locator("summary", has_text="Done").click()
    page.locator("summary", has_text="Caliper bracket").click()
    page.get_by_role("button", name="It came off again").click()
    expect(page.get_by_role("heading", name="Still open, in their order")).to_be_visible()
    off, bolts = entries(phone)[-2:]
    assert off["values"] == {"off": True, "outcome_done": False}
    assert (bolts["kind"], bolts["count"], bolts["to"]) == ("move", 4, "bag")


def test_a_part_that_is_back_on_came_off_again_from_its_own_page(phone: Any) -> None:
    page, _, part = phone
    act(phone, "part_on", part=part)
    part_page(phone)
    page.get_by_role("button", name="It came off again").click()
    expect(page.get_by_role("button", name="It came off again")).to_have_count(0)
    assert last_entry(phone)["values"] == {"off": True, "outcome_done": False}


def test_more_than_is_there_is_refused_at_the_count(phone: Any) -> None:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/back")
    page.locator("summary", has_text="Caliper bracket").click()
    count = page.get_by_label("Out of bag 7 and in", exact=True)
    count.fill("5")
    page.get_by_role("button", name="Put 5 back").click()
    expect(page.get_by_role("alert")).to_contain_text("Asked for 5, but there: 4.")
    expect(count).to_have_attribute("aria-invalid", "true")


def test_a_refused_entry_is_shown_and_dropped_only_after_a_question(phone: Any) -> None:
    page, _, _ = phone
    expect(page.locator(".state")).to_contain_text("All sent")
    entry = last_entry(phone)["id"]
    page.evaluate(
        """(id) => import('/log.js').then((log) => log.settle([], [{ id, code: 'id_used_twice', field: 'id',
             text: 'This id holds something else on the PC.', values: {} }]))""",
        entry,
    )
    page.reload()
    open_screen(page, "#/sending")
    expect(page.locator(".state")).to_contain_text("1 refused by the PC")
    refusal = page.locator(".block", has_text="This id holds something else on the PC.")
    refusal.locator("summary").click()
    expect(refusal).to_contain_text(entry)
    refusal.get_by_role("button", name="Drop it").click()
    page.get_by_role("dialog").get_by_role("button", name="Leave it").click()
    expect(refusal).to_be_visible()
    refusal.get_by_role("button", name="Drop it").click()
    page.get_by_role("dialog").get_by_role("button", name="Drop it").click()
    expect(refusal).to_have_count(0)
    assert entry not in [each["id"] for each in entries(phone)]


def test_a_spell_begins_and_ends_with_who_is_there(phone: Any) -> None:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/off")
    page.locator("summary", has_text="Begin a spell of work").click()
    page.get_by_label("Who is there").fill("Ann, Bo")
    page.get_by_role("button", name="Begin the spell").click()
    expect(page.get_by_text("There: Ann and Bo.")).to_be_visible()
    assert last_entry(phone)["people"] == ["Ann", "Bo"]
    page.get_by_role("button", name="End the spell").click()
    page.get_by_role("button", name="End it now").click()
    expect(page.get_by_text("There: Ann and Bo.")).to_have_count(0)
    assert last_entry(phone)["act"] == "ends"


def test_cautions_are_put_away_for_one_spell(phone: Any) -> None:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/take_off")
    support = page.get_by_text("Machine supported")
    page.get_by_role("button", name="Read. Put away for this spell").click()
    expect(support).to_be_hidden()
    page.reload()
    expect(page.locator("summary", has_text="Before you begin")).to_be_visible()
    expect(support).to_be_hidden()
    page.evaluate("(strip) => import('/shop.js').then((shop) => shop.act('spell', { strip, act: 'begins' }))", strip)
    open_screen(page, f"#/strip/{strip}/take_off")
    page.reload()
    expect(support).to_be_visible()
