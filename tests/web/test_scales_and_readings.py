"""Scales and readings by hand, on a phone without signal: a tare, litres, estimates, and the questions about slips."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from looked_over import RULES
from screens import sticking_out
from web.hands import PATIENCE_MS, PHONE, Hands
from web.offline import empty_form, hands_without_signal


@pytest.fixture(scope="module")
def offline(chromium: Any, module_server: Any) -> Iterator[Hands]:
    """A phone without signal on which a strip-down was begun and a scale got its card."""
    with hands_without_signal(chromium, module_server) as hands:
        add_scale(hands, "Bench scale", step="5", capacity="15", gain="1")
        yield hands


def add_scale(hands: Hands, name: str, step: str, capacity: str, gain: str) -> None:
    hands.to("Masses")
    hands.page.get_by_role("link", name="Scales and wrenches").tap()
    form = hands.page.locator("details").filter(has_text="Add a scale").last
    if form.get_attribute("open") is None:
        form.locator("summary").first.tap()
    hands.write("Name of the scale", name, form)
    hands.write("Step of the scale", step, form)
    hands.write("Most it can weigh", capacity, form)
    hands.write("Gain error, %", gain, form)
    hands.tap("Save the scale", form)
    expect(hands.page.get_by_role("article", name=name)).to_be_visible()


@pytest.fixture
def form(offline: Hands) -> Hands:
    """That phone on an empty form for taking off."""
    return empty_form(offline)


def figure(hands: Hands, reading: Any, typed: str, unit: str, scale: str = "Another one") -> None:
    hands.write("Figure", typed, reading)
    reading.get_by_label("Unit of: Figure").select_option(unit)
    # The form is there before the core has said which scales there are.
    which = reading.get_by_label("Which scale", exact=True)
    expect(which).to_have_js_property("tagName", "SELECT", timeout=PATIENCE_MS)
    which.select_option(label=scale)


def asked(reading: Any) -> Any:
    """The questions under the figure."""
    return reading.get_by_role("group", name="Question")


def last_look(hands: Hands) -> dict[str, Any]:
    return next(entry for entry in reversed(hands.entries()) if entry["kind"] == "weigh")


def line_of(hands: Hands, name: str) -> Any:
    """A part's line on the screen of masses, and the row folded under it."""
    hands.to("Masses")
    line = hands.page.get_by_role("row").filter(has=hands.page.get_by_role("link", name=name, exact=True))
    return line, hands.page.locator("tr.beneath").filter(has_text=f"{name}:")


def test_a_part_in_a_box_on_a_scale_with_a_card(form: Hands) -> None:
    """By hand: 410 - 120 = 290; two half steps of 2.5 and 1 % of 290: U = 2/sqrt 3 x sqrt(12.5 + 8.41) = 5.28."""
    form.name("Tool roll")
    reading = form.reading()
    figure(form, reading, "410", "g", "Bench scale")
    expect(reading.get_by_text("step 5 g · up to 15 kg")).to_be_visible()
    expect(reading.get_by_label(re.compile("Step of the scale"))).to_have_count(0)
    reading.get_by_label("It lay in a container").check()
    form.write("Empty container, g", "120", reading)
    expect(reading.get_by_text("Counts as 290.0 ± 5.3 g.")).to_be_visible()
    form.outcome("Stays off", done=True)
    form.saved("Tool roll")
    look = last_look(form)
    assert (look["grams"], look["tare_grams"], look["step_grams"], look["scale"]) == (410, 120, 5, "Bench scale")

    line, beneath = line_of(form, "Tool roll")
    expect(line).to_contain_text("−290.0 ± 5.3 g")
    expect(line).to_contain_text("counted")
    form.unfold("Tool roll:", beneath)
    expect(beneath).to_contain_text("Stays off: what came off counts.")
    expect(beneath).to_contain_text("Rests on290.0 ± 5.3 g as taken off · weighed · Bench scale")
    causes = beneath.locator(".causes li")
    expect(causes).to_have_count(3)
    expect(beneath).to_contain_text("Gain, shared by all it weighed: Bench scale")
    expect(beneath).to_contain_text("Step, for the empty container: Bench scale")
    # 8.41 of 20.91, and twice 6.25 of it.
    expect(causes.locator(".quiet")).to_have_text(["40 %", "30 %", "30 %"])

    # The next part begins with the scale that was used last.
    form.open(f"#/strip/{form.strip}/take_off")
    row = form.reading()
    expect(row.get_by_label("Which scale", exact=True)).to_have_value(look["on_scale"])


