"""Torque wrenches on a phone without signal: their cards, tightening with them, and what is asked and refused."""

import datetime
import itertools
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from web.hands import Hands
from web.offline import hands_without_signal

TODAY = datetime.datetime.now(datetime.UTC).date()
FRESH, OVERDUE = TODAY - datetime.timedelta(days=130), TODAY - datetime.timedelta(days=400)
# A part with four bolts that are on again and wait for the wrench.
PART = """async ([strip, name, group]) => {
  const shop = await import('/shop.js');
  const { part } = await shop.act('take_off', { strip, name, outcome: 'goes_back', bag_label: '7',
    groups: [{ count: 4, thread: 'M8', length: '25', ...group }] });
  const [{ group: id, places: [{ bag }] }] = (await shop.view(strip, 'part', { part })).groups;
  await shop.act('move', { strip, group: id, count: 4, from: 'bag', from_bag: bag, to: 'machine' });
}"""
ADD = "async ([strip, form]) => (await import('/shop.js')).act('add_tool', { strip, ...form })"
SHAPE = "(mark) => getComputedStyle(mark, '::before').content.replaceAll('\"', '')"
BENCH = "Bench wrench, 10 to 60 N·m"
MORE = "Adapter, locking nut, or clicked at a setting"
numbers = itertools.count(1)


@pytest.fixture(scope="module")
def phone(chromium: Any, module_server: Any) -> Iterator[Hands]:
    """A phone that has loaded the program once, has no signal, and has begun a strip-down with one wrench."""
    with hands_without_signal(chromium, module_server) as hands:
        add(hands, calibrated_on=FRESH.isoformat(), name="Bench wrench", tool_type="click", low="10", high="60",
            step="0.5", lever="320")  # fmt: skip
        yield hands


def add(hands: Hands, **form: str) -> None:
    hands.page.evaluate(ADD, [hands.strip, form])


def part_with(hands: Hands, **group: str) -> Any:
    """A new part on the way back, unfolded: `group` is its row as typed; 25 N·m where nothing else is said."""
    name = f"Bracket number {next(numbers):02d}"
    hands.page.evaluate(PART, [hands.strip, name, {"torque": "25", "torque_page": "book 7-2"} | group])
    hands.open(f"#/strip/{hands.strip}/back")
    hands.unfold(name)
    return hands.page.locator("details.part").filter(has_text=name)


def card(hands: Hands, name: str) -> Any:
    hands.open(f"#/strip/{hands.strip}/gear")
    return hands.page.get_by_role("article", name=name, exact=True)


def take(part: Any, wrench: str = BENCH) -> None:
    part.get_by_role("radio", name=wrench, exact=True).check()


def tightened(hands: Hands) -> dict[str, Any]:
    return [entry for entry in hands.entries() if entry["kind"] == "tighten"][-1]


def test_a_wrench_gets_its_card_without_signal(phone: Hands) -> None:
    phone.open(f"#/strip/{phone.strip}/gear")
    phone.unfold("Add a wrench")
    form = phone.page.locator("form").filter(has_text="Save the wrench")
    form.get_by_label("Kind of wrench", exact=True).select_option("screwdriver")
    typed = {"Name of the wrench": "Small one", "Top": "8", "Lowest mark, N·m": "0,5", "Step, N·m": "0,1"}
    for label, text in (typed | {"Calibrated on": FRESH.isoformat(), "Certificate": "K 12"}).items():
        phone.write(label, text, form)
    phone.tap("Save the wrench")
    small = phone.page.get_by_role("article", name="Small one", exact=True)
    for words in ("0.5 to 8 N·m", "torque screwdriver", "±6 %", "Calibrated 4 months ago", "certificate K 12"):
        expect(small).to_contain_text(words)
    expect(small).to_contain_text("Nothing tightened with it yet.")
    expect(phone.status()).to_contain_text("Saved on this phone.")
    values = phone.entries()[-1]["values"]
    assert (values["low_newton_metres"], values["step_newton_metres"], values["certificate"]) == (0.5, 0.1, "K 12")
    phone.unfold("Its card", small)
    small.get_by_role("button", name="Change: Top").tap()
    phone.write("Top", "9", small)
    phone.tap("Save", small)
    expect(small).to_contain_text("0.5 to 9 N·m")


