"""Taking off, by tapping through the form: what is refused, saved and offered next."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from examples import picture
from screens import open_screen
from web.taking_off import BEGIN, ENTRIES, entries, name, part_fields, save, taking_off, unfold


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone on the screen for taking off: (page, strip)."""
    with taking_off(chromium, module_server, viewport={"width": 360, "height": 740}, has_touch=True) as phone:
        yield phone


def test_a_name_alone_is_enough(phone: Any) -> None:
    page, _ = phone
    name(page).fill("Bracket of ours")
    save(page)
    expect(page.get_by_role("heading", name="Saved: Bracket of ours")).to_be_visible()
    expect(page.get_by_role("status").filter(has_text="Saved: Bracket of ours")).to_be_focused()
    expect(page.locator(".state")).to_contain_text("Saved on this phone.")
    page.get_by_role("button", name="Next part").click()
    expect(name(page)).to_be_focused()
    assert part_fields(phone) == [{"name": "Bracket of ours", "pieces": 1, "off": True}]


def test_without_a_name_it_is_refused_and_leads_to_the_field(phone: Any) -> None:
    page, _ = phone
    unfold(page, "Still to do")
    page.get_by_label("In words").fill("Order a new one")
    save(page)
    summary = page.get_by_role("alert")
    expect(summary).to_contain_text("Not saved yet.")
    expect(summary).to_be_focused()
    expect(name(page)).to_have_attribute("aria-invalid", "true")
    summary.get_by_role("button").click()
    expect(name(page)).to_be_focused()
    expect(page.get_by_label("In words")).to_have_value("Order a new one")
    assert part_fields(phone) == []


def test_a_wrong_figure_is_shown_at_its_field_even_when_folded(phone: Any) -> None:
    page, _ = phone
    name(page).fill("Horn")
    unfold(page, "Weight")
    page.get_by_label("Figure", exact=True).fill("1.2.3")
    unfold(page, "Weight")
    expect(page.get_by_label("Figure", exact=True)).to_be_hidden()
    save(page)
    page.get_by_role("alert").get_by_role("button").click()
    figure = page.get_by_label("Figure", exact=True)
    expect(figure).to_be_focused()
    expect(figure).to_have_attribute("aria-invalid", "true")
    figure.fill("410")
    save(page)
    expect(page.get_by_role("heading", name="Saved: Horn")).to_be_visible()
    assert [each["grams"] for each in entries(phone) if each["kind"] == "weigh"] == [410]


def test_picking_an_ordinary_part_brings_its_place_side_and_pieces(phone: Any) -> None:
    page, _ = phone
    name(page).fill("mirr")
    page.get_by_role("button", name="Mirrors").click()
    expect(name(page)).to_have_value("Mirrors")
    expect(page.get_by_label("Both sides")).to_be_checked()
    expect(page.get_by_label("Pieces", exact=True)).to_have_value("2")
    expect(page.get_by_label("Place on the machine")).to_have_value("handlebar")


def test_a_strip_down_that_nobody_began_has_no_form(phone: Any) -> None:
    page, _ = phone
    page.goto(page.url.split("#")[0] + "#/strip/01900000-0000-7000-8000-000000000001/take_off")
    expect(page.get_by_role("alert")).to_contain_text("This strip-down is not in the log of this phone.")
    expect(name(page)).to_have_count(0)


def test_rows_left_untouched_are_not_saved(phone: Any) -> None:
    page, _ = phone
    name(page).fill("Side panel")
    for title in ("Fasteners and bag", "Weight", "Still to do"):
        unfold(page, title)
    save(page)
    expect(page.get_by_role("heading", name="Saved: Side panel")).to_be_visible()
    assert [each["kind"] for each in entries(phone)][2:] == ["set"]


def test_the_other_side_is_one_tap_and_the_next_reading_keeps_unit_and_step(phone: Any) -> None:
    page, _ = phone
    name(page).fill("Side panel")
    page.get_by_label("Left", exact=True).check()
    unfold(page, "Fasteners and bag")
    for _press in range(4):
        page.get_by_role("button", name="One more: How many").click()
    page.get_by_label("Thread", exact=True).fill("M6")
    page.get_by_label("Into which bag").fill("7")
    unfold(page, "Weight")
    page.get_by_label("Figure", exact=True).fill("1,25")
    page.get_by_label("Unit of: Figure").select_option("kg")
    page.get_by_label("Step of the scale").fill("0.005")
    save(page)
    page.get_by_role("button", name="Same again, other side").click()
    expect(page.get_by_role("heading", name="Saved for the other side: Side panel")).to_be_visible()
    assert [each["side"] for each in part_fields(phone)] == ["left", "right"]
    moved = [(each["count"], each["from"], each["to"]) for each in entries(phone) if each["kind"] == "move"]
    assert moved == [(4, "machine", "bag")] * 2
    page.get_by_role("button", name="Next part").click()
    unfold(page, "Weight")
    expect(page.get_by_label("Unit of: Figure")).to_have_value("kg")
    expect(page.get_by_label("Step of the scale")).to_have_value("0.005")
    unfold(page, "Fasteners and bag")
    page.get_by_role("button", name="Bag 8").click()
    expect(page.get_by_label("Into which bag")).to_have_value("8")


def test_a_photo_from_the_gallery_and_a_file_that_is_none(phone: Any, tmp_path: Path) -> None:
    page, _ = phone
    good, bad = tmp_path / "seat.jpg", tmp_path / "notes.jpg"
    good.write_bytes(picture(1, 64))
    bad.write_text("no picture")
    name(page).fill("Seat")
    page.get_by_label("From the gallery").set_input_files(bad)
    expect(page.get_by_role("alert")).to_contain_text("This file is no picture")
    page.get_by_label("Take a photo").set_input_files(good)
    expect(page.get_by_role("img", name="Photo 1")).to_be_visible()
    save(page)
    expect(page.get_by_role("heading", name="Saved: Seat")).to_be_visible()
    assert len([each for each in entries(phone) if each["kind"] == "photo"]) == 1


def test_the_name_of_who_is_working_is_asked_once(chromium: Any, module_server: Any) -> None:
    context = chromium.new_context()
    page = context.new_page()
    page.goto(module_server.url + "/")
    expect(page.locator("h1")).to_be_visible()
    strip = page.evaluate(BEGIN, "")
    open_screen(page, f"#/strip/{strip}/take_off")
    name(page).fill("Horn")
    save(page)
    page.get_by_role("dialog").get_by_label("Your name").fill("Bo")
    page.get_by_role("button", name="That’s me").click()
    expect(page.get_by_role("heading", name="Saved: Horn")).to_be_visible()
    page.get_by_role("button", name="Next part").click()
    name(page).fill("Seat")
    save(page)
    expect(page.get_by_role("heading", name="Saved: Seat")).to_be_visible()
    assert {each["who"] for each in page.evaluate(ENTRIES, strip)[2:]} == {"Bo"}
    context.close()


def test_every_field_is_reached_by_keyboard_in_reading_order(phone: Any) -> None:
    page, _ = phone
    page.get_by_role("button", name="Read. Put away for this spell").click()
    name(page).focus()
    reached = []
    for _press in range(9):
        page.keyboard.press("Tab")
        reached.append(
            page.evaluate(
                """() => { const at = document.activeElement;
                          return at.labels?.[0]?.innerText.trim() ?? at.ariaLabel ?? at.innerText; }"""
            )
        )
    assert reached == [
        "or an ordinary part", "Take a photo", "From the gallery", "Pieces", "One more: Pieces", "Left",
        "Place on the machine", "Fasteners and bag\nnone yet", "Weight\nnot weighed",
    ]
