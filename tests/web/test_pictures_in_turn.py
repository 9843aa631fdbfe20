"""Several pictures chosen at once: each is kept in its turn, also while somebody is asked who is working."""

import io
from collections.abc import Iterator
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import expect

from one_part import act, entries, phone_with_one_part
from screens import open_screen

NOBODY = "async () => (await import('/shop.js')).setPerson('')"


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone with one part: (page, strip, part)."""
    with phone_with_one_part(chromium, module_server) as phone:
        yield phone


def pictures(count: int) -> list[Any]:
    found = []
    for number in range(count):
        data = io.BytesIO()
        Image.new("RGB", (64, 48), (40 * number, 90, 200)).save(data, "JPEG")
        found.append({"name": f"{number}.jpg", "mimeType": "image/jpeg", "buffer": data.getvalue()})
    return found


def kept(phone: Any) -> list[Any]:
    return [entry["thing"] for entry in entries(phone) if entry["kind"] == "photo"]


def test_each_of_several_pictures_of_a_part_is_kept(phone: Any) -> None:
    page, strip, part = phone
    open_screen(page, f"#/strip/{strip}/part/{part}")
    page.get_by_label("From the gallery").first.set_input_files(pictures(5))
    expect(page.locator("section", has_text="Photos").last.locator(".thumbs img")).to_have_count(5)
    assert kept(phone) == [part] * 5


def test_pictures_wait_while_somebody_is_asked_who_is_working(phone: Any) -> None:
    page, strip, part = phone
    open_screen(page, f"#/strip/{strip}/part/{part}")
    page.evaluate(NOBODY)
    page.get_by_label("From the gallery").first.set_input_files(pictures(3))
    name = page.get_by_label("Your name")
    expect(name).to_be_visible()
    # All of them are made small before anybody answers.
    expect(page.get_by_text("Making the picture smaller…")).to_have_count(0)
    name.fill("Ann")
    page.get_by_role("button", name="That’s me").click()
    expect(page.locator("section", has_text="Photos").last.locator(".thumbs img")).to_have_count(3)
    assert kept(phone) == [part] * 3


def test_each_of_several_pictures_of_something_to_do_is_kept(phone: Any) -> None:
    page, strip, _ = phone
    act(phone, "item", what="secure", text="Lead to the horn")
    open_screen(page, f"#/strip/{strip}/open")
    item = page.locator("li.line", has_text="Lead to the horn").first
    item.locator("summary", has_text="Put it right, picture").click()
    item.get_by_label("From the gallery").set_input_files(pictures(4))
    expect(item.locator(".thumbs img")).to_have_count(4)
    assert len(kept(phone)) == 4
