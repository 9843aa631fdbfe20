"""The whole job on a phone that has no signal from the first load on, by tapping through the real form.

The parts, the sums and their working are in seven_parts.md.
"""

import hashlib
import io
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import expect

from web.hands import PATIENCE_MS, PHONE, Hands, Wire, by_id, kept_entries
from web.seven_parts import (
    NAMES,
    begin,
    begin_spell,
    lines_say,
    log_before_the_spell,
    log_in_the_spell,
    photo_file,
    put_back,
    screens_say,
    strike_and_correct,
    sums_say,
)


@pytest.fixture
def phones(chromium: Any, server: Any) -> Iterator[Any]:
    """phones() opens a fresh phone that has loaded the program once: (context, hands)."""
    contexts = []

    def make() -> tuple[Any, Hands]:
        context = chromium.new_context(**PHONE)
        contexts.append(context)
        hands = Hands(context.new_page(), server.url)
        hands.install()
        return context, hands

    yield make
    for context in contexts:
        context.close()


def count_bolts(hands: Hands, more: int) -> Any:
    """Correct how many bolts held the footrests; the group of them."""
    hands.to_part("Passenger footrests")
    bolts = hands.page.get_by_role("group", name="M8×25")
    hands.unfold("All about these", bolts)
    hands.tap("Change: How many", bolts)
    for _each in range(more):
        hands.tap("One more: How many", bolts)
    hands.tap("Save", bolts)
    expect(bolts.get_by_role("heading")).to_have_text(f"{4 + more} × M8×25")
    return bolts


def the_pc_has_all(server: Any, hands: Hands, strip: str) -> None:
    """The PC's file holds what the phone's log holds, each entry once and word for word."""
    kept, own = kept_entries(server.folder, strip), hands.entries()
    assert by_id(kept) == by_id(own)
    assert len(kept) == len(own) == len(by_id(own))


def test_seven_parts_with_no_signal_then_two_phones_and_the_pc(phones: Any, server: Any, tmp_path: Path) -> None:
    context, hands = phones()
    context.set_offline(True)
    strip = begin(hands)
    log_before_the_spell(hands)
    begin_spell(hands)
    hands.to("Take off")
    log_in_the_spell(hands, photo_file(tmp_path))
    screens_say(hands, "Seven logged")

    hands.reload()
    expect(hands.page.locator(".line .name")).to_have_text(list(reversed(NAMES)))
    screens_say(hands, "Seven logged")
    strike_and_correct(hands)
    put_back(hands)
    screens_say(hands, "Two put back")
    lines_say(hands, NAMES)
    expect(hands.status()).to_contain_text("not sent yet: the PC is not in reach.")
    assert not list(server.folder.glob("strips/*")), "the phone was offline"

    taken = hands.pictures()
    context.set_offline(False)
    hands.all_sent()
    the_pc_has_all(server, hands, strip)
    [(sha256, data)] = taken.items()
    stored = (server.folder / "photos" / f"{sha256}.jpg").read_bytes()
    assert stored == data and hashlib.sha256(stored).hexdigest() == sha256
    picture = Image.open(io.BytesIO(stored))
    assert picture.size == (1500, 2000), "made smaller, and upright"
    assert not picture.getexif(), "what the camera wrote into it is gone"

    other_context, other = phones()
    second_phone_adds(context, hands, other_context, other)
    both_come_together(server, hands, other, strip)


def second_phone_adds(context: Any, hands: Hands, other_context: Any, other: Hands) -> None:
    """The second phone sees everything, and both write without a network: a lamp, and two counts of the same bolts."""
    page = other.page
    page.get_by_role("link", name="Harbour runabout").tap()
    screens_say(other, "Two put back")
    lines_say(other, NAMES)
    other.to_part("Seat")
    photo = page.get_by_role("img", name="Photo")
    expect(photo).to_have_js_property("naturalWidth", 1500)

    context.set_offline(True)
    other_context.set_offline(True)
    other.to("Take off")
    other.tap("Read. Put away for this spell")
    other.name("Number plate lamp")
    other.fasteners(2, "M4", "12", "8")
    other.weigh(other.reading(), "96", "g", "1")
    other.outcome("Stays off", done=True)
    other.save()
    other.answer("Your name", "Bram", "That’s me")
    expect(page.get_by_role("heading", name="Saved: Number plate lamp")).to_be_visible()
    screens_say(other, "Second phone")
    screens_say(hands, "Two put back")
    count_bolts(hands, 1)
    count_bolts(other, 2)
    context.set_offline(False)
    hands.all_sent()
    other_context.set_offline(False)
    other.all_sent()
    hands.tap("Send now")


def both_come_together(server: Any, hands: Hands, other: Hands, strip: str) -> None:
    """Both phones show both counts and the same sums; one settles it, and both have the answer."""
    for each in (hands, other):
        each.to_part("Number plate lamp")
        sums_say(each, "Second phone")
        lines_say(each, [*NAMES, "Number plate lamp"])
        each.to("Off")
        expect(each.page.get_by_text("Two answers that differ: 1. Open the part and settle it.")).to_be_visible()
        each.to_part("Passenger footrests")
        dispute = each.page.get_by_role("group", name="M8×25")
        expect(dispute.get_by_text("Two answers for: How many")).to_be_visible()
        expect(dispute.get_by_text("5 Ilka,")).to_be_visible()
        expect(dispute.get_by_text("6 Bram,")).to_be_visible()
    assert hands.exact() == other.exact()
    assert hands.exact()["disputed"]
    hands.tap("Keep: 5")
    expect(hands.page.get_by_text("Two answers for: How many")).to_have_count(0)
    hands.all_sent()
    other.to("Sending")
    other.tap("Send now")
    for each in (hands, other):
        each.to_part("Passenger footrests")
        expect(each.page.get_by_role("heading", name="5 × M8×25")).to_be_visible()
        expect(each.page.get_by_role("group", name="M8×25").get_by_text("5 in bag 1").first).to_be_visible()
        expect(each.page.get_by_text("Two answers for: How many")).to_have_count(0)
        the_pc_has_all(server, each, strip)
        sums_say(each, "Second phone")
    assert hands.exact() == other.exact()
    assert hands.exact()["disputed"] == []


