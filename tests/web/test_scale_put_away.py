"""A scale that was put away is not taken again by itself, on a phone without signal."""

from typing import Any

from playwright.sync_api import expect

from one_part import act, phone_with_one_part

ADD_SCALE = """async (strip) => (await import('/shop.js')).act('add_scale',
  { strip, name: 'Kitchen scale', step: '1', capacity: '5' })"""


def test_a_scale_that_was_put_away_is_not_chosen_for_the_next_reading(chromium: Any, server: Any) -> None:
    with phone_with_one_part(chromium, server) as phone:
        page, strip, part = phone
        page.evaluate("navigator.serviceWorker.ready.then(() => true)")
        page.context.set_offline(True)
        scale = page.evaluate(ADD_SCALE, strip)["scale"]
        page.goto(f"{server.url}/#/strip/{strip}/part/{part}")
        page.get_by_role("button", name="Add a reading").tap()
        reading = page.get_by_role("group", name="Reading 1")
        reading.get_by_label("Figure", exact=True).fill("401")
        reading.get_by_label("Which scale", exact=True).select_option(label="Kitchen scale")
        page.get_by_role("button", name="Save the reading").tap()
        add = page.get_by_role("button", name="Add a reading")
        expect(add).to_be_visible()
        # The one used last is taken again, as long as it is there.
        add.tap()
        which = reading.get_by_label("Which scale", exact=True)
        expect(which).to_have_value(scale)
        page.get_by_role("button", name="Remove this reading").tap()
        act(phone, "change", thing=scale, type="scale", values={"put_away": True})
        page.reload()
        add.tap()
        # With no card left to choose from, its name is asked for.
        expect(reading.get_by_label("Which scale", exact=True)).to_have_js_property("tagName", "INPUT")
        expect(reading.get_by_label("Step of the scale, g", exact=True)).to_be_visible()
        expect(page.get_by_text("Kitchen scale").and_(page.locator("option"))).to_have_count(0)