def test_tightened_with_a_wrench_and_an_adapter(phone: Hands) -> None:
    """25 x 320 / (320 + 40) = 22.22 (TM 1-1500-204-23-9); the nearest mark is 22, which gives 24.75."""
    part = part_with(phone)
    take(part)
    phone.unfold(MORE, part)
    phone.write("Length of the adapter, mm", "40", part)
    expect(part.get_by_role("img", name="The adapter at 0° to the wrench")).to_be_visible()
    answer = part.locator(".setting")
    expect(answer).to_contain_text("Set the wrench to")
    expect(answer.locator(".torque")).to_have_text("22 N·m")
    expect(answer).to_contain_text("The wrench has no mark for 25 N·m: the nearest gives 24.75 N·m.")
    expect(answer).to_contain_text("guard band of ISO 14253-1 and JCGM 106")
    phone.tap("4 tightened", part)
    expect(part).to_contain_text("4 of 4 on, 4 tight, 0 marked.")
    expect(part).to_contain_text("with Bench wrench: within the specification")
    expect(part).to_contain_text("wrench set to 22 N·m")
    entry = tightened(phone)
    assert (entry["setting_newton_metres"], entry["adapter_millimetres"], entry["lever_millimetres"]) == (22, 40, 320)
    assert entry["newton_metres"] == pytest.approx(24.75) and entry["adapter_degrees"] == 0
    bench = card(phone, "Bench wrench")
    expect(bench).to_contain_text("4 × M8×25")
    expect(bench.locator(".line").first).to_contain_text("within the specification")
    assert entry["with_tool"]


@pytest.mark.parametrize(
    ("degrees", "tile", "setting"),
    [
        # No correction across; E cos 60 is half of 64 (TM 9-254); back over the handle it shortens the lever.
        ("", "Square across", "25 N·m"),
        ("60", "Another angle", "22.5 N·m"),
        ("", "Back over the handle", "31.5 N·m"),
    ],
)
def test_the_adapter_at_any_angle(phone: Hands, degrees: str, tile: str, setting: str) -> None:
    part = part_with(phone)
    take(part)
    phone.unfold(MORE, part)
    phone.write("Length of the adapter, mm", "64", part)
    phone.choose("How the adapter stands", tile, part)
    if degrees:
        phone.write("Angle of the adapter, degrees", degrees, part)
    expect(part.locator(".setting .torque")).to_have_text(setting)


@pytest.mark.parametrize(
    ("torque", "words", "shape", "why"),
    [
        # 4 % and half a step of 0.5: at 24 U = 2 x sqrt((0.96^2 + 0.25^2) / 3) = 1.15, at 26 1.24: of 22.5 to 27.5 the
        # marks from 24 to 26 are accepted.
        ("25", "within the specification", "◆", "24 to 26"),
        ("27", "doubtful, not proven", "◈", "Too near 27.5 N·m"),
        ("30", "above the specification", "▲", ""),
        ("20", "below the specification", "▲", ""),
    ],
)
def test_the_verdict_in_words_and_shape_before_and_after(
    phone: Hands, torque: str, words: str, shape: str, why: str
) -> None:
    part = part_with(phone)
    take(part)
    phone.write("Torque applied", torque, part)
    mark = part.locator(".setting .mark")
    expect(mark).to_have_text(words)
    assert mark.evaluate(SHAPE) == shape
    expect(part.locator(".setting")).to_contain_text(why)
    phone.tap("4 tightened", part)
    record = part.locator(".mark", has_text="with Bench wrench")
    expect(record).to_contain_text(words)
    assert record.evaluate(SHAPE) == shape
    assert tightened(phone)["newton_metres"] == float(torque)


def test_a_value_alone_is_enough(phone: Hands) -> None:
    part = part_with(phone, torque="")
    part.get_by_role("radio", name="One without a card", exact=True).check()
    phone.write("Torque applied", "22", part)
    expect(part.locator(".setting")).to_contain_text("nothing to hold it against: no specification")
    phone.tap("4 tightened", part)
    expect(part).to_contain_text("4 of 4 on, 4 tight, 0 marked.")
    entry = tightened(phone)
    assert entry["newton_metres"] == 22
    assert not {"with_tool", "tool", "adapter_millimetres", "lever_millimetres", "step"} & set(entry)


