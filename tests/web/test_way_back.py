"""The way back in its order: what waits is named and asked about, the order changes by hand, bolts are pinned on a
picture, by thumb, by key and by names and roles."""

from collections.abc import Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from examples import picture
from one_part import act, entries, phone_with_one_part
from screens import open_screen, sticking_out, unfold

NAMES = "[...document.querySelectorAll('details.part > summary .name')].map((each) => each.textContent)"


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A phone with a bracket of four bolts, then a tank and an airbox that came off after it."""
    with phone_with_one_part(chromium, module_server) as phone:
        page, strip, _ = phone
        for name in ("Tank", "Airbox"):
            page.evaluate("async (form) => (await import('/shop.js')).act('take_off', form)", {
                "strip": strip, "name": name, "outcome": "goes_back"})
        yield phone


def back(phone: Any) -> Any:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/back")
    return page


def row(page: Any, name: str) -> Any:
    return page.locator("details.part").filter(has=page.locator("summary .name", has_text=name))


def write_wait(page: Any, name: str, first: str, why: str) -> None:
    part = row(page, name)
    part.locator("> summary").click()
    part.get_by_text("What must go on before it").click()
    part.get_by_role("button", name="Add what goes on first").click()
    part.get_by_label("Goes on first").select_option(label=first)
    part.get_by_label(why).check()
    part.get_by_role("button", name="Save", exact=True).click()
    expect(part.get_by_role("button", name=f"Need not wait for: {first}")).to_be_visible()


def test_what_waits_is_named_stands_later_and_is_asked_about(phone: Any) -> None:
    page = back(phone)
    expect(page.get_by_role("button", name="Next: Airbox")).to_be_visible()
    assert page.evaluate(NAMES) == ["Airbox", "Tank", "Caliper bracket"]
    write_wait(page, "Airbox", "Tank", "this hangs on it")
    assert page.evaluate(NAMES) == ["Tank", "Airbox", "Caliper bracket"]
    airbox = row(page, "Airbox")
    expect(airbox.locator("> summary")).to_contain_text("Tank first: Airbox hangs on it.")
    # The next one is a tap away, open and in focus.
    page.get_by_role("button", name="Next: Tank").click()
    expect(row(page, "Tank").locator("> summary")).to_be_focused()
    expect(row(page, "Tank").get_by_role("button", name="The part is back on")).to_be_visible()
    # Refitted before the one it hangs on: nothing is written before somebody says why.
    before = len(entries(phone))
    airbox.get_by_role("button", name="The part is back on").click()
    expect(airbox.get_by_role("alert")).to_have_text("Tank first: Airbox hangs on it.")
    airbox.get_by_role("button", name="On all the same").click()
    expect(airbox.get_by_label("Why does it go on before that?")).to_have_attribute("aria-invalid", "true")
    assert len(entries(phone)) == before
    airbox.get_by_label("Why does it go on before that?").fill("Only to try the fit")
    airbox.get_by_role("button", name="On all the same").click()
    expect(page.locator(".notice", has_text="Short or left over")).to_contain_text(
        "Airbox is on already, because: Only to try the fit. Tank first: Airbox hangs on it.")
    assert entries(phone)[-1]["values"] == {
        "off": False, "outcome_done": True, "early_why": "Only to try the fit"}
    # With the tank on nothing is said any more.
    row(page, "Tank").get_by_role("button", name="The part is back on").click()
    expect(page.get_by_text("is on already")).to_have_count(0)
    # Of neither a bolt was written down, and nobody shall think that any was looked at.
    expect(row(page, "Tank").locator("> summary")).to_contain_text("on; no fasteners are written down of it")


def test_a_wait_is_taken_back_and_the_order_changed_by_hand(phone: Any) -> None:
    page = back(phone)
    write_wait(page, "Airbox", "Tank", "it sits behind")
    airbox = row(page, "Airbox")
    airbox.get_by_role("button", name="Goes on earlier: Airbox").click()
    expect(airbox.get_by_role("alert")).to_contain_text(
        "Airbox waits for Tank, so it stays after it. Take that back first.")
    airbox.get_by_role("button", name="Need not wait for: Tank").click()
    page.wait_for_function(f"() => ({NAMES})[0] === 'Airbox'")
    bracket = row(page, "Caliper bracket")
    bracket.locator("> summary").click()
    bracket.get_by_role("button", name="Goes on earlier: Caliper bracket").click()
    page.wait_for_function(f"() => ({NAMES})[1] === 'Caliper bracket'")
    bracket.get_by_role("button", name="Goes on earlier: Caliper bracket").click()
    page.wait_for_function(f"() => ({NAMES})[0] === 'Caliper bracket'")
    bracket.get_by_role("button", name="Goes on earlier: Caliper bracket").click()
    expect(bracket.get_by_role("alert")).to_contain_text("Caliper bracket goes on first already.")
    # The moves outlive a new start.
    page.reload()
    expect(page.get_by_role("button", name="Next: Caliper bracket")).to_be_visible()


def test_a_step_says_where_part_and_bag_are_and_what_lies_under_the_bolts(phone: Any) -> None:
    page, strip, part = phone
    [bag] = {entry["to_bag"] for entry in entries(phone) if entry["kind"] == "move"}
    [group] = {entry["group"] for entry in entries(phone) if entry["kind"] == "move"}
    for thing, kind, values in ((part, "part", {"kept": "Shelf 2"}), (bag, "bag", {"kept": "Red box"}),
                                (group, "group", {"washers": "one flat each", "torque_condition": "oiled"})):
        act(phone, "change", thing=thing, type=kind, values=values)
    bracket = row(back(phone), "Caliper bracket")
    bracket.locator("> summary").click()
    expect(bracket).to_contain_text("It is here: Shelf 2 · The bag is here: Red box")
    expect(bracket).to_contain_text("Washers: one flat each · oiled")


def pinning(phone: Any) -> Any:
    """The screen for pins on a picture of the bracket, which has two groups of bolts."""
    page, strip, part = phone
    act(phone, "add", part=part, groups=[{"count": 2, "thread": "M8", "length": "40", "sits": "outside"}])
    open_screen(page, f"#/strip/{strip}/part/{part}")
    data = picture(3)
    page.get_by_label("Take a photo").first.set_input_files(
        {"name": "bracket.jpg", "mimeType": "image/jpeg", "buffer": data})
    page.get_by_role("link", name="Pin fasteners").click()
    expect(page.get_by_role("heading", name="Pins: Caliper bracket")).to_be_visible()
    expect(page.locator(".pinned img")).to_be_visible()
    return page


def pins(phone: Any) -> list[Any]:
    found = {}
    for entry in entries(phone):
        if entry.get("type") == "pin":
            found.setdefault(entry["thing"], {}).update(entry["values"])
    return [each for each in found.values() if not each.get("dropped")]


def tap(page: Any, across: float, down: float) -> None:
    sheet = page.locator("button.pinned")
    sheet.evaluate(
        "(sheet, down) => scrollBy(0, sheet.getBoundingClientRect().top + sheet.offsetHeight * down - 300)", down)
    box = sheet.bounding_box()
    page.touchscreen.tap(box["x"] + box["width"] * across, box["y"] + box["height"] * down)


def test_bolts_are_pinned_by_thumb_and_seen_on_the_way_back(phone: Any) -> None:
    page = pinning(phone)
    tap(page, 0.2, 0.3)
    expect(page.get_by_text("1 of 4 pinned")).to_be_visible()
    page.get_by_label("B: M8×40").check()
    tap(page, 0.8, 0.3)
    expect(page.get_by_text("1 of 2 pinned")).to_be_visible()
    tap(page, 0.8, 0.7)
    expect(page.get_by_text("2 of 2 pinned")).to_be_visible()
    tap(page, 0.5, 0.7)
    expect(page.get_by_role("alert")).to_contain_text("All 2 are on this picture already. Tap one to take it away.")
    tap(page, 0.8, 0.7)
    expect(page.get_by_text("1 of 2 pinned")).to_be_visible()
    [first, second] = pins(phone)
    assert (abs(first["across_permille"] - 200), abs(first["down_permille"] - 300)) < (6, 6)
    assert (abs(second["across_permille"] - 800), abs(second["down_permille"] - 300)) < (6, 6)
    bracket = row(back(phone), "Caliper bracket")
    bracket.locator("> summary").click()
    expect(bracket.locator("h3 .letter")).to_have_text(["A", "B"])
    bracket.get_by_role("button", name="Show large: As it was: Caliper bracket, pinned: A: 1, B: 1").click()
    large = page.get_by_role("dialog")
    expect(large.locator("svg.pins text")).to_have_text(["A", "B"])
    # The letters lie on the picture, not beside it.
    shown, over = large.locator("img").bounding_box(), large.locator("svg.pins").bounding_box()
    assert [round(shown[side]) for side in shown] == [round(over[side]) for side in over]
    large.get_by_role("link", name="Pin fasteners").click()
    expect(page.get_by_role("heading", name="Pins: Caliper bracket")).to_be_visible()


def test_bolts_are_pinned_by_keys_alone(phone: Any) -> None:
    page = pinning(phone)
    sheet = page.get_by_role("button", name="Picture. Pinned: none")
    sheet.focus()
    for key in ("ArrowLeft", "Shift+ArrowUp", "Enter"):
        page.keyboard.press(key)
    expect(page.get_by_role("button", name="Picture. Pinned: A: 1")).to_be_visible()
    [only] = pins(phone)
    assert (only["across_permille"], only["down_permille"]) == (490, 400)
    page.keyboard.press("Enter")
    expect(sheet).to_be_visible()
    assert pins(phone) == []


def test_a_picture_that_is_not_in_the_log_says_so(phone: Any) -> None:
    page, strip, part = phone
    open_screen(page, f"#/strip/{strip}/pins/{part}")
    expect(page.get_by_text("This picture is not in the log of this phone.")).to_be_visible()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_screens_can_be_read_by_everybody(phone: Any, scheme: str) -> None:
    page = pinning(phone)
    page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
    tap(page, 0.2, 0.3)
    expect(page.get_by_text("1 of 4 pinned")).to_be_visible()
    for width in (320, 1280):
        page.set_viewport_size({"width": width, "height": 740})
        for again in (pinning_again, back):
            again(phone)
            unfold(page)
            found = Axe().run(page).response["violations"]
            assert [(each["id"], [node["html"][:200] for node in each["nodes"]]) for each in found] == []
            assert sticking_out(page) == []


def pinning_again(phone: Any) -> None:
    page, strip, _ = phone
    [photo] = [entry["id"] for entry in entries(phone) if entry["kind"] == "photo"]
    open_screen(page, f"#/strip/{strip}/pins/{photo}")
    expect(page.get_by_role("heading", name="Pins: Caliper bracket")).to_be_visible()
