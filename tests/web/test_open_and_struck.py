"""On a phone: a part with something open is not struck unasked, and a list that may lack something says so."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from one_part import act, entries, phone_with_one_part, view
from screens import open_screen

NEWER = "Entries that a newer version wrote, or that can’t be read here: 1. More may be open than is shown."
# An entry of a kind that this program does not know, as one comes from another phone.
OF_A_NEWER_VERSION = """async ([strip, like]) => {
  const log = await import('/log.js');
  const id = like.id.slice(0, -4) + (like.id.endsWith('beef') ? 'feed' : 'beef');
  await log.addEntries([{ ...like, id, kind: 'of_a_newer_version' }]);
}"""


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone with one part: (page, strip, part)."""
    with phone_with_one_part(chromium, module_server) as phone:
        yield phone


def answer(page: Any, field: str, text: str, button: str) -> None:
    question = page.get_by_role("dialog")
    question.get_by_label(field).fill(text)
    question.get_by_role("button", name=button, exact=True).click()


def test_a_part_with_a_lost_bolt_and_something_to_buy_is_struck_with_a_reason_and_both_stay_open(phone: Any) -> None:
    page, strip, _ = phone
    part = act(phone, "take_off", name="Clutch cover", bag_label="8", groups=[{"count": 4, "thread": "M5"}])["part"]
    (group,) = view(phone, "part", part=part)["groups"]
    place = {"from": "bag", "from_bag": group["places"][0]["bag"]}
    act(phone, "move", group=group["group"], count=1, to="lost", **place)
    act(phone, "item", part=part, what="buy", text="Seal is torn")
    open_screen(page, f"#/strip/{strip}/part/{part}")
    written = page.locator(".history > li", has_text="Clutch cover").first
    written.get_by_role("button", name="Strike: ").click()
    before = len(entries(phone))
    answer(page, "Why was it a mistake?", "A double", "Strike it")
    question = page.get_by_role("dialog", name="Strike it all the same?")
    expect(question).to_contain_text("Still open of it: 1 of 4 M5 of Clutch cover lost and Seal is torn.")
    assert len(entries(phone)) == before
    # Left alone it is not struck; the reason for all that makes it so.
    question.get_by_role("button", name="Leave it").click()
    expect(page.get_by_role("alert")).to_contain_text("Still open of it")
    assert len(entries(phone)) == before
    written.get_by_role("button", name="Strike: ").click()
    answer(page, "Why was it a mistake?", "A double", "Strike it")
    answer(page, "Why all the same?", "The other one has the seal", "Strike it all the same")
    expect(page.get_by_text("This part was struck as a mistake")).to_be_visible()
    assert entries(phone)[-1]["why"] == "A double – The other one has the seal"
    open_screen(page, f"#/strip/{strip}/open")
    stop = page.locator("li.stopping")
    expect(stop).to_contain_text("1 of 4 M5 of Clutch cover (struck) lost.")
    expect(stop.get_by_role("link")).to_have_count(0)
    block = page.locator("details.part", has=page.locator("summary .name", has_text="Clutch cover"))
    expect(block.locator("summary").first).to_contain_text("struck")
    expect(block).to_contain_text("buy: Seal is torn")
    block.get_by_role("button", name="Done: Seal is torn").click()
    answer(page, "How was it done?", "Bought", "Done")
    expect(block).to_have_count(0)
    stop.get_by_role("button", name="Ruled out").click()
    answer(page, "How was it ruled out that it is inside?", "Swept up", "Ruled out")
    expect(stop).to_have_count(0)


def test_lists_of_what_is_open_say_that_more_may_be_where_an_entry_could_not_be_read(phone: Any) -> None:
    page, strip, _ = phone
    page.evaluate(OF_A_NEWER_VERSION, [strip, entries(phone)[-1]])
    page.reload()
    expect(page.locator("h1")).to_be_visible()
    for place in ("open", "back", "handover", "count"):
        open_screen(page, f"#/strip/{strip}/{place}")
        expect(page.locator("main")).to_contain_text(NEWER)


def test_an_item_of_missing_fasteners_tells_how_many_are_missing_now(phone: Any) -> None:
    page, strip, _ = phone
    part = act(phone, "take_off", name="Cover", groups=[{"count": 4, "thread": "M5"}])["part"]
    (group,) = view(phone, "part", part=part)["groups"]
    act(phone, "move", group=group["group"], count=3, to="machine", **{"from": "bag"})
    act(phone, "spell", act="begins", people=["Ann"])
    act(phone, "spell", act="ends", missing="On the bench")
    act(phone, "move", group=group["group"], count=2, to="bag", **{"from": "machine"})
    open_screen(page, f"#/strip/{strip}/open")
    spell = page.locator("section", has=page.get_by_role("heading", name="Before the next spell"))
    expect(spell).to_contain_text("check: 3 of 4 M5 of Cover out, in no bag")
    expect(spell).to_contain_text("Written down then: 1 of 4 M5 of Cover out, in no bag (said")
    open_screen(page, f"#/strip/{strip}/handover")
    expect(page.locator("main")).to_contain_text("check: 3 of 4 M5 of Cover out, in no bag")