def test_a_click_at_a_setting_and_a_locking_nut(phone: Hands) -> None:
    """Prevailing torque is added (AC 43.13-1B 7-40d): 25 wanted and 1.5 to turn the nut are 26.5 at the wrench."""
    part = part_with(phone)
    take(part)
    phone.unfold(MORE, part)
    phone.write("Prevailing torque, N·m", "1,5", part)
    answer = part.locator(".setting")
    expect(answer.locator(".torque")).to_have_text("26.5 N·m")
    expect(answer).to_contain_text("of which 1.50 ± 0.31 N·m only turn the locking nut: 25.0")
    phone.choose("The figure above is", "What the wrench was set to when it clicked", part)
    phone.write("Wrench set to", "26", part)
    expect(answer).to_contain_text("gets 26.0")
    expect(answer.locator(".mark")).to_have_text("within the specification")
    phone.tap("4 tightened", part)
    expect(part).to_contain_text("1.50 ± 0.31 N·m of it for the locking nut, 24.5")
    entry = tightened(phone)
    assert (entry["newton_metres"], entry["setting_newton_metres"], entry["prevailing_newton_metres"]) == (26, 26, 1.5)


def test_the_steps_of_the_manual_one_after_the_other(phone: Hands) -> None:
    part = part_with(phone, torque_steps="10 15")
    for step, torque in ((1, "10"), (2, "15"), (3, "25")):
        chosen = part.get_by_role("radio", name=f"{step}: {torque} N·m", exact=True)
        expect(chosen).to_be_checked()
        expect(part.get_by_label("Torque applied", exact=True)).to_have_value(torque)
        expect(part.locator(".setting")).to_contain_text(f"gets {torque}")
        phone.tap("4 tightened", part)
        expect(part.get_by_role("radio", name=f"{step}: {torque} N·m", exact=True, checked=True)).to_have_count(0)
        assert tightened(phone)["step"] == step
    expect(part).to_contain_text("4 of 4 on, 4 tight, 0 marked.")


def test_a_torque_outside_the_wrench_is_asked_about_and_kept(phone: Hands) -> None:
    part = part_with(phone, torque="70")
    take(part)
    answer = part.locator(".setting")
    expect(answer).to_contain_text("This wrench ends at 60 N·m, and 70 N·m is above that")
    expect(answer.locator(".mark")).to_have_text("doubtful, not proven")
    phone.tap("4 tightened", part)
    expect(part.get_by_role("button", name="Tighten again")).to_be_visible()
    expect(part).to_contain_text("This wrench ends at 60 N·m")
    assert tightened(phone)["setting_newton_metres"] == 70
    # After a doubt it is not asked for again, but it can be done again.
    phone.tap("Tighten again", part)
    part.get_by_role("radio", name="One without a card", exact=True).check()
    phone.write("Which wrench", "The large one", part)
    expect(part.locator(".setting .mark")).to_have_text("within the specification")
    phone.tap("4 tightened", part)
    expect(part.get_by_role("button", name="Tighten again")).to_be_visible()
    assert tightened(phone)["tool"] == "The large one"


def test_a_calibration_out_of_date_is_asked_about_and_kept(phone: Hands) -> None:
    add(phone, name="Old wrench", low="10", high="60", calibrated_on=OVERDUE.isoformat())
    expect(card(phone, "Old wrench")).to_contain_text("Calibration overdue: due after 12 months")
    expect(card(phone, "Old wrench")).to_contain_text("Calibrated 13 months ago")
    part = part_with(phone)
    take(part, "Old wrench, 10 to 60 N·m")
    expect(part).to_contain_text("Calibration overdue")
    expect(part.locator(".setting .mark")).to_have_text("doubtful, not proven")
    phone.tap("4 tightened", part)
    expect(part.get_by_role("button", name="Tighten again")).to_be_visible()
    expect(part).to_contain_text(f"The wrench’s calibration of {OVERDUE} was more than 12 months old.")
    assert tightened(phone)["tool"] == "Old wrench"


def test_a_wrench_put_away_is_not_offered(phone: Hands) -> None:
    add(phone, name="Spare wrench", low="10", high="60")
    spare = "Spare wrench, 10 to 60 N·m"
    phone.tap("Put it away", card(phone, "Spare wrench"))
    expect(card(phone, "Spare wrench").get_by_role("button", name="Take it out again")).to_be_visible()
    part = part_with(phone)
    if part.get_by_role("button", name="more wrenches").count():
        part.get_by_role("button", name="more wrenches").tap()
    expect(part.get_by_role("radio", name=BENCH, exact=True)).to_be_visible()
    expect(part.get_by_role("radio", name=spare, exact=True)).to_have_count(0)
    phone.tap("Take it out again", card(phone, "Spare wrench"))
    expect(card(phone, "Spare wrench").get_by_role("button", name="Put it away")).to_be_visible()