def test_the_sums_tell_what_they_are_uncertain_by(form: Hands) -> None:
    form.name("Grab rail")
    figure(form, form.reading(), "1250", "g", "Bench scale")
    form.outcome("Stays off", done=True)
    form.saved("Grab rail")
    form.to("Masses")
    form.unfold("What the ± of these sums is made of")
    sums = form.page.locator("details").filter(has_text="What the ± of these sums")
    expect(sums.get_by_role("heading", name="Since it came in")).to_be_visible()
    expect(sums.locator(".causes").first).to_contain_text("Gain, shared by all it weighed: Bench scale")


def test_kilograms_for_grams_are_asked_about_and_put_right_by_a_tap(form: Hands) -> None:
    form.name("Horn")
    reading = form.reading()
    figure(form, reading, "240", "kg")
    expect(asked(reading)).to_contain_text("240 kg? Parts like this weigh 80 g to 800 g each.")
    expect(asked(reading)).to_contain_text("common practice, no source")
    form.tap("Make it 240 g", asked(reading))
    expect(asked(reading)).to_have_count(0)
    expect(reading.get_by_label("Unit of: Figure")).to_have_value("g")
    expect(reading).to_be_focused()
    form.saved("Horn")
    assert last_look(form)["grams"] == 240


def test_what_is_so_is_so_and_is_asked_again_of_another_figure_only(form: Hands) -> None:
    form.name("Horn")
    reading = form.reading()
    figure(form, reading, "9", "kg")
    form.tap("Yes, it is so", asked(reading))
    expect(asked(reading)).to_have_count(0)
    form.write("Figure", "9.5", reading)
    expect(asked(reading)).to_have_count(1)
    form.tap("Yes, it is so", asked(reading))
    form.saved("Horn")
    assert last_look(form)["grams"] == 9500


def test_a_question_never_stands_in_the_way_of_saving(form: Hands) -> None:
    form.name("Horn")
    reading = form.reading()
    figure(form, reading, "77", "kg")
    expect(asked(reading)).to_have_count(1)
    form.saved("Horn")
    assert last_look(form)["grams"] == 77_000


def test_a_mark_that_parts_thousands(form: Hands) -> None:
    form.name("Seat")
    reading = form.reading()
    figure(form, reading, "4,360", "g")
    expect(asked(reading)).to_contain_text("“4,360” is read as 4.360 g.")
    form.tap("Make it 4,360 g", asked(reading))
    expect(reading.get_by_label("Figure", exact=True)).to_have_value("4360")


def test_more_than_the_scale_can_weigh_and_less_than_it_can_show(form: Hands) -> None:
    form.name("Gubbins")
    reading = form.reading()
    figure(form, reading, "18", "kg", "Bench scale")
    expect(asked(reading)).to_contain_text("18 kg is more than Bench scale can weigh: it ends at 15 kg.")
    figure(form, reading, "3", "g", "Bench scale")
    expect(asked(reading)).to_contain_text("3 g is less than one step of the scale, 5 g.")


def test_a_pair_more_than_20_percent_apart(form: Hands) -> None:
    form.name("Gubbins")
    form.tap("One more: Pieces")
    first = form.reading()
    figure(form, first, "300", "g")
    form.write("Pieces on the scale", "1", first)
    second = form.reading(2)
    figure(form, second, "370", "g")
    form.write("Pieces on the scale", "1", second)
    expect(second.get_by_text("Step of the scale, g")).to_be_visible()
    expect(asked(second)).to_have_count(0)
    form.write("Figure", "400", second)
    expect(asked(second)).to_contain_text("400 g a piece, and 300 g for the other: more than 20 % apart.")


