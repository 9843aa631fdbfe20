"""The whole machine weighed on a phone without signal: two scales, fuel and a rider; predicted against weighed."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from looked_over import RULES
from screens import sticking_out
from web.offline import LAST, phone_without_signal
from web.weighing import write

# Weighed once at 200 kg, with 5 l; then a rack of 2346 g stays off. A top case of 4100 g is on, by the log.
MADE = """async () => {
  const shop = await import('/shop.js');
  await shop.setPerson('Ann');
  const { strip } = await shop.act('begin_strip', {
    name: 'Evening work', machine_name: 'Test hack', tank_litres: '16' });
  for (const name of ['Front platform', 'Rear platform'])
    await shop.act('add_scale', { strip, name, step: '100', capacity: '300', gain_percent: '0.1' });
  await shop.act('weigh_in', { strip, front: '98', rear: '102', unit: 'kg', step: '0.1', fuel_litres: '5',
    plus_minus_litres: '0.1' });
  for (const [name, figure, off] of [['Rear rack', '2346', true], ['Top case', '4100', false]])
    await shop.act('take_off', { strip, name, outcome: off ? 'stays_off' : null, outcome_done: off || null, off,
      readings: [{ figure, unit: 'g', step: '1', pieces: 1 }] });
  return strip;
}"""


@pytest.fixture
def page(chromium: Any, server: Any) -> Iterator[Any]:
    """A phone on the screen for weighing the whole machine, its signal gone."""
    with phone_without_signal(chromium, server, MADE, locale="en-GB") as (page, strip):
        page.strip = strip
        page.goto(f"{server.url}/#/strip/{page.strip}/statement")
        page.get_by_role("link", name="The whole machine weighed").tap()
        expect(page.get_by_role("heading", name="The whole machine weighed", level=1)).to_be_visible()
        yield page


def newest(page: Any) -> Any:
    return page.get_by_role("article").first


def test_two_scales_fuel_and_a_rider_against_what_the_log_predicts(page: Any) -> None:
    page.locator("summary", has_text="Which scale").tap()
    page.get_by_role("group", name="Scale under the front wheel").get_by_role("radio", name="Front platform").check()
    page.get_by_role("group", name="Scale under the rear wheel").get_by_role("radio", name="Rear platform").check()
    page.locator("summary", has_text="Rider, level, note").tap()
    write(page, front="118,0", rear="159.7", fuel="5", spread="0.1", rider="80", higher="0")
    page.get_by_role("button", name="Save the weighing").tap()
    weighing = newest(page)
    # 118 + 159.7 - 80 = 197.7 kg; predicted 200 - 2.346 = 197.654; a rider is good to 500 g: U = 0.63 kg; En 0.1.
    expect(weighing).to_contain_text("197.70 ±\u00a00.63\u00a0kg")
    expect(weighing).to_contain_text("Rider 80.00 ±\u00a00.58\u00a0kg, taken off the total.")
    expect(weighing).to_contain_text("Weighed on: Front platform and Rear platform.")
    expect(weighing).to_contain_text("On level ground, with the rider")
    expect(weighing.locator(".mark.done").first).to_have_text("En = 0.1")
    expect(weighing).to_contain_text("They agree: the difference lies within its uncertainty.")
    expect(weighing).to_contain_text("It stood level, within 3 mm.")
    written = page.evaluate(LAST, page.strip)
    assert (written["rider_grams"], written["front_higher_millimetres"], written["step_grams"]) == (80_000, 0, 100)
    assert written["front_scale"] != written["rear_scale"]
    expect(page.get_by_label("Under the front wheel", exact=True)).to_have_value("")


def test_a_thing_that_was_forgotten_is_named_and_leads_to_its_page(page: Any) -> None:
    write(page, front="96", rear="97.6", fuel="5", spread="0,1")
    page.get_by_role("button", name="Save the weighing").tap()
    weighing = newest(page)
    expect(weighing).to_contain_text("They do not agree: it weighs less than the log says.")
    expect(weighing).to_contain_text("One thing forgotten explains it, and no other one does.")
    expect(weighing).to_contain_text("The difference is that of 5.4 l of petrol.")
    first = weighing.locator("ul.lines > li").first
    expect(first).to_contain_text("Off or gone, though the log has it on")
    expect(first.locator(".mark.done")).to_have_text("would explain it")
    first.get_by_role("link", name="Top case").tap()
    expect(page.get_by_role("heading", name="Top case", level=1)).to_be_visible()


def test_the_states_of_fuel_and_what_is_missing_for_the_standard(page: Any) -> None:
    weighing = newest(page)
    # 200 kg with 5 l; dry 200 - 3.74, and 90 % of 16 l are 10.76 kg (Regulation (EU) 168/2013, Art. 5(1); EN 228).
    expect(weighing).to_contain_text("207.0")
    expect(weighing).to_contain_text("196.26")
    weighing.locator("summary", has_text="Against the standard machine").tap()
    expect(weighing).to_contain_text("The standard mass of the machine.")
    expect(weighing.get_by_role("link", name="Measures of the machine").first).to_be_visible()


def test_an_earlier_weighing_is_compared_when_asked(page: Any) -> None:
    write(page, front="96", rear="97.6", fuel="5", spread="0.1")
    page.get_by_role("button", name="Save the weighing").tap()
    page.locator("summary", has_text="Earlier weighings").tap()
    expect(page.get_by_role("article")).to_have_count(2)
    earlier = page.get_by_role("article").nth(1)
    earlier.locator("summary", has_text="Against what the log predicts").tap()
    expect(earlier.locator("summary", has_text="Against the standard machine")).to_be_visible()
    # Struck, with its reason, it counts no more, and the newer one has nothing to be held against.
    earlier.get_by_role("button", name="Strike: 200.00").tap()
    page.get_by_role("dialog").get_by_label("Why was it a mistake?").fill("Stand was on the scale")
    page.get_by_role("button", name="Strike it").tap()
    expect(page.get_by_role("article")).to_have_count(1)
    expect(newest(page)).not_to_contain_text("Against the weighing of")


def test_a_lift_test_says_what_it_lacks(page: Any) -> None:
    page.locator("summary", has_text="Lift test").tap()
    expect(page.get_by_text("Chock the front wheel")).to_be_visible()
    write(page, front="105", raised="500", fuel="5", spread="0.1")
    page.get_by_role("button", name="Save the weighing").tap()
    expect(newest(page)).to_contain_text("Rear axle raised by 500\u00a0mm.")
    expect(newest(page)).to_contain_text("The lift test needs the wheelbase.")


def test_what_cannot_be_is_refused_whole_with_its_reason(page: Any) -> None:
    before = page.evaluate(LAST, page.strip)
    save = page.get_by_role("button", name="Save the weighing")
    save.tap()
    alert = page.get_by_role("alert")
    expect(alert).to_contain_text("Give what the scale under the front wheel shows.")
    write(page, front="<script>alert(1)</script>", rear="-5", fuel="17", spread="a lot")
    save.tap()
    for words in ("is no number", "A figure below 0", "more than the tank of this machine holds: 16"):
        expect(alert).to_contain_text(words)
    write(page, front="98", rear="102", fuel="", spread="")
    page.locator("summary", has_text="Rider, level, note").tap()
    write(page, rider="200")
    save.tap()
    expect(alert).to_contain_text("That is as much as the scales showed for both together.")
    assert page.evaluate(LAST, page.strip) == before
    expect(page.get_by_role("article")).to_have_count(1)


def test_what_was_said_of_a_field_goes_when_the_field_is_put_right(page: Any) -> None:
    write(page, front="NaN", rear="x", fuel="5")
    page.get_by_role("button", name="Save the weighing").tap()
    front, rear = (page.get_by_label(label, exact=True) for label in ("Under the front wheel", "Under the rear wheel"))
    for field in (front, rear):
        expect(field).to_have_attribute("aria-invalid", "true")
    write(page, front="98")
    expect(front).not_to_have_attribute("aria-invalid", "true")
    expect(rear).to_have_attribute("aria-invalid", "true")


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_the_answer_is_accessible_and_fits(page: Any, theme: str) -> None:
    page.emulate_media(color_scheme=theme)
    write(page, front="96", rear="97.6", fuel="5", spread="0.1")
    page.get_by_role("button", name="Save the weighing").tap()
    expect(newest(page)).to_contain_text("They do not agree")
    # So tall that the bar at the bottom covers nothing: axe would take a half covered button for a small one.
    page.set_viewport_size({"width": 360, "height": 4_000})
    answer = Axe().run(page, options={"runOnly": {"type": "tag", "values": RULES}}).response
    assert json.dumps([[each["id"], each["nodes"][0]["html"]] for each in answer["violations"]]) == "[]"
    for width in (320, 360, 1280):
        page.set_viewport_size({"width": width, "height": 740})
        assert sticking_out(page) == []


def question(page: Any, words: str) -> Any:
    return page.get_by_role("group", name="Question").filter(has_text=words)


def test_a_machine_of_a_few_kilograms_is_asked_about_and_can_be_saved_all_the_same(page: Any) -> None:
    write(page, front="3", rear="98.5 lb")
    asked = question(page, "3 kg under the front wheel? Motorcycles have 30 kg to 220 kg there.")
    expect(asked).to_contain_text("Ordinary weights: common practice, no source.")
    expect(question(page, "under the rear wheel")).to_have_count(0)
    write(page, rear="3100 g")
    question(page, "under the rear wheel").get_by_role("button", name="Yes, it is so").tap()
    expect(question(page, "under the rear wheel")).to_have_count(0)
    expect(page.get_by_role("group", name="What the scales show")).to_be_focused()
    # Said of that figure, and of no other.
    write(page, front="98,5 g")
    expect(question(page, "under the rear wheel")).to_be_visible()
    question(page, "under the front wheel").get_by_role("button", name="Make it 98.5 kg").tap()
    expect(page.get_by_label("Under the front wheel", exact=True)).to_have_value("98,5 kg")
    expect(question(page, "under the front wheel")).to_have_count(0)
    page.get_by_role("button", name="Save the weighing").tap()
    expect(newest(page)).to_contain_text("101.6")


def test_another_unit_leaves_the_step_of_the_scale_as_it_was_typed(page: Any) -> None:
    page.locator("summary", has_text="Which scale").tap()
    page.get_by_label("Step of the scale, kg", exact=True).fill("0,1")
    page.get_by_label("Unit of: Under the front wheel").select_option("lb")
    step = page.get_by_label("Step of the scale, lb", exact=True)
    expect(step).to_have_value("0,1 kg")
    hint = "Left out: the last digit typed, or the step on the card."
    expect(step).to_have_accessible_description(f"{hint} That is 100 g.")
