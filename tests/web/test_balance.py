"""Parts placed on the side view by thumb and by keyboard, without signal: the centre moves, what lacks is said."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from looked_over import RULES
from screens import sticking_out
from web.offline import LAST, phone_without_signal

# 204 kg with 106 on the rear of 1450 mm; a case of 5 kg off for good, and a lamp of 300 g that moved.
MADE = """async () => {
  const shop = await import('/shop.js');
  await shop.setPerson('Ann');
  const { strip } = await shop.act('begin_strip', { name: 'Evening work', machine_name: 'Test hack' });
  const machine = (await shop.view(strip, 'strip')).machine.id;
  await shop.act('change', { strip, thing: machine, type: 'machine', values: { wheelbase_millimetres: '1450',
    front_axle_millimetres: '300', rear_axle_millimetres: '300', standard_up_millimetres: '520',
    standard_grams: '204', standard_state: 'dry', tank_litres: '16' } });
  await shop.act('weigh_in', { strip, front: '98', rear: '106', unit: 'kg', step: '0.1', fuel_litres: '0',
    plus_minus_litres: '0', front_higher: '0' });
  for (const [name, figure, outcome, off] of [['Case', '5000', 'stays_off', true], ['Lamp', '300', 'moved', false]])
    await shop.act('take_off', { strip, name, place: 'tail', outcome, outcome_done: true, off,
      readings: [{ figure, unit: 'g', step: '1', pieces: 1 }] });
  return strip;
}"""
TWO_BLIND = """async ([strip, name]) => {
  const shop = await import('/shop.js');
  const { parts } = await shop.view(strip, 'balance');
  const { part } = parts.find((each) => each.name === name);
  const put = (along, saw) => shop.act('change', { strip, thing: part, type: 'part', saw,
    values: { along_millimetres: along } });
  const first = (await put(50, {})).entries[0].id;
  for (const along of [100, 900]) await put(along, { along_millimetres: [first] });
}"""


@pytest.fixture
def page(chromium: Any, server: Any) -> Iterator[Any]:
    """A phone on the screen of balance, its signal gone."""
    with phone_without_signal(chromium, server, MADE, locale="en-GB") as (page, strip):
        page.strip = strip
        page.goto(f"{server.url}/#/strip/{page.strip}/statement")
        page.get_by_role("link", name="Balance").tap()
        expect(page.get_by_role("heading", name="Balance", level=1)).to_be_visible()
        yield page


def choose(page: Any, name: str) -> Any:
    page.get_by_role("button", name=f"Place: {name}").tap()
    return page.get_by_role("region", name=f"Place: {name}")


def tap_at(page: Any, view: Any, along: float, up: float) -> None:
    """A thumb on the drawing, at millimetres of the machine."""
    view.scroll_into_view_if_needed()
    spot = view.evaluate(
        "(svg, [x, y]) => { const p = new DOMPoint(x, -y).matrixTransform(svg.getScreenCTM()); return [p.x, p.y]; }",
        [along, up],
    )
    page.touchscreen.tap(*spot)


def figure(page: Any, what: str, column: int) -> Any:
    """A cell of the table: 1 before, 2 now, 3 the change."""
    return page.get_by_role("row").filter(has=page.get_by_role("rowheader", name=what)).locator("td").nth(column - 1)


def place(page: Any, name: str, along: float, up: float) -> None:
    where = choose(page, name)
    tap_at(page, where.locator("svg.side-view"), along, up)
    where.get_by_role("button", name="Save the place").tap()
    expect(where).to_have_count(0)


def test_a_part_placed_by_thumb_moves_the_centre(page: Any) -> None:
    expect(page.get_by_text("Masses or places of 2 parts: they are named below.")).to_be_visible()
    expect(figure(page, "Mass", 1)).to_contain_text("204.00")
    expect(figure(page, "Mass", 2)).to_contain_text("199.00")
    expect(page.locator("svg.side-view .centre")).to_have_count(1)
    place(page, "Case", 1_500, 900)
    [along, up] = [page.evaluate(LAST, page.strip)["values"][f"{name}_millimetres"] for name in ("along", "up")]
    # A thumb on a phone is within a few millimetres of the machine's own, and on a grid of 5.
    assert abs(along - 1_500) <= 10 and abs(up - 900) <= 10 and along % 5 == up % 5 == 0
    expect(page.get_by_text("Where it sits is not known. Where it went is not known.")).to_be_visible()
    expect(page.get_by_text("The mass or the place of one part: it is named below.")).to_be_visible()
    lamp = choose(page, "Lamp")
    lamp.get_by_label("Behind the front axle, mm", exact=True).fill("-100")
    lamp.get_by_label("Above the ground, mm", exact=True).fill("80 cm")
    lamp.get_by_role("radio", name="where it went").check()
    tap_at(page, lamp.locator("svg.side-view"), 1_000, 700)
    lamp.get_by_role("radio", name="Sprung", exact=True).check()
    lamp.get_by_role("button", name="Save the place").tap()
    expect(page.get_by_text("What is not known yet")).to_have_count(0)
    written = page.evaluate(LAST, page.strip)["values"]
    assert (written["along_millimetres"], written["up_millimetres"], written["carried"]) == (-100, 800, "sprung")
    # Lever rule: 204 kg at 753.4 mm less 5 kg at 1500, and 0.3 kg from -100 to 1000.
    now = (204 * 1450 * 106 / 204 - 5 * along + 0.3 * (written["to_along_millimetres"] + 100)) / 199
    expect(figure(page, "Centre behind the front axle", 1)).to_contain_text("753")
    expect(figure(page, "Centre behind the front axle", 2)).to_contain_text(f"{now:.0f} ±")
    expect(figure(page, "Centre behind the front axle", 3)).to_contain_text("\u2212")
    expect(page.locator("svg.side-view .centre.before")).to_have_count(1)
    expect(page.locator("svg.side-view .centre.now")).to_have_count(1)
    expect(page.get_by_text("centre of mass before")).to_be_visible()
    expect(page.get_by_text("ahead of the front axle, 800 mm up")).to_be_visible()


def test_a_part_placed_by_keyboard_alone(page: Any) -> None:
    page.get_by_role("button", name="Place: Case").focus()
    page.keyboard.press("Enter")
    where = page.get_by_role("region", name="Place: Case")
    expect(where.get_by_role("heading")).to_be_focused()
    view = where.get_by_role("application")
    view.focus()
    # It starts from the usual place of what sits at the tail: 1.06 of the wheelbase back, 800 mm up.
    for key in ("ArrowRight", "ArrowUp", "Shift+ArrowUp", "ArrowLeft", "ArrowLeft"):
        page.keyboard.press(key)
    expect(where.get_by_label("Behind the front axle, mm", exact=True)).to_have_value("1527")
    expect(where.get_by_label("Above the ground, mm", exact=True)).to_have_value("910")
    expect(view).to_have_accessible_name("Side view. Case: 1,527 mm behind the front axle, 910 mm up. "
                                         "Arrow keys move it by 10 mm, with Shift by 100.")  # fmt: skip
    where.get_by_role("button", name="Save the place").focus()
    page.keyboard.press("Enter")
    expect(where).to_have_count(0)
    expect(page.get_by_text("1,527 mm behind the front axle, 910 mm up")).to_be_attached()


def test_what_cannot_be_is_refused_whole_and_stays_in_the_form(page: Any) -> None:
    where = choose(page, "Case")
    before = page.evaluate(LAST, page.strip)
    where.get_by_label("Behind the front axle, mm", exact=True).fill("-1600")
    where.get_by_label("Above the ground, mm", exact=True).fill("<b>up</b>")
    where.get_by_label("Give or take, mm", exact=True).fill("0")
    where.get_by_role("button", name="Save the place").tap()
    alert = where.get_by_role("alert")
    for words in ("Behind the front axle, mm: This must lie between", "“<b>up</b>” is no number", "more than 0"):
        expect(alert).to_contain_text(words)
    assert page.evaluate(LAST, page.strip) == before
    expect(where.get_by_label("Above the ground, mm", exact=True)).to_have_value("<b>up</b>")


def test_the_usual_place_is_offered_and_the_fuel_is_asked_for(page: Any) -> None:
    where = choose(page, "Case")
    where.get_by_role("button", name="Usual place of such a part").tap()
    expect(where.get_by_label("Behind the front axle, mm", exact=True)).to_have_value("1537")
    expect(where.get_by_role("radio", name="Sprung", exact=True)).to_be_checked()
    where.get_by_role("button", name="Leave it").tap()
    expect(page.get_by_text("Where the tank sits, for the fuel.")).to_have_count(0)
    page.get_by_role("radio", name="In running order").check()
    expect(page.get_by_text("Where the tank sits, for the fuel.")).to_be_visible()
    page.get_by_role("button", name="To the measures").tap()
    expect(page.get_by_text("Middle of the tank behind the front axle, mm", exact=True)).to_be_visible()


def test_two_blind_answers_are_settled_by_the_next_one(page: Any) -> None:
    page.evaluate(TWO_BLIND, [page.strip, "Case"])
    place(page, "Case", 1_500, 900)
    saw = page.evaluate(LAST, page.strip)["saw"]["along_millimetres"]
    assert len(saw) == 2


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_placing_is_accessible_and_fits(page: Any, theme: str) -> None:
    page.emulate_media(color_scheme=theme)
    place(page, "Case", 1_500, 900)
    choose(page, "Lamp")
    # So tall that the bar at the bottom covers nothing: axe would take a half covered button for a small one.
    page.set_viewport_size({"width": 360, "height": 4_000})
    answer = Axe().run(page, options={"runOnly": {"type": "tag", "values": RULES}}).response
    assert json.dumps([[each["id"], each["nodes"][0]["html"]] for each in answer["violations"]]) == "[]"
    for width in (320, 360, 1280):
        page.set_viewport_size({"width": width, "height": 740})
        assert sticking_out(page) == []
