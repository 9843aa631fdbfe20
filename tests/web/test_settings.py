"""Settings on a phone: written down as found, turned, seen on a day, led back, and put right."""

import datetime
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from one_part import act, entries, phone_with_one_part, view
from screens import open_screen
from web.seven_parts import photo_file

REBOUND = {
    "adjusted": "rebound_damping", "place": "fork", "side": "left", "measured_in": "clicks", "counted": "out_from_in",
    "inwards_is": "harder", "as_found": "12",
}  # fmt: skip
# By hand: counted out from fully in, 15 back to 12 is 3 in.
BACK = "Turn it 3 clicks in, that is harder: from 15 clicks to 12 clicks."


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone with one part: (page, strip, part)."""
    with phone_with_one_part(chromium, module_server) as phone:
        yield phone


def settings(phone: Any) -> Any:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/settings")
    return page


def card(page: Any, name: str) -> Any:
    found = page.get_by_role("article", name=name)
    expect(found).to_be_visible()
    return found


def unfold(within: Any, title: str) -> None:
    within.locator("summary", has_text=title).first.click()


def values(phone: Any) -> list[dict[str, Any]]:
    return [entry["values"] for entry in entries(phone) if entry.get("type") == "setting"]


def test_a_setting_is_written_down_as_found_turned_and_led_back(phone: Any) -> None:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/off")
    page.get_by_role("link", name="Settings: preload, tyres, levers, lamp").click()
    expect(page.get_by_text("No setting is written down yet.")).to_be_visible()
    page.get_by_label("Rebound damping", exact=True).check()
    page.get_by_label("Place on the machine").select_option("fork")
    page.get_by_label("Left", exact=True).check()
    page.get_by_label("Out from fully in").check()
    page.get_by_label("Harder", exact=True).check()
    page.get_by_label("As found, clicks", exact=True).fill("12")
    page.get_by_role("button", name="Save the setting").click()
    rebound = card(page, "Rebound damping · fork · left")
    expect(rebound).to_contain_text("12 clicks")
    expect(rebound.locator(".mark.done")).to_have_text("As found")
    assert values(phone) == [
        {name: REBOUND[name] for name in REBOUND if name != "as_found"} | {"as_found_clicks": 12},
    ]
    unfold(rebound, "Note a new value")
    # The caution stands where the hand is.
    expect(rebound).to_contain_text("Never force an adjuster at its stop.")
    for _ in range(3):
        rebound.get_by_role("button", name="One more: How it stands now, clicks").click()
    rebound.get_by_label("Why", exact=True).fill("Softer for the track")
    rebound.get_by_role("button", name="Save the value").click()
    expect(rebound.locator(".figure.big")).to_have_text("15\u00a0clicks")
    expect(rebound).to_contain_text("found at 12\u00a0clicks")
    expect(rebound).to_contain_text("Softer for the track")
    assert values(phone)[-1] == {"clicks": 15, "why": "Softer for the track"}
    unfold(page, "How to go back to how it was found")
    expect(page.get_by_role("listitem").filter(has_text="Rebound damping")).to_contain_text(
        BACK.replace(" clicks", "\u00a0clicks")
    )
    open_screen(page, f"#/strip/{strip}/off")
    expect(page.get_by_role("link", name="Settings: 1 changed since it came in")).to_be_visible()
    said = (page.locator("main").text_content() or "").lower()
    assert "legal" not in said and " safe" not in said


def test_the_whole_machine_on_a_day_that_was_and_not_on_one_to_come(phone: Any) -> None:
    act(phone, "add_setting", **REBOUND, value="15")
    page = settings(phone)
    unfold(page, "As it stood on a day")
    day = page.get_by_label("Which day")
    day.fill((datetime.date.today() - datetime.timedelta(days=2)).isoformat())
    expect(page.get_by_text("This log begins later than that day")).to_be_visible()
    stood = page.locator("dl.facts").filter(has_text="Rebound damping")
    expect(stood).to_contain_text("12\u00a0clicks as found")
    unfold(page, "How to go back to that day")
    expect(page.get_by_role("listitem").filter(has_text="Turn it 3")).to_be_visible()
    day.fill(datetime.date.today().isoformat())
    expect(stood).to_contain_text("15\u00a0clicks")
    expect(page.get_by_text("This log begins later than that day")).to_have_count(0)
    day.fill((datetime.date.today() + datetime.timedelta(days=2)).isoformat())
    expect(page.get_by_text("That day is yet to come.")).to_be_visible()
    expect(card(page, "Rebound damping · fork · left")).to_be_visible()


def test_what_makes_no_sense_is_refused_with_its_reason_and_a_gauge_is_read_as_it_shows(phone: Any) -> None:
    act(phone, "add_setting", adjusted="tyre_pressure", measured_in="kilopascals", as_found="36 psi", side="middle")
    before = len(entries(phone))
    page = settings(phone)
    tyre = card(page, "Tyre pressure · middle")
    # NIST SP 811, appendix B.8: 36 psi is 248.2 kPa, 2.48 bar.
    expect(tyre).to_contain_text("248\u00a0kPa")
    expect(tyre).to_contain_text("2.48\u00a0bar · 36.0\u00a0psi")
    unfold(tyre, "Note a new value")
    field = tyre.get_by_label("How it stands now", exact=True)
    for typed, reason in (
        ("-2", "A figure below 0 cannot be right here."), ("NaN", "is no number"),
        ("36 lb", "is a unit of mass"), ("36 parsnips", "is not known here"), ("36 bar", "it must lie between"),
        ("9" * 10_000, "is no number"), ("", "Say how it stands now."),
    ):  # fmt: skip
        field.fill(typed)
        tyre.get_by_role("button", name="Save the value").click()
        expect(tyre.get_by_role("alert")).to_contain_text(reason)
    assert len(entries(phone)) == before
    field.fill("2,9 bar")
    tyre.get_by_role("button", name="Save the value").click()
    expect(tyre.locator(".figure.big")).to_have_text("290\u00a0kPa")
    assert values(phone)[-1] == {"kilopascals": 290}


def test_two_who_turned_it_unseen_by_each_other_are_in_dispute_until_somebody_settles_it(phone: Any) -> None:
    page = settings(phone)
    setting = act(phone, "add_setting", **REBOUND, value="15")["setting"]
    rebound = card(page, "Rebound damping · fork · left")
    unfold(rebound, "Note a new value")
    rebound.get_by_label("How it stands now, clicks", exact=True).fill("9")
    # Meanwhile another figure comes in, which this form has not seen.
    act(phone, "adjust", thing=setting, value="18")
    expect(rebound.locator(".figure.big")).to_have_text("18\u00a0clicks")
    rebound.get_by_role("button", name="Save the value").click()
    expect(rebound).to_contain_text("Two answers: settle it in its card.")
    rebound.get_by_role("button", name="Keep: 18").click()
    expect(rebound.locator(".figure.big")).to_have_text("18\u00a0clicks")
    expect(rebound).not_to_contain_text("Two answers")
    assert len(entries(phone)[-1]["saw"]["clicks"]) == 2


def test_a_forgotten_before_is_asked_for_and_may_be_unknown(phone: Any) -> None:
    page = settings(phone)
    unknown = {"as_found": None, "as_found_unknown": True, "value": "15"}
    act(phone, "add_setting", **(REBOUND | unknown))
    expect(card(page, "Rebound damping · fork · left")).to_contain_text("How it was found, nobody knows.")
    # Somebody does know after all, and takes that back.
    (setting,) = {entry["thing"] for entry in entries(phone) if entry.get("type") == "setting"}
    act(phone, "change", thing=setting, type="setting", values={"as_found_unknown": False})
    rebound = card(page, "Rebound damping · fork · left")
    expect(rebound).to_contain_text("How it was found is not written down.")
    unfold(rebound, "Say how it was found")
    rebound.get_by_label("As found, clicks", exact=True).fill("many")
    rebound.get_by_role("button", name="Save how it was found").click()
    expect(rebound.get_by_role("alert")).to_contain_text("This must be a whole number.")
    rebound.get_by_label("As found, clicks", exact=True).fill("12")
    rebound.get_by_role("button", name="Save how it was found").click()
    expect(rebound).to_contain_text("found at 12\u00a0clicks")
    assert values(phone)[-1] == {"as_found_clicks": 12}


def test_nobody_knows_is_one_tap(phone: Any) -> None:
    page = settings(phone)
    setting = act(phone, "add_setting", **REBOUND, value="15")["setting"]
    act(phone, "change", thing=setting, type="setting", values={"as_found_clicks": None})
    card(page, "Rebound damping").get_by_role("button", name="Nobody knows how it was found").click()
    expect(card(page, "Rebound damping")).to_contain_text("How it was found, nobody knows.")
    assert values(phone)[-1] == {"as_found_unknown": True}


def test_a_value_noted_by_mistake_is_struck_and_a_wrong_field_put_right(phone: Any) -> None:
    act(phone, "add_setting", **REBOUND, value="15")
    act(phone, "add_setting", **(REBOUND | {"side": "right"}))
    page = settings(phone)
    left, right = (card(page, f"Rebound damping · fork · {side}") for side in ("left", "right"))
    expect(right).to_contain_text("Left 15\u00a0clicks, right 12\u00a0clicks: the two sides differ.")
    unfold(left, "Its card and history")
    left.get_by_role("button", name="Strike: From 12").click()
    page.get_by_role("dialog").get_by_label("Why was it a mistake?").fill("That was the other leg")
    page.get_by_role("button", name="Strike it").click()
    expect(left.locator(".figure.big")).to_have_text("12\u00a0clicks")
    expect(left).to_contain_text("Struck by Ann: That was the other leg")
    expect(right).not_to_contain_text("the two sides differ")
    left.get_by_role("button", name="Change: Measured in").click()
    left.get_by_label("turns", exact=True).check()
    left.get_by_role("button", name="Save", exact=True).click()
    expect(left).to_contain_text("How it was found is not written down.")
    assert view(phone, "settings")["settings"][0]["unit"] == "turns"


def test_what_was_adjusted_in_this_spell_is_handed_over(phone: Any) -> None:
    setting = act(phone, "add_setting", **REBOUND)["setting"]
    act(phone, "spell", act="begins", people=["Ann"])
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/handover")
    expect(page.get_by_role("heading", name="Adjusted")).to_have_count(0)
    act(phone, "adjust", thing=setting, value="15")
    expect(page.get_by_role("heading", name="Adjusted")).to_be_visible()
    line = page.get_by_role("listitem").filter(has_text="Rebound damping")
    expect(line).to_contain_text("from 12\u00a0clicks to 15\u00a0clicks")


def test_a_setting_is_of_a_part_has_pictures_and_stands_on_the_part_s_page(phone: Any, tmp_path: Path) -> None:
    page, strip, part = phone
    act(phone, "take_off", name="Link arm", off=False)
    settings(phone)
    page.get_by_label("Preload", exact=True).check()
    page.get_by_label("Which part", exact=True).select_option(label="Caliper bracket")
    page.get_by_label("As found, turns", exact=True).fill("3")
    page.get_by_role("button", name="Save the setting").click()
    preload = card(page, "Preload")
    expect(preload.get_by_role("link", name="Caliper bracket")).to_be_visible()
    unfold(preload, "Photos")
    preload.get_by_label("Take a photo").set_input_files(photo_file(tmp_path))
    expect(preload.get_by_role("img", name="Photo")).to_be_visible()
    expect(preload.locator("summary", has_text="Photos")).to_contain_text("one picture")
    preload.get_by_role("link", name="Caliper bracket").click()
    expect(page.locator("dl", has_text="Preload")).to_contain_text("3\u00a0turns")
    page.get_by_role("link", name="To the settings").click()
    unfold(preload, "Its card and history")
    preload.get_by_role("button", name="Change: Which part").click()
    preload.get_by_label("Link arm", exact=True).check()
    preload.get_by_role("button", name="Save", exact=True).click()
    expect(preload.get_by_role("link", name="Link arm")).to_be_visible()
    assert [entry["thing"] for entry in entries(phone) if entry["kind"] == "photo"] == [
        entry["thing"] for entry in entries(phone) if entry.get("type") == "setting" and "adjusted" in entry["values"]
    ]
    open_screen(page, f"#/strip/{strip}/part/{part}")
    expect(page.get_by_role("link", name="To the settings")).to_have_count(0)