def test_a_second_look_that_disagrees_by_more_than_both_allow(form: Hands) -> None:
    form.name("Steering stop")
    figure(form, form.reading(), "300", "g")
    form.saved("Steering stop")
    form.to_part("Steering stop")
    form.tap("Weigh again")
    reading = form.page.get_by_role("group", name="Reading 1")
    form.write("Figure", "310", reading)
    expect(asked(reading)).to_contain_text("310 g now, 300 g before: further apart than both allow.")
    form.write("Figure", "301", reading)
    expect(asked(reading)).to_have_count(0)
    form.tap("Save the reading")
    expect(form.page.get_by_role("button", name="Add a reading")).to_be_visible()
    # Two looks, 300 and 301: their mean, and few readings to rest on.
    _line, beneath = line_of(form, "Steering stop")
    form.unfold("Steering stop:", beneath)
    expect(beneath.get_by_text("as taken off · weighed")).to_have_count(2)
    expect(beneath).to_contain_text("Looks that differ")
    expect(beneath).to_contain_text(
        re.compile(r"rest on few readings \(\d+ effective degrees of freedom\), so the whole is for k = \d")
    )


def test_petrol_by_its_litres(form: Hands) -> None:
    """EN 228: 720 to 775 g a litre. By hand: 12 l within 0.5 l are 8970 g, U = 576 g."""
    form.name("Petrol")
    reading = form.reading()
    form.choose("Where the figure is from", "Litres drained", reading)
    form.choose("Which fluid", "Petrol", reading)
    form.write("Litres", "12", reading)
    form.write("Give or take, litres", "0,5", reading)
    expect(reading.get_by_text("Counts as 8.97 ± 0.58 kg.")).to_contain_text("A litre weighs 720 to 775 g (EN 228:2012")
    form.saved("Petrol")
    line, beneath = line_of(form, "Petrol")
    expect(line).to_contain_text("8.97 ± 0.58 kg")
    form.unfold("Petrol:", beneath)
    expect(beneath.locator(".causes")).to_contain_text("Density, shared by all of it: petrol")
    expect(beneath.locator(".causes")).to_contain_text("Litres as read")


def test_an_estimate_by_how_well_it_is_known(form: Hands) -> None:
    """ECSS: 20 % for a guess; 500 g within 100 g, U = 2 x 100 / sqrt 3 = 115 g."""
    form.name("Wiring")
    reading = form.reading()
    form.choose("Where the figure is from", "Estimated", reading)
    form.write("Figure", "500", reading)
    reading.get_by_label("Unit of: Figure").select_option("g")
    form.choose("How well known", "A guess", reading)
    form.saved("Wiring")
    line, _beneath = line_of(form, "Wiring")
    expect(line).to_contain_text("500 ± 120 g")


def test_everybody_can_read_and_answer_a_question(form: Hands) -> None:
    """WCAG 2.2 AA by axe, with a question open and a container; nothing sticks out of a small phone."""
    form.name("Horn")
    reading = form.reading()
    figure(form, reading, "240", "kg", "Bench scale")
    reading.get_by_label("It lay in a container").check()
    expect(asked(reading)).to_have_count(1)
    form.page.set_viewport_size({"width": 320, "height": 4000})
    answer = Axe().run(form.page, options={"runOnly": {"type": "tag", "values": RULES}}).response
    assert [(each["id"], [node["html"][:120] for node in each["nodes"]]) for each in answer["violations"]] == []
    assert sticking_out(form.page) == []
    form.page.set_viewport_size(PHONE["viewport"])
    # By the keys alone.
    form.page.get_by_role("button", name="Make it 240 g").focus()
    form.page.keyboard.press("Enter")
    expect(asked(reading)).to_have_count(0)
    expect(reading).to_be_focused()


BELOW_0, NO_NUMBER = "A figure below 0 cannot be right here.", "is no number"


@pytest.mark.parametrize(
    ("label", "typed", "text"),
    [
        ("Figure", "1e999", NO_NUMBER),
        ("Figure", "NaN", NO_NUMBER),
        ("Figure", "-3", BELOW_0),
        ("Empty container, g", "410", "The empty container weighs as much as the full one."),
        ("Empty container, g", "Infinity", NO_NUMBER),
        ("Empty container, g", "-1", BELOW_0),
    ],
)
def test_a_weight_that_cannot_be(form: Hands, label: str, typed: str, text: str) -> None:
    form.name("Gubbins")
    reading = form.reading()
    figure(form, reading, "410", "g", "Bench scale")
    reading.get_by_label("It lay in a container").check()
    form.write("Empty container, g", "120", reading)
    form.write(label, typed, reading)
    refused_whole(form, text)
    expect(reading.get_by_label(label, exact=True)).to_have_value(typed)