@pytest.mark.parametrize(
    ("label", "typed", "why"),
    [
        ("Torque applied", "abc", "“abc” is no number."),
        ("Torque applied", "-5", "A figure below 0 cannot be right here."),
        ("Torque applied", "0", "A torque must be more than 0."),
        ("Torque applied", "", "Give the torque applied."),
        ("Torque applied", "1e308", "“1e308” is no number."),
        ("Torque applied", "99999", "This must lie between 0 and 2,000."),
        ("Length of the adapter, mm", "1001", "This must lie between 0 and 1,000."),
        ("Length of the adapter, mm", "NaN", "“NaN” is no number."),
        ("Length of the wrench, mm", "5", "This must lie between 10 and 3,000."),
        ("Angle of the adapter, degrees", "181", "This must lie between 0 and 180."),
        ("Prevailing torque, N·m", "501", "at most 500 N·m"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(phone: Hands, label: str, typed: str, why: str) -> None:
    part = part_with(phone)
    take(part)
    phone.unfold(MORE, part)
    if label != "Prevailing torque, N·m":
        phone.write("Length of the adapter, mm", "40", part)
    phone.choose("How the adapter stands", "Another angle", part)
    phone.write("Angle of the adapter, degrees", "30", part)
    phone.write(label, typed, part)
    before = phone.entries()
    # It is said while it is typed already; nothing moves any more under the finger that saves.
    expect(part).to_contain_text(why if typed else "4 of 4 on")
    phone.tap("4 tightened", part)
    alert = part.get_by_role("alert")
    expect(alert).to_contain_text(why)
    expect(part.get_by_label(label, exact=True)).to_have_attribute("aria-invalid", "true")
    assert phone.entries() == before


@pytest.mark.parametrize(
    ("label", "typed", "why"),
    [
        ("Name of the wrench", "", "Give the wrench a name."),
        ("Name of the wrench", "x" * 121, "120"),
        ("Lowest mark, N·m", "90", "The lowest mark lies above the top."),
        ("Lowest mark, N·m", "ten", "“ten” is no number."),
        ("Step, N·m", "80", "The step is as large as the top."),
        ("Top", "5000", "at most 2,000 N·m"),
        ("Permissible deviation, %", "50", "This must lie between 0"),
        ("From the middle of the grip to the square, mm", "9999", "This must lie between 0"),
    ],
)
def test_a_card_that_cannot_be_is_refused_at_its_field(phone: Hands, label: str, typed: str, why: str) -> None:
    phone.open(f"#/strip/{phone.strip}/gear")
    phone.reload()
    phone.unfold("Add a wrench")
    form = phone.page.locator("form").filter(has_text="Save the wrench")
    phone.write("Name of the wrench", "Impossible one", form)
    phone.write("Top", "80", form)
    phone.write(label, typed, form)
    before = phone.entries()
    phone.tap("Save the wrench")
    expect(form.get_by_role("alert")).to_contain_text(why)
    expect(form.get_by_label(label, exact=True)).to_have_attribute("aria-invalid", "true")
    assert phone.entries() == before


def test_a_day_of_calibration_that_is_yet_to_come_is_refused(phone: Hands) -> None:
    bench = card(phone, "Bench wrench")
    phone.unfold("Its card", bench)
    before = phone.entries()
    bench.get_by_role("button", name="Change: Calibrated on").tap()
    phone.write("Calibrated on", (TODAY + datetime.timedelta(days=9)).isoformat(), bench)
    phone.tap("Save", bench)
    expect(bench.get_by_role("alert")).to_contain_text("That day is yet to come.")
    assert phone.entries() == before


def test_one_fastener_is_no_fasteners(phone: Hands) -> None:
    made = """async ([strip, tool]) => {
      const shop = await import('/shop.js');
      const { tool: with_tool } = await shop.act('add_tool', { strip, ...tool });
      const { part } = await shop.act('take_off', {
        strip, name: 'Cover', bag_label: '9', groups: [{ count: 1, thread: 'M6' }] });
      const [{ group, places: [{ bag }] }] = (await shop.view(strip, 'part', { part })).groups;
      await shop.act('move', { strip, group, count: 1, from: 'bag', from_bag: bag, to: 'machine' });
      await shop.act('tighten', { strip, group, count: 1, torque: '20', with_tool });
    }"""
    tool = {"name": "Single wrench", "low": "5", "high": "40", "calibrated_on": FRESH.isoformat()}
    phone.page.evaluate(made, [phone.strip, tool])
    expect(card(phone, "Single wrench")).to_contain_text("one fastener in this strip-down since its calibration")
