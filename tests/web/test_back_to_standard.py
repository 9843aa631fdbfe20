"""Back to standard, by tapping: what the screen lists, and the plan that becomes a strip-down of its own."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from one_part import act, entries, phone_with_one_part
from screens import open_screen


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A phone with a bracket of four bolts that is off: (page, strip, part)."""
    with phone_with_one_part(chromium, module_server) as phone:
        yield phone


def take_off(phone: Any, **form: Any) -> str:
    page, strip, _ = phone
    form = {"strip": strip, **form}
    return page.evaluate("async (form) => (await (await import('/shop.js')).act('take_off', form)).part", form)


def section(page: Any, name: str) -> Any:
    return page.locator("section").filter(has=page.get_by_role("heading", name=name, exact=True))


def test_each_standard_part_is_found_and_what_is_missing_is_on_the_list(phone: Any) -> None:
    page, strip, part = phone
    [group] = {entry["group"] for entry in entries(phone) if entry["kind"] == "move"}
    [bag] = {entry["to_bag"] for entry in entries(phone) if entry["kind"] == "move"}
    act(phone, "move", group=group, count=1, **{"from": "bag", "from_bag": bag, "to": "lost"})
    mirror = take_off(phone, name="Mirror", side="left", outcome="stays_off")
    act(phone, "change", thing=mirror, type="part", values={"gone": "sold"})
    take_off(phone, name="Silencer", outcome="swapped", outcome_done=True, replacement="Short silencer")
    take_off(phone, name="Extra lamp", outcome="added", outcome_done=True)
    open_screen(page, f"#/strip/{strip}/back")
    page.get_by_role("link", name="Back to standard").click()
    expect(page.get_by_text("0 of 3 standard parts are on as they were.")).to_be_visible()
    expect(section(page, "Comes off first").get_by_role("listitem")).to_have_text(
        ["Extra lamp", "Short silencerin place of Silencer"])
    goes_on = section(page, "Goes on again")
    expect(goes_on).to_contain_text("Short silencer is on in its place. Take that off, then put this back on.")
    expect(goes_on).to_contain_text("In bag 7")
    expect(goes_on).to_contain_text("1 to buy")
    expect(section(page, "Cannot come back")).to_contain_text("It cannot come back: sold.")
    expect(section(page, "To buy")).to_contain_text("M8×25")


def test_the_plan_becomes_a_strip_down_of_its_own_and_this_one_stays_as_it_is(phone: Any) -> None:
    page, strip, _ = phone
    take_off(phone, name="Silencer", outcome="swapped", outcome_done=True, replacement="Short silencer")
    before = len(entries(phone))
    open_screen(page, f"#/strip/{strip}/standard")
    page.get_by_role("button", name="Plan it as a strip-down").click()
    name = page.get_by_label("Name of the new strip-down")
    expect(name).to_have_value("Evening work, back to standard")
    page.get_by_role("button", name="Leave it").click()
    assert len(entries(phone)) == before
    page.get_by_role("button", name="Plan it as a strip-down").click()
    name.fill("Winter, back")
    page.get_by_role("button", name="Plan it", exact=True).click()
    expect(page.get_by_role("heading", name="Put back")).to_be_visible()
    expect(page.get_by_text("Winter, back")).to_be_visible()
    expect(page.locator("details.part > summary .name")).to_have_text(["Silencer", "Caliper bracket"])
    bracket = page.locator("details.part").filter(has=page.locator("summary .name", has_text="Caliper bracket"))
    bracket.locator("> summary").click()
    expect(bracket.get_by_role("button", name="Put 4 back")).to_be_visible()
    expect(bracket).to_contain_text("25 N·m")
    assert len(entries(phone)) == before
    # The new one stands among the machines, and is sent like every other.
    page.goto(page.url.split("#")[0] + "#/")
    expect(page.get_by_role("link", name="Winter, back")).to_be_visible()


def test_a_standard_machine_has_nothing_to_plan(phone: Any) -> None:
    page, strip, part = phone
    act(phone, "part_on", part=part)
    open_screen(page, f"#/strip/{strip}/standard")
    expect(page.get_by_text("As far as is written down, this machine is standard.")).to_be_visible()
    expect(page.get_by_role("button", name="Plan it as a strip-down")).to_have_count(0)