def test_a_form_left_half_way_is_there_after_a_reload_and_the_other_side_is_one_tap(phones: Any) -> None:
    context, hands = phones()
    context.set_offline(True)
    page = hands.page
    begin(hands)
    hands.name("Side panel")
    hands.choose("Side", "Left")
    hands.fasteners(3, "M6", "16", "1")
    hands.weigh(hands.reading(), "412", "g", "1")
    hands.until_draft(lambda form: form["readings"] and form["readings"][0]["step"] == "1")
    hands.to("Masses")
    hands.reload()
    hands.to("Take off")
    hands.reload()
    expect(page.get_by_text("Your unfinished part is here again")).to_be_visible()
    expect(page.get_by_label("Name of the part")).to_have_value("Side panel")
    expect(page.get_by_role("radio", name="Left")).to_be_checked()
    expect(page.locator("summary", has_text="Fasteners and bag")).to_contain_text("3 × M6×16, Bag 1")
    expect(page.locator("summary", has_text="Weight")).to_contain_text("412 g")
    hands.save()
    hands.tap("Same again, other side")
    expect(page.get_by_role("heading", name="Saved for the other side: Side panel")).to_be_visible()
    hands.to("Off")
    panels = page.locator(".line").filter(has_text="Side panel")
    expect(panels).to_have_count(2)
    expect(panels.filter(has_text="right")).to_contain_text("3 of 3 fasteners out")
    expect(panels.filter(has_text="right").locator(".tape")).to_have_text("Bag 1")
    expect(page.get_by_text("2 of 2 parts off. 6 of 6 fasteners out.")).to_be_visible()
    assert hands.draft() is None


# More than one request carries: 30 parts with 39 things to do each, and the strip-down's own three entries.
MANY_PARTS, MANY_ITEMS = 30, 39
LOG_MANY = """async ([strip, parts, items]) => {
  const shop = await import('/shop.js');
  const rows = Array.from({ length: items }, (_, each) => ({ what: 'check', text: `thing ${each}` }));
  for (let each = 0; each < parts; each += 1) {
    await shop.act('take_off', { strip, name: `Part ${each}`, pieces: 1, items: rows });
  }
}"""


@pytest.mark.parametrize("moment", ["before the PC heard it", "before the phone heard the answer"])
def test_the_server_killed_in_the_middle_of_sending_loses_nothing(phones: Any, server: Any, moment: str) -> None:
    context, hands = phones()
    context.set_offline(True)
    strip = begin(hands)
    hands.page.evaluate(LOG_MANY, [strip, MANY_PARTS, MANY_ITEMS])
    hands.name("Horn")
    hands.saved("Horn")
    written = by_id(hands.entries())
    pages: list[str] = []

    def pass_on(route: Any) -> None:
        pages.append(route.request.url)
        if len(pages) != 2:
            route.continue_()
            return
        if moment == "before the phone heard the answer":
            assert route.fetch().ok
        server.kill()
        route.abort("connectionreset")

    context.route("**/api/sync", pass_on)
    context.set_offline(False)
    hands.to("Sending")
    expect(hands.page.get_by_text("The PC does not answer.")).to_be_visible(timeout=PATIENCE_MS)
    assert len(pages) == 2, "one page was acknowledged, the next was under way"
    on_disk = by_id(kept_entries(server.folder, strip))
    assert len(on_disk) >= 1000 and on_disk.items() <= written.items()
    server.start()
    hands.tap("Send now")
    hands.all_sent()
    assert by_id(hands.entries()) == written
    the_pc_has_all(server, hands, strip)


def test_two_tabs_see_each_other_and_send_each_entry_once(phones: Any, server: Any) -> None:
    context, one = phones()
    wire = Wire(context)
    strip = begin(one)
    two = Hands(context.new_page(), server.url)
    two.open(f"#/strip/{strip}/off")
    for hands, other, name in ((one, two, "Horn"), (two, one, "Seat"), (one, two, "Mirror")):
        hands.page.bring_to_front()
        hands.to("Take off")
        hands.name(name)
        hands.fasteners(2, "M6", "20", "1")
        hands.saved(name)
        other.page.bring_to_front()
        other.to("Off")
        expect(other.page.locator(".line .name").first).to_have_text(name)
    # A form begun in each, then both saved.
    for step in ("fill", "save", "look"):
        for hands, name in ((one, "Left grip"), (two, "Right grip")):
            hands.page.bring_to_front()
            if step == "fill":
                hands.to("Take off")
                hands.name(name)
            elif step == "save":
                hands.save()
            else:
                hands.to("Off")
                expect(hands.page.locator(".line .name")).to_have_count(5)
                hands.all_sent()
                hands.to("Off")
    assert one.exact() == two.exact()
    the_pc_has_all(server, one, strip)
    assert wire.most_at_once == 1
    carried = [entry for request in wire.sent for entry in request]
    assert sorted(carried) == sorted(by_id(one.entries()))
