"""The whole machine on scales, on a phone without signal: lifted, not level, both ends on one scale; what turns."""

import math
import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from screens import sticking_out
from web.offline import phone_without_signal
from web.weighing import write

# 1450 mm from axle to axle, both 300 mm up, its centre published at 520 mm; one platform with a gain within 0.5 %.
MADE = """async () => {
  const shop = await import('/shop.js');
  await shop.setPerson('Ann');
  const { strip } = await shop.act('begin_strip', { name: 'Evening work', machine_name: 'Test hack' });
  const machine = (await shop.view(strip, 'strip')).machine.id;
  await shop.act('change', { strip, thing: machine, type: 'machine', values: { wheelbase_millimetres: '1450',
    front_axle_millimetres: '300', rear_axle_millimetres: '300', standard_up_millimetres: '520' } });
  await shop.act('add_scale', { strip, name: 'Platform', step: '100', capacity: '300', gain_percent: '0.5' });
  for (let number = 1; number <= 5; number += 1)
    await shop.act('add_scale', { strip, name: `Spare ${number}`, step: '500', capacity: '150' });
  return strip;
}"""
BASE, UP = 1450.0, 520.0


@pytest.fixture
def page(chromium: Any, server: Any) -> Iterator[Any]:
    """A phone on the screen for weighing the whole machine, its signal gone."""
    with phone_without_signal(chromium, server, MADE, locale="en-GB") as (page, strip):
        page.strip = strip
        page.goto(f"{server.url}/#/strip/{strip}/weigh_in")
        expect(page.get_by_role("button", name="Save the weighing")).to_be_visible()
        yield page


def unfold(page: Any, title: str) -> None:
    section = page.locator("details").filter(has=page.locator("summary", has_text=title)).first
    if section.get_attribute("open") is None:
        section.locator("summary").first.tap()


def weigh(page: Any, **fields: str) -> Any:
    """Writes a weighing down; its article."""
    for name, title in (("higher", "Rider, level, note"), ("raised", "Lift test")):
        if name in fields:
            unfold(page, title)
    write(page, **fields)
    page.get_by_role("button", name="Save the weighing").tap()
    expect(page.get_by_label("Under the front wheel", exact=True)).to_have_value("")
    return page.get_by_role("article").first


def figure_of(within: Any, words: str) -> tuple[float, float]:
    """The figure beside these words, and its ±."""
    shown = within.locator("dl.sums > div").filter(has=within.page.get_by_text(words, exact=True)).locator("dd")
    expect(shown).to_contain_text("±")
    found = re.match(r"\s*([\d.,]+) ±\s*([\d.,]+)", shown.inner_text())
    assert found, shown.inner_text()
    return float(found[1].replace(",", "")), float(found[2].replace(",", ""))


def test_both_ends_one_after_the_other_on_one_scale_add_its_gain_straight(page: Any) -> None:
    unfold(page, "Which scale")
    for end in ("front", "rear"):
        tiles = page.get_by_role("group", name=f"Scale under the {end} wheel")
        # Six cards: the first four are in sight, the rest a tap away.
        expect(tiles.get_by_role("radio")).to_have_count(5)
        tiles.get_by_role("radio", name="Platform").check()
    page.get_by_role("button", name="2 more scales").first.tap()
    expect(page.get_by_role("group", name="Scale under the front wheel").get_by_role("radio")).to_have_count(7)
    weighing = weigh(page, front="98.0", rear="102.0", fuel="5")
    # 0.5 % of 200 kg as a half width: k = 2 of it over sqrt 3 is 1.15 kg (GUM 4.3.7); each end's step is next to none.
    assert 2 * 0.005 * 200 / math.sqrt(3) == pytest.approx(1.155, abs=1e-3)
    assert figure_of(weighing, "As it stands") == (200.0, 1.2)
    expect(weighing).to_contain_text("Weighed on: Platform.")


def test_not_level_is_put_level_by_the_height_of_the_centre(page: Any) -> None:
    weighing = weigh(page, front="96", rear="104", higher="200")
    # Statics: on a slope the load moves by total x up / wheelbase x tan(slope), sin(slope) = 200 / 1450.
    moved = 200.0 * UP / BASE * math.tan(math.asin(200.0 / BASE))
    for words, wanted in (("Front wheel", 96.0 + moved), ("Rear wheel", 104.0 - moved)):
        value, spread = figure_of(weighing, words)
        assert value == pytest.approx(wanted, abs=0.1)
        assert 0.0 < spread < 2.0
    assert figure_of(weighing, "As it stands")[0] == pytest.approx(200.0, abs=0.1)
    expect(weighing).to_contain_text(re.compile("front.* higher", re.IGNORECASE))


def test_a_whole_lift_test_gives_the_height_on_both_screens(page: Any) -> None:
    weigh(page, front="96.0", rear="104.0", fuel="5", higher="0")
    lift = weigh(page, front="104.0", fuel="5", raised="500")
    expect(lift).to_contain_text("Rear axle raised by 500\u00a0mm.")
    # Height above axles = wheelbase x change of front load / (total x tan angle) (ISO 10392:2011, 6.2).
    above = BASE * 8.0 / (200.0 * math.tan(math.asin(500.0 / BASE)))
    for words, wanted in (("Centre above the axles", above), ("Centre above the ground", 300.0 + above)):
        value, spread = figure_of(lift, words)
        assert value == pytest.approx(wanted, abs=spread)
        assert 1.0 < spread < 30.0
    for width in (360, 390):
        page.set_viewport_size({"width": width, "height": 740})
        assert sticking_out(page) == []
    page.get_by_role("link", name="Balance").tap()
    row = page.get_by_role("row").filter(has=page.get_by_role("rowheader", name="Centre above the ground"))
    expect(row.locator("td").first).to_contain_text(re.compile(rf"{300.0 + above:.0f}"))
    expect(page.get_by_text("The height is from a lift test.")).to_be_visible()


def test_what_turns_with_a_wheel_is_counted_on_the_balance(page: Any) -> None:
    make = """async (strip) => {
      const shop = await import('/shop.js');
      const { part } = await shop.act('take_off', { strip, name: 'Rear disc', place: 'rear_wheel',
        outcome: 'stays_off', outcome_done: true, readings: [{ figure: '1500', unit: 'g', step: '1', pieces: 1 }] });
      return part;
    }"""
    page.evaluate(make, page.strip)
    page.goto(page.url.replace("weigh_in", "balance"))
    page.get_by_role("button", name="Place: Rear disc").tap()
    where = page.get_by_role("region", name="Place: Rear disc")
    where.get_by_role("radio", name="Turns with a wheel").check()
    where.get_by_label("Behind the front axle, mm", exact=True).fill("1450")
    where.get_by_label("Above the ground, mm", exact=True).fill("300")
    where.get_by_role("button", name="Save the place").tap()
    expect(where).to_have_count(0)
    # What turns is unsprung as well; of the sprung mass nothing went.
    turns = {"Unsprung mass, change": "−1.5000 ±", "Of that, turning with a wheel": "−1.5000 ±"}
    turns["Sprung mass, change"] = "0\u00a0g"
    for words, wanted in turns.items():
        line = page.locator("dl.sums > div").filter(has=page.get_by_text(words, exact=True))
        expect(line.locator("dd")).to_contain_text(wanted)
