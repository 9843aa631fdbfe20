"""What was written of the strip-down, its machine, bags, items, spells and weighings is put right, by tapping."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from one_part import act, entries, phone_with_one_part, view
from screens import open_screen

ABOUT = "About this strip-down and machine"


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone with one part: (page, strip, part)."""
    with phone_with_one_part(chromium, module_server) as phone:
        yield phone


def screen(phone: Any, name: str, unfolded: str = "") -> Any:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/{name}")
    if unfolded:
        page.locator("summary", has_text=unfolded).first.click()
    return page


def correct(within: Any, field: str, text: str) -> None:
    within.get_by_role("button", name=f"Change: {field}", exact=True).click()
    within.get_by_label(field, exact=True).fill(text)
    within.get_by_role("button", name="Save", exact=True).click()
    expect(within.get_by_role("button", name=f"Change: {field}", exact=True)).to_be_visible()


def strike(page: Any, within: Any) -> None:
    within.get_by_role("button", name="Strike: ").click()
    page.get_by_role("dialog").get_by_label("Why was it a mistake?").fill("Slip of the thumb")
    page.get_by_role("button", name="Strike it").click()
    expect(page.get_by_role("dialog")).to_have_count(0)


def last(phone: Any) -> tuple[str, dict[str, Any]]:
    entry = entries(phone)[-1]
    return entry["type"], entry["values"]


def test_the_strip_down_is_renamed_and_given_an_aim_and_a_note(phone: Any) -> None:
    page = screen(phone, "off", ABOUT)
    correct(page, "Name of the strip-down", "Morning work")
    expect(page.locator(".trail")).to_contain_text("Morning work")
    correct(page, "Aim: what the machine is to weigh", "128,4005")
    assert last(phone) == ("strip", {"aim_grams": 128400.5})
    expect(page.locator(".sums").first).to_contain_text("128.4 kg")
    # What is shown is rounded; the figure itself comes back, so that saving it untouched changes nothing.
    page.get_by_role("button", name="Change: Aim: what the machine is to weigh").click()
    expect(page.get_by_label("Aim: what the machine is to weigh", exact=True)).to_have_value("128400.5")
    expect(page.get_by_label("Unit of: Aim: what the machine is to weigh")).to_have_value("g")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("button", name="Change: Aim: what the machine is to weigh")).to_be_visible()
    assert last(phone) == ("strip", {"aim_grams": 128400.5})
    correct(page, "Note", "Back to standard by spring")
    assert last(phone) == ("strip", {"note": "Back to standard by spring"})


def test_the_machine_is_put_right_and_a_mass_that_cannot_be_stays_open(phone: Any) -> None:
    page = screen(phone, "off", ABOUT)
    correct(page, "Name of the machine", "Test mule")
    page.get_by_role("button", name="Change: Standard mass").click()
    expect(page.get_by_label("Unit of: Standard mass")).to_have_value("kg")
    standard = page.get_by_label("Standard mass", exact=True)
    standard.fill("142000")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("alert")).to_contain_text("at most")
    expect(standard).to_have_attribute("aria-invalid", "true")
    page.get_by_label("Unit of: Standard mass").select_option("g")
    page.get_by_role("button", name="Save", exact=True).click()
    correct(page, "Where that figure is from", "papers, ready to ride")
    correct(page, "Tank, litres", "9,5")
    assert last(phone) == ("machine", {"tank_litres": 9.5})
    machine = view(phone, "strip")["machine"]
    assert (machine["name"], machine["standard"]["value"]) == ("Test mule", "142")
    expect(page.locator(".facts", has_text="Standard mass")).to_contain_text("142 kg")


def test_two_answers_on_the_machine_are_shown_and_settled(phone: Any) -> None:
    page, _, _ = phone
    machine = view(phone, "strip")["machine"]
    saw = {"name": [head["entry"] for head in machine["fields"]["name"]["heads"]]}
    for name in ("Test mule", "Test horse"):
        act(phone, "change", thing=machine["id"], type="machine", values={"name": name}, saw=saw)
    # A dispute unfolds what holds it.
    screen(phone, "off")
    dispute = page.locator(".notice", has_text="Two answers for: Name of the machine")
    dispute.get_by_role("button", name="Keep: Test mule").click()
    expect(dispute).to_have_count(0)
    assert view(phone, "strip")["machine"]["fields"]["name"]["disputed"] is False


def test_a_bag_gets_another_label_and_its_place(phone: Any) -> None:
    page = screen(phone, "off", "Where the fasteners are")
    page.locator("summary", has_text="where it is kept is not said").click()
    correct(page, "Where it is kept", "Left drawer")
    correct(page, "Label", "7a")
    assert last(phone) == ("bag", {"label": "7a"})
    expect(page.locator("summary", has_text="Bag 7a")).to_contain_text("Left drawer")
    page.get_by_role("button", name="Change: Label").click()
    page.get_by_label("Label", exact=True).fill("")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("alert")).to_contain_text("This is missing.")


def test_a_thing_to_do_is_put_right_and_opened_again(phone: Any) -> None:
    act(phone, "item", what="make", text="Braket")
    page = screen(phone, "off", "Still to do")
    page.locator("summary", has_text="Put it right").click()
    thing = page.locator(".line", has=page.locator(".facts"))
    correct(thing, "In words", "Bracket")
    thing.get_by_role("button", name="Change: What it needs").click()
    thing.get_by_label("Buy", exact=True).check()
    thing.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_text("buy: Bracket")).to_be_visible()
    assert last(phone) == ("item", {"what": "buy"})
    page.get_by_role("button", name="Done: Bracket").click()
    page.get_by_role("dialog").get_by_label("How was it done?").fill("Bought")
    page.get_by_role("dialog").get_by_role("button", name="Done").click()
    page.locator("summary", has_text="Done already").click()
    page.locator("summary", has_text="Put it right").click()
    page.get_by_role("button", name="Change: Done", exact=True).click()
    thing.get_by_label("No", exact=True).check()
    thing.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("button", name="Done: Bracket")).to_be_visible()


