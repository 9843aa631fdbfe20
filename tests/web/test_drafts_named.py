"""Unfinished forms by their thing's name; a strip-down begun and left; a struck part; a reading emptied by hand."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from web.unfinished import FORMS, Phone, begin, phone_with_two_parts, until_drafts, write


@pytest.fixture(scope="module")
def phone(chromium: Any, module_server: Any) -> Iterator[Phone]:
    """A phone without signal that two parts came off."""
    with phone_with_two_parts(chromium, module_server) as phone:
        yield phone


def dropped(phone: Phone, words: str) -> None:
    """The form stands in Sending under these words; drop it there."""
    phone.open("#/sending")
    listed = phone.page.locator(".block").filter(has_text=words)
    expect(listed).to_have_count(1)
    phone.tap("Drop it", listed)
    phone.tap("Drop it", phone.page.get_by_role("dialog"))
    until_drafts(phone)


def test_a_strip_down_begun_and_left_is_here_again(phone: Phone) -> None:
    phone.open("#/begin")
    phone.choose("Which machine", "Test hack")
    phone.write("Name of the strip-down", "Winter work")
    phone.write("Standard mass", "2o1")
    until_drafts(phone, "Winter work", "2o1")
    phone.open("#/sending")
    listed = phone.page.locator(".block").filter(has_text="A new strip-down: Winter work")
    listed.get_by_role("link", name="Go to its form").tap()
    expect(phone.page.get_by_text("Your unfinished strip-down is here again")).to_be_visible()
    expect(phone.page.get_by_role("radio", name="Test hack", exact=True)).to_be_checked()
    phone.tap("Begin")
    expect(phone.refused()).to_contain_text("2o1")
    phone.reload()
    expect(phone.page.get_by_label("Name of the strip-down", exact=True)).to_have_value("Winter work")
    phone.write("Standard mass", "201")
    phone.tap("Begin")
    expect(phone.page.get_by_role("heading", level=1)).to_have_text("Take off")
    until_drafts(phone)
    phone.open("#/begin")
    expect(phone.page.get_by_text("here again")).to_have_count(0)
    expect(phone.page.get_by_label("Name of the strip-down", exact=True)).to_have_value("")


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("reading", "A reading: Case"), ("tighten", "A tightening: Stay"), ("specification", "A specification: Case"),
        ("move", "A move of fasteners: Case"), ("scale_check", "A check of a scale: Bench scale"),
    ],
)  # fmt: skip
def test_an_unfinished_form_says_what_it_is_of(phone: Phone, name: str, words: str) -> None:
    begin(phone, FORMS[name])
    write(phone, FORMS[name], **{FORMS[name].field: "3"})
    until_drafts(phone, "3")
    here = phone.strip
    dropped(phone, words)
    phone.strip = here


def test_a_reading_emptied_by_hand_after_a_reload_keeps_nothing(phone: Phone) -> None:
    form = FORMS["reading"]
    begin(phone, form)
    phone.write("Figure", "812")
    until_drafts(phone, "812")
    phone.reload()
    expect(phone.page.get_by_text(form.notice)).to_be_visible()
    phone.write("Figure", "")
    until_drafts(phone)
    phone.reload()
    expect(phone.page.get_by_role("button", name="Add a reading")).to_be_visible()
    expect(phone.page.get_by_text("here again")).to_have_count(0)


def test_a_struck_part_offers_no_form_and_has_its_reading_again_when_it_is_back(phone: Phone) -> None:
    form = FORMS["reading"]
    begin(phone, form)
    phone.write("Figure", "812")
    until_drafts(phone, "812")
    act = "async ([name, form]) => (await (await import('/shop.js')).act(name, form)).entries.at(-1).id"
    part = phone.made["case"]["part"]
    made = next(each["id"] for each in phone.entries() if each.get("thing") == part and each["kind"] == "set")
    strike = phone.page.evaluate(act, ["strike", {"strip": phone.strip, "entry": made, "why": "the wrong one"}])
    expect(phone.page.get_by_text("This part was struck as a mistake")).to_be_visible()
    for name in ("Save the reading", "Add a reading", "Weigh again", "Add fasteners", "Move them"):
        expect(phone.page.get_by_role("button", name=name)).to_have_count(0)
    phone.page.evaluate(act, ["strike", {"strip": phone.strip, "entry": strike, "why": "right after all"}])
    expect(phone.page.get_by_label("Figure", exact=True)).to_have_value("812")
    phone.reload()
    expect(phone.page.get_by_text(form.notice)).to_be_visible()
    expect(phone.page.get_by_label("Figure", exact=True)).to_have_value("812")
    dropped(phone, "A reading: Case")
