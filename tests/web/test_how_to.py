"""Cards of help: each stands where it is needed, opens, closes, keeps what was typed, and rests on what is named."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from one_part import act, phone_with_one_part, view
from screens import double_the_text, open_screen, sticking_out, unfold

PRACTICE = "common practice, no source"
# What each line of a card rests on.
RESTS_ON = {
    "scale": [PRACTICE, PRACTICE, "a range read by eye: EURACHEM QUAM, appendix E",
              "the step of a digital scale as a rectangle: GUM F.2.2.1", PRACTICE],
    "heavy": [PRACTICE, "the container is taken off: readings.py", PRACTICE, "wheel by wheel: ISO 10392:2011, 6.2",
              PRACTICE],
    "thread": ["the crest of an M8 of tolerance 6g is 7.760 to 7.972 mm: ISO 965-1, from memory",
               PRACTICE, "under the head, a countersunk one whole: ISO 4014 and ISO 10642, from memory", PRACTICE,
               "ISO 261 and ASME B1.1 for the names"],
    "key": ["across flats: ISO 4014", "ISO 4762", PRACTICE, PRACTICE, "small-head hexagons are common, from memory"],
    "adapter": ["TM 9-254", "TM 9-254", "TM 9-254", "TM 9-254", PRACTICE],
    "mark": [PRACTICE] * 5,
    "order": [PRACTICE, "MIL-HDBK-60, 5.7", "70 % in pattern, then full: TM 5-3805-298-23-2", PRACTICE, PRACTICE],
    "label": [PRACTICE] * 5,
}  # fmt: skip
CARDS = "async () => { const { cards } = await import('/pieces/how_to.js'); return cards(); }"


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone with one part, four M8 in a bag: (page, strip, part)."""
    with phone_with_one_part(chromium, module_server) as phone:
        yield phone


def card(page: Any, title: str) -> Any:
    """Opens the card behind the first button of this name; the dialog."""
    page.get_by_role("button", name=title, exact=True).first.tap()
    dialog = page.get_by_role("dialog", name=title, exact=True)
    expect(dialog).to_be_visible()
    return dialog


def test_each_line_of_each_card_names_what_it_rests_on_and_none_promises(phone: Any) -> None:
    found = phone[0].evaluate(CARDS)
    assert {name: len(each["lines"]) for name, each in found.items()} == {n: len(r) for n, r in RESTS_ON.items()}
    for each in found.values():
        assert len(each["lines"]) <= 5 and max(len(line) for line in each["lines"]) <= 100
        words = " ".join([each["title"], each["alt"], *each["lines"]])
        assert not re.search(r"\b(safe|legal|guarantee)", words.lower())


@pytest.mark.parametrize(("screen", "title"), [
    ("take_off", "How to measure a thread"), ("take_off", "How to find the size of a key"),
    ("take_off", "How to read a scale"), ("take_off", "How to weigh what is too wide or too heavy"),
    ("weigh_in", "How to read a scale"), ("scan", "How to hold a label to the camera"),
    ("torque", "How to use a torque adapter"), ("torque", "How to tighten in steps and in order"),
    ("back", "How to make a witness mark"), ("back", "How to use a torque adapter"),
])  # fmt: skip
def test_each_place_has_its_card(phone: Any, screen: str, title: str) -> None:
    page, strip, part = phone
    (group,) = view(phone, "part", part=part)["groups"]
    if screen == "torque":
        screen = f"torque/{group['group']}"
    if screen == "back":
        out_of = {"from": "bag", "from_bag": group["places"][0]["bag"]}
        act(phone, "move", group=group["group"], count=4, to="machine", **out_of)
        act(phone, "tighten", group=group["group"], count=2, torque="25")
    open_screen(page, f"#/strip/{strip}/{screen}")
    unfold(page)
    expect(page.get_by_role("button", name=title, exact=True).first).to_be_visible()
    dialog = card(page, title)
    expect(dialog.get_by_role("listitem")).to_have_count(5)
    # The words of the drawing are there for who does not see it.
    assert dialog.get_by_role("img").get_attribute("aria-label")
    page.keyboard.press("Escape")
    expect(dialog).to_have_count(0)
    expect(page.get_by_role("button", name=title, exact=True).first).to_be_focused()


def test_the_form_below_keeps_what_was_typed_and_is_not_sent(phone: Any) -> None:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/take_off")
    page.get_by_label("Name of the part").fill("Side panel")
    unfold(page)
    page.get_by_label("Thread", exact=True).first.fill("M6")
    button = page.get_by_role("button", name="How to measure a thread").first
    button.focus()
    page.keyboard.press("Enter")
    dialog = page.get_by_role("dialog")
    expect(dialog).to_be_visible()
    dialog.get_by_role("button", name="Close").press("Enter")
    expect(dialog).to_have_count(0)
    expect(button).to_be_focused()
    expect(page.get_by_label("Name of the part")).to_have_value("Side panel")
    expect(page.get_by_label("Thread", exact=True).first).to_have_value("M6")
    expect(page.get_by_role("heading", name="Saved")).to_have_count(0)
    assert [each["name"] for each in view(phone, "off")["parts"]] == ["Caliper bracket"]


def test_a_card_fits_a_small_phone_at_twice_the_text_and_axe_finds_nothing(phone: Any) -> None:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/scan")
    card(page, "How to hold a label to the camera")
    for theme in ("light", "dark"):
        page.emulate_media(color_scheme=theme)
        page.evaluate("new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)))")
        assert Axe().run(page, context="dialog").response["violations"] == []
    double_the_text(page)
    assert sticking_out(page) == []
    # As tall as it comes, the last of it can be reached.
    page.get_by_role("dialog").get_by_role("button", name="Close").tap()
    expect(page.get_by_role("dialog")).to_have_count(0)


def test_the_screen_of_help_has_all_cards_offline(phone: Any) -> None:
    page, *_ = phone
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    page.context.set_offline(True)
    open_screen(page, "#/")
    page.get_by_role("link", name=re.compile("How to read a scale")).tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("How to")
    found = page.evaluate(CARDS)
    for each in found.values():
        expect(page.get_by_role("heading", name=each["title"], exact=True)).to_be_visible()
        expect(page.get_by_role("img", name=each["alt"], exact=True)).to_be_visible()


def test_a_drawing_writes_its_figures_as_the_language_does_and_a_mark_turns_with_its_fastener(phone: Any) -> None:
    page, *_ = phone
    open_screen(page, "#/")
    page.get_by_role("radio", name="Deutsch").check()
    expect(page.get_by_role("heading", level=1)).to_have_text("Maschinen und Zerlegungen")
    open_screen(page, "#/help")
    expect(page.locator("svg.drawn text").filter(has_text="10 ×")).to_have_text("10 × 1,25")
    turned = [each.get_attribute("transform") for each in page.locator("svg.drawn [transform]").all()]
    # A right-hand thread comes loose against the clock.
    assert len(turned) == 2 and len(set(turned)) == 1 and turned[0].startswith("rotate(-")
