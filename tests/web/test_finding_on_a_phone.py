"""The search as a person has it on a phone: from any screen, offline, as it is typed, by touch and by keyboard."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from one_part import act, phone_with_one_part
from screens import open_screen


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone with one part, four M8 × 25 in bag 7: (page, strip, part)."""
    with phone_with_one_part(chromium, module_server) as phone:
        yield phone


def find(phone: Any, typed: str) -> Any:
    """Opens the search and types; the page, and the line that says how many were found."""
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/find")
    page.get_by_label("Find in this strip-down").fill(typed)
    return page


def said(page: Any) -> Any:
    return page.get_by_role("main").get_by_role("status")


def test_fasteners_are_found_offline_from_any_screen_and_their_part_opened(phone: Any) -> None:
    page, strip, part = phone
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    page.context.set_offline(True)
    for screen in ("take_off", f"part/{part}", "statement"):
        open_screen(page, f"#/strip/{strip}/{screen}")
        expect(page.get_by_role("link", name="Find", exact=True)).to_have_count(1)
    page.get_by_role("link", name="Find", exact=True).tap()
    field = page.get_by_label("Find in this strip-down")
    expect(field).to_be_focused()
    page.keyboard.type("m8 × 25")
    expect(said(page)).to_have_text("2 found.")
    fasteners = page.locator("section").filter(has=page.get_by_role("heading", name="Fasteners", exact=True))
    expect(fasteners.get_by_role("link")).to_contain_text("4 in bag 7.")
    fasteners.get_by_role("link").tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Caliper bracket")
    page.go_back()
    expect(field).to_have_value("m8 × 25")
    expect(said(page)).to_have_text("2 found.")


def test_a_bags_number_opens_it_typed_or_scanned(phone: Any) -> None:
    page, strip, _ = phone
    for typed in ("7", "bag 7", page.url.split("#")[0] + f"#/strip/{strip}/bag/7"):
        find(phone, typed)
        page.get_by_label("Find in this strip-down").press("Enter")
        expect(page).to_have_url(re.compile("/bag/7$"))
        expect(page.get_by_role("heading", level=1)).to_contain_text("7")


def test_enter_opens_the_only_find_and_goes_to_the_first_of_several(phone: Any) -> None:
    page, *_ = phone
    find(phone, "caliper")
    expect(said(page)).to_have_text("3 found.")
    page.keyboard.press("Enter")
    expect(page.locator(".found a").first).to_be_focused()
    page.keyboard.press("Tab")
    expect(page.locator(".found a").nth(1)).to_be_focused()
    find(phone, "ann")
    expect(said(page)).to_have_text("1 found.")
    page.get_by_label("Find in this strip-down").press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Handing over")


def test_nothing_found_says_what_to_do(phone: Any) -> None:
    page = find(phone, "gearbox zzz")
    expect(said(page)).to_have_text("Nothing found.")
    expect(page.get_by_text("Leave a word out, or type only its beginning.")).to_be_visible()
    page.get_by_label("Find in this strip-down").fill("")
    expect(said(page)).to_have_text("")
    expect(page.get_by_text("Leave a word out")).to_have_count(0)


def test_a_mistyped_letter_is_forgiven_and_said(phone: Any) -> None:
    page = find(phone, "brxxket")
    expect(said(page)).to_have_text("Nothing found.")
    # One in each of two words.
    page.get_by_label("Find in this strip-down").fill("calliper brakcet")
    expect(page.get_by_role("link", name=re.compile("Caliper bracket.*one letter differs")).first).to_be_visible()


def test_what_is_written_meanwhile_is_found_and_what_is_struck_is_not(phone: Any) -> None:
    page = find(phone, "mudguard")
    expect(said(page)).to_have_text("Nothing found.")
    made = act(phone, "take_off", name="Mudguard", place="front_end")
    expect(said(page)).to_have_text("1 found.")
    act(phone, "strike", entry=made["entries"][0]["id"], why="slip")
    expect(said(page)).to_have_text("Nothing found.")


def test_all_of_a_kind_come_on_asking(phone: Any) -> None:
    for n in range(1, 9):
        act(phone, "take_off", name=f"Clip {n}")
    page = find(phone, "clip")
    expect(said(page)).to_have_text("8 found.")
    expect(page.locator(".found a")).to_have_count(5)
    page.get_by_role("button", name="Show all 8: Parts").click()
    expect(page.locator(".found a")).to_have_count(8)
    # On with the keyboard where the button was.
    expect(page.locator(".found a").nth(5)).to_be_focused()


def test_the_slash_leads_to_the_field_unless_somebody_types(chromium: Any, module_server: Any) -> None:
    with phone_with_one_part(chromium, module_server, viewport={"width": 1280, "height": 800}) as phone:
        page, strip, _ = phone
        open_screen(page, f"#/strip/{strip}/off")
        page.keyboard.press("/")
        field = page.get_by_label("Find in this strip-down")
        expect(field).to_be_focused()
        expect(field).to_have_value("")
        page.keyboard.type("1/4")
        expect(field).to_have_value("1/4")
        open_screen(page, f"#/strip/{strip}/take_off")
        page.get_by_label("Name of the part").fill("")
        page.get_by_label("Name of the part").press("/")
        expect(page.get_by_label("Name of the part")).to_have_value("/")


def test_choices_bags_and_cautions_are_found_in_the_language_that_is_read(phone: Any) -> None:
    page, strip, part = phone
    act(phone, "take_off", name="Front mudguard", place="front_wheel", side="left", pieces=1, outcome="stays_off")
    open_screen(page, "#/")
    page.get_by_role("radio", name="Deutsch").check()
    expect(page.get_by_role("heading", level=1)).to_have_text("Maschinen und Zerlegungen")
    open_screen(page, f"#/strip/{strip}/find")
    field = page.get_by_role("searchbox")
    field.fill("links Vorderrad")
    expect(page.locator(".found")).to_contain_text("Front mudguard")
    field.fill("Schlauch")
    expect(page.locator(".found h2")).to_have_text(["Hinweise"])
    # The one that follows, and that of the place where the bracket is.
    expect(page.locator(".found a")).to_contain_text(["Front mudguard", "Caliper bracket"])
    expect(page.locator(".found a").first).to_contain_text("Offen für 1 von 1.")
    field.fill("Beutel 7")
    field.press("Enter")
    expect(page).to_have_url(re.compile("/bag/7$"))


def test_a_caution_is_found_by_its_words_and_leads_to_what_is_open(phone: Any) -> None:
    act(phone, "take_off", name="Front mudguard", place="front_wheel", pieces=1, outcome="stays_off")
    page = find(phone, "hose")
    expect(said(page)).to_have_text("2 found.")
    page.locator(".found a").first.tap()
    expect(page).to_have_url(re.compile("/open$"))
    page.go_back()
    # What is always minded at a place leads to a part that is there.
    expect(page.locator(".found a").nth(1)).to_contain_text("Don’t let a caliper hang on its hose.")
    page.locator(".found a").nth(1).tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Caliper bracket")