def test_a_spell_that_was_ended_by_mistake_runs_again_and_one_begun_by_mistake_goes(phone: Any) -> None:
    act(phone, "spell", act="begins", people=["Ann"])
    act(phone, "spell", act="ends")
    page = screen(phone, "off", ABOUT)
    strike(page, page.locator(".spread", has_text="Ended"))
    expect(page.get_by_role("button", name="End the spell")).to_be_visible()
    strike(page, page.locator(".spread", has_text="Began"))
    expect(page.get_by_role("button", name="End the spell")).to_have_count(0)
    assert view(phone, "strip")["spells"] == []


def test_a_weighing_of_the_whole_machine_is_struck_with_its_reason(phone: Any) -> None:
    act(phone, "weigh_in", front="60", rear="70", unit="kg", step="0.1")
    page = screen(phone, "weigh_in")
    weighing = page.get_by_role("article").filter(has_text="Front 60")
    strike(page, weighing)
    expect(weighing).to_have_count(0)
    assert entries(phone)[-1]["why"] == "Slip of the thumb"


def test_a_second_strip_down_of_a_known_machine(phone: Any) -> None:
    page, _, _ = phone
    machine = view(phone, "strip")["machine"]
    values = {"name": "Twice begun", "standard_grams": "142.5005"}
    act(phone, "change", thing=machine["id"], type="machine", values=values, units={"standard_grams": "kg"})
    open_screen(page, "#/begin")
    page.get_by_label("Twice begun", exact=True).check()
    expect(page.get_by_label("Machine", exact=True)).to_have_count(0)
    # What the earlier strip-down says of the machine comes along.
    expect(page.get_by_label("Standard mass", exact=True)).to_have_value("142500.5")
    page.get_by_label("Name of the strip-down", exact=True).fill("Spring work")
    page.get_by_role("button", name="Begin", exact=True).click()
    expect(page.locator(".trail")).to_contain_text("Spring work")
    strip = page.url.split("#/strip/")[1].split("/")[0]
    begun = view((page, strip, ""), "strip")["machine"]
    assert (begun["id"], begun["name"]) == (machine["id"], "Twice begun")
    assert begun["fields"]["standard_grams"]["value"] == 142500.5
    open_screen(page, "#/")
    expect(page.get_by_role("heading", name="Twice begun")).to_have_count(1)


@pytest.mark.parametrize("name", ["off", "back", "statement", "part/0190a0a0-0000-7000-8000-00000000000a"])
def test_an_unknown_strip_down_leads_on(phone: Any, name: str) -> None:
    page = screen((phone[0], "0190a0a0-0000-7000-8000-000000000001", ""), name)
    notice = page.get_by_role("alert")
    expect(notice).to_contain_text("This strip-down is not in the log of this phone.")
    notice.get_by_role("button", name="Try again").click()
    expect(notice).to_be_visible()
    notice.get_by_role("link", name="All machines").click()
    expect(page.get_by_role("heading", name="Machines and strip-downs")).to_be_visible()


def test_what_somebody_wrote_is_never_taken_for_a_choice(phone: Any) -> None:
    page, strip, part = phone
    act(phone, "change", thing=part, type="part", values={"name": "hex", "place": "seat"})
    screen(phone, f"part/{part}")
    newest = page.locator(".history li").first
    expect(newest).to_contain_text("Name: hex")
    expect(newest).not_to_contain_text("hexagon")
    expect(newest).to_contain_text("Place on the machine: seat")


def test_figures_of_a_specification_and_a_move_read_as_this_language_writes_them(
    chromium: Any, module_server: Any
) -> None:
    with phone_with_one_part(chromium, module_server) as phone:
        page, _, part = phone
        [group] = view(phone, "part", part=part)["groups"]
        values = {
            "torque_low_newton_metres": "22.5",
            "torque_high_newton_metres": "27.5",
            "torque_angle_degrees": "90.5",
        }
        act(phone, "change", thing=group["group"], type="group", values=values)
        bag = group["places"][0]["bag"]
        act(phone, "move", group=group["group"], count=2, **{"from": "bag"}, from_bag=bag, to="spares")
        texts = {
            "{low} to {high}": "{low} bis {high}",
            "Then by {degrees}°.": "Dann um {degrees}°.",
            "{count}\u00a0×\u00a0{what}": "{count} Stück {what}",
            "Moved {n} {what}: {from} → {to}": "{n} {what} von {from} nach {to}",
        }
        page.evaluate(
            "async (texts) => (await import('/words.js')).setLanguage({ locale: 'de', texts })",
            texts,
        )
        page.evaluate("([strip, part]) => { location.hash = `#/strip/${strip}/part/${part}`; }", list(phone[1:]))
        expect(page.get_by_text("22,5 bis 27,5\u00a0N·m")).to_be_visible()
        expect(page.get_by_text("Dann um 90,5°.")).to_be_visible()
        expect(page.get_by_role("heading", name="4 Stück M8×25")).to_be_visible()
        expect(page.get_by_text("2 M8×25 von in a bag nach in spares")).to_be_visible()