@pytest.mark.parametrize(
    ("typed", "text"),
    [("", "Say how many litres."), ("-2", BELOW_0), ("101", "This must lie between 0 and 100."), ("lots", NO_NUMBER)],
)
def test_litres_that_cannot_be(form: Hands, typed: str, text: str) -> None:
    form.name("Petrol")
    reading = form.reading()
    form.choose("Where the figure is from", "Litres drained", reading)
    form.choose("Which fluid", "Petrol", reading)
    form.write("Litres", typed, reading)
    form.write("Give or take, litres", "1", reading)
    refused_whole(form, text)


def refused_whole(hands: Hands, text: str) -> None:
    """Save is refused with one reason, and nothing at all is logged."""
    before = hands.entries()
    hands.save()
    expect(hands.refused().get_by_role("listitem")).to_have_count(1)
    expect(hands.refused()).to_contain_text(text)
    assert hands.entries() == before


def test_a_scale_that_cannot_be_is_refused_whole(offline: Hands) -> None:
    offline.to("Masses")
    offline.page.get_by_role("link", name="Scales and wrenches").tap()
    add = offline.page.locator("details").filter(has_text="Add a scale").last
    add.locator("summary").first.tap()
    before = offline.entries()
    offline.tap("Save the scale", add)
    expect(offline.refused()).to_contain_text("Give the scale a name.")
    expect(offline.refused()).to_contain_text("Give the step of the scale.")
    offline.write("Name of the scale", "Balance", add)
    offline.write("Step of the scale", "20", add)
    offline.write("Most it can weigh", "0,01", add)
    offline.write("Gain error, %", "99", add)
    offline.tap("Save the scale", add)
    expect(offline.refused()).to_contain_text("The step is as large as the most it can weigh.")
    expect(offline.refused()).to_contain_text("Gain error, %")
    assert offline.entries() == before


def test_a_litre_of_water_is_no_calibration(offline: Hands) -> None:
    offline.to("Masses")
    offline.page.get_by_role("link", name="Scales and wrenches").tap()
    card = offline.page.get_by_role("article", name="Bench scale")
    offline.unfold("Check it against a known mass", card)
    offline.choose("Against what", "Water", card)
    expect(card.get_by_text("A litre of water is no calibration")).to_be_visible()
    offline.write("What it weighs", "1000", card)
    offline.write("What this scale shows", "1035", card)
    offline.tap("Save the check", card)
    expect(card.get_by_text("agrees, as far as it can tell")).to_be_visible()
    offline.choose("Against what", "Coin", card)
    expect(card.get_by_text("A coin is no calibration")).to_be_visible()


def test_a_torque_in_a_wrong_unit_is_asked_about_and_put_right(form: Hands) -> None:
    """T = 0.2 d As 970 (ISO 898-1 proof stress of 12.9) is 23.4 N.m for M6; 88 lbf.in are 9.9 N.m."""
    form.name("Clutch cover")
    row = form.fasteners(1, "M6", "20", "7")
    form.specification(row, "88", "6-4")
    expect(asked(row)).to_contain_text("is more than M6 stands")
    form.tap("Make it 88 lbf·in", asked(row))
    expect(asked(row)).to_have_count(0)
    expect(row.get_by_label("Unit of: Torque from the manual")).to_have_value("lbf.in")
    form.write("Torque from the manual", "88 N.m", row)
    form.tap("Yes, it is so", asked(row))
    expect(asked(row)).to_have_count(0)
    # What was said of one figure was not said of the next.
    form.write("Torque from the manual", "89 N.m", row)
    expect(asked(row)).to_be_visible()
    form.tap("Make it 89 lbf·in", asked(row))
    form.tap("Save")
    expect(form.page.get_by_role("button", name="Next part")).to_be_visible()
    group = next(each for each in reversed(form.entries()) if each.get("type") == "group")
    assert group["values"]["torque_low_newton_metres"] == pytest.approx(89 * 0.1129848290276167)
