"""Lengths and masses of fasteners typed with their own unit on a phone without signal: read with it and said back."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from web.hands import Hands
from web.offline import hands_without_signal


@pytest.fixture(scope="module")
def phone(chromium: Any, module_server: Any) -> Iterator[Hands]:
    with hands_without_signal(chromium, module_server) as hands:
        yield hands


def row(phone: Hands, name: str) -> Any:
    """The first row of fasteners of a new part, all of it unfolded."""
    phone.to("Take off")
    phone.name(name)
    phone.unfold("Fasteners and bag")
    fasteners = phone.page.get_by_role("group", name="Fasteners 1")
    phone.tap("One more: How many", fasteners)
    phone.unfold("Grade, finish, bolt length", fasteners)
    return fasteners


def kept(phone: Hands) -> dict[str, Any]:
    return [each["values"] for each in phone.entries() if each.get("type") == "group"][-1]


def test_inches_and_fractions_are_read_back_and_kept_in_millimetres_and_grams(phone: Hands) -> None:
    """1 inch is 25.4 mm and 1 oz 28.349523125 g, both exact (NIST SP 811, B.8)."""
    fasteners = row(phone, "Bracket")
    for label, typed, read in (
        ("Length, mm", '1 1/4"', "That is 31.8 mm."),
        ("Thread screwed in, mm", "1/2 in", "That is 12.7 mm."),
        ("One weighs, g", "1/2 oz", "That is 14.2 g."),
        ("Thickness it clamps, mm", "25 mm", "That is 25 mm."),
    ):
        field = fasteners.get_by_label(label, exact=True)
        # The keys of a phone's keypad for figures have neither letters nor strokes.
        assert field.get_attribute("inputmode") == "text"
        field.fill(typed)
        said = phone.page.locator(f"[id='{field.get_attribute('id')}-read']")
        expect(said).to_have_text(read)
    phone.saved("Bracket")
    values = kept(phone)
    assert values["length_millimetres"] == pytest.approx(31.75)
    assert values["engagement_millimetres"] == pytest.approx(12.7)
    assert values["grams_each"] == pytest.approx(14.1747615625)


def test_a_plain_figure_is_not_said_back_and_what_cannot_be_read_is_refused(phone: Hands) -> None:
    fasteners = row(phone, "Other bracket")
    length = fasteners.get_by_label("Length, mm", exact=True)
    length.fill("25,5")
    expect(fasteners.get_by_text("That is")).to_have_count(0)
    length.fill("25 parsnips")
    phone.save()
    expect(phone.refused()).to_contain_text("The unit parsnips is not known here.")
    length.fill("25,5")
    phone.saved("Other bracket")
    assert kept(phone)["length_millimetres"] == 25.5


def test_it_is_corrected_in_the_same_way_on_the_parts_page(phone: Hands) -> None:
    fasteners = row(phone, "Third bracket")
    phone.write("Length, mm", "30", fasteners)
    phone.saved("Third bracket")
    phone.to_part("Third bracket")
    phone.unfold("All about these")
    phone.page.get_by_role("button", name="Change: Length, mm").tap()
    phone.write("Length, mm", "5/8 in")
    expect(phone.page.get_by_text("That is 15.9 mm.")).to_be_visible()
    phone.tap("Save")
    expect(phone.page.get_by_text("That is 15.9 mm.")).to_have_count(0)
    expect(phone.page.get_by_role("button", name="Change: Length, mm")).to_be_visible()
    assert kept(phone)["length_millimetres"] == pytest.approx(15.875)
