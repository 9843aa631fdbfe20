"""What is said of fasteners while they are typed, on a phone without signal: likely threads, usual keys, lengths."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from looked_over import RULES
from one_part import ENTRIES
from screens import double_the_text, open_screen, sticking_out, unfold
from web.offline import phone_without_signal

BEGIN = """async () => {
  const shop = await import('/shop.js');
  await shop.setPerson('Ann');
  return (await shop.act('begin_strip', { name: 'Evening work', machine_name: 'Test hack' })).strip;
}"""
# What the worker is asked about fasteners never reaches it.
NO_ANSWER = """() => {
  const post = Worker.prototype.postMessage;
  Worker.prototype.postMessage = function (message, ...rest) {
    if (message.name !== 'fasteners') post.call(this, message, ...rest);
  };
}"""
HOSTILE = ("M1e9", "1/0", "M", "<b>M8</b>", "'; DROP", "M８ × ½", "\u202eM8", "🔩 6 mm", "{thread}", "0")


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A phone on the form for taking off, its signal gone and the first row of fasteners open: (page, strip)."""
    with phone_without_signal(chromium, module_server, BEGIN) as (page, strip):
        open_screen(page, f"#/strip/{strip}/take_off")
        page.get_by_label("Name of the part").fill("Caliper bracket")
        page.locator("summary", has_text="Fasteners and bag").tap()
        page.get_by_role("button", name="One more: How many").tap()
        page.locator("summary", has_text="Head, key, where it sits").tap()
        page.locator("summary", has_text="Grade, finish, bolt length").tap()
        yield page, strip


def row(page: Any) -> Any:
    return page.get_by_role("group", name="Fasteners 1")


def likely(page: Any) -> Any:
    return page.get_by_role("group", name="Likely threads for this key")


def write(page: Any, label: str, text: str) -> None:
    row(page).get_by_label(label, exact=True).fill(text)


def save(page: Any) -> None:
    page.get_by_role("button", name="Save", exact=True).tap()
    expect(page.get_by_role("heading", name="Saved: Caliper bracket")).to_be_visible()


def groups(phone: Any) -> list[dict[str, Any]]:
    """What was written of groups, less what of."""
    page, strip = phone
    sets = [each for each in page.evaluate(ENTRIES, strip) if each["kind"] == "set" and each["type"] == "group"]
    return [{name: value for name, value in each["values"].items() if name != "part"} for each in sets]


def look_at_it(page: Any) -> Any:
    """The part's page with all about its fasteners open."""
    page.get_by_role("link", name="Look at it").tap()
    expect(page.get_by_role("heading", name="Caliper bracket", level=1)).to_be_visible()
    page.locator("summary", has_text="All about these").tap()
    return page.locator("details", has=page.locator("summary", has_text="All about these"))


def facts(page: Any) -> Any:
    """The fields of the group."""
    return page.locator(".facts").first


def fact(page: Any, label: str) -> Any:
    return page.locator(".facts > div").filter(has=page.get_by_text(label, exact=True)).first


def test_a_likely_thread_is_taken_with_a_tap_and_is_never_said_to_be_sure(phone: Any) -> None:
    page, _ = phone
    write(page, "Key or spanner", "6 mm hex key")
    # ISO 4762: 6 mm turns M8; ISO 7380-1 and ISO 10642: M10.
    names = likely(page).get_by_role("listitem").locator("strong")
    expect(names).to_have_text(["M8", "M10", "M10"])
    expect(likely(page)).to_contain_text("Likely only, never certain")
    likely(page).get_by_role("button", name="M8").tap()
    expect(likely(page)).to_have_count(0)
    expect(row(page).get_by_label("Thread", exact=True)).to_have_value("M8")
    expect(row(page).get_by_label("Head", exact=True)).to_have_value("socket_cap")
    told = page.get_by_text("Thread M8: likely by the key, not sure.")
    expect(told).to_be_visible()
    expect(page.locator(".notice", has=told)).to_be_focused()
    expect(row(page)).to_contain_text("Read as M8, pitch 1.25 mm.")
    save(page)
    assert groups(phone) == [{"count": 1, "thread": "M8", "head": "socket_cap", "key": "6 mm hex key"}]
    about = look_at_it(page)
    expect(about).to_contain_text("Read as M8, pitch 1.25 mm.")
    expect(fact(page, "Thread")).to_contain_text("M8")
    expect(fact(page, "Thread held to a gauge or a nut")).to_contain_text("–")


def test_a_head_that_is_named_leaves_only_its_own(phone: Any) -> None:
    page, _ = phone
    row(page).get_by_label("Head", exact=True).select_option("countersunk")
    write(page, "Key or spanner", "6 mm")
    names = likely(page).get_by_role("listitem").locator("strong")
    expect(names).to_have_text(["M10", "M10×1.25", "M10×1", "M10×0.75"])
    write(page, "Key or spanner", "8")
    row(page).get_by_label("Head", exact=True).select_option("")
    likely(page).get_by_role("button", name="more, less likely").tap()
    assert likely(page).get_by_role("listitem").count() > 4


def test_a_sure_thread_that_is_corrected_is_sure_no_more(phone: Any) -> None:
    page, _ = phone
    sure = page.get_by_label("Thread held to a gauge or a nut")
    expect(sure).to_have_count(0)
    write(page, "Thread", "M8")
    sure.check()
    write(page, "Thread", "M8×1")
    expect(sure).not_to_be_checked()
    sure.check()
    save(page)
    assert groups(phone) == [{"count": 1, "thread": "M8×1", "thread_confirmed": True}]
    look_at_it(page)
    page.get_by_role("button", name="Change: Thread", exact=True).tap()
    facts(page).get_by_label("Thread", exact=True).fill("M10 fine")
    expect(facts(page)).to_contain_text("or it could be two. It is kept as you wrote it.")
    facts(page).get_by_label("Thread", exact=True).fill("m8")
    expect(facts(page)).to_contain_text("Read as M8, pitch 1.25 mm.")
    facts(page).get_by_role("button", name="Save").tap()
    expect(fact(page, "Thread held to a gauge or a nut")).to_contain_text("no")
    assert groups(phone)[-1] == {"thread": "m8", "thread_confirmed": False}


def test_the_usual_key_of_a_thread_is_taken_with_a_tap(phone: Any) -> None:
    page, _ = phone
    write(page, "Thread", "M10x1,25")
    row(page).get_by_label("Head", exact=True).select_option("hex")
    keys = page.get_by_role("group", name="Usual keys for this thread and head")
    # ISO 4014, DIN 931, JIS B 1180.
    expect(keys.get_by_role("listitem").locator("strong")).to_have_text(["16 mm", "17 mm", "14 mm"])
    keys.get_by_role("button", name="17 mm").tap()
    expect(keys).to_have_count(0)
    write(page, "Key or spanner", "13 mm")
    expect(row(page)).to_contain_text("Usually 16 mm (ISO 4014), 17 mm (DIN 931) or 14 mm (JIS B 1180)")
    write(page, "Key or spanner", "17 mm")
    save(page)
    assert groups(phone) == [{"count": 1, "thread": "M10x1,25", "head": "hex", "key": "17 mm"}]


def test_the_usual_lengths_for_a_grip(phone: Any) -> None:
    page, _ = phone
    write(page, "Thread", "M8")
    write(page, "Thickness it clamps, mm", "20")
    expect(row(page)).to_contain_text("Say what it screws into")
    row(page).get_by_label("Screws into").select_option("loose_nut")
    # ISO 4032: 20 + 6.8 + 2 x 1.25; ISO 888.
    expect(row(page)).to_contain_text("At least 29.3 mm.")
    lengths = row(page).get_by_role("button", name="mm long")
    expect(lengths).to_have_text(["30 mm long", "35 mm long", "40 mm long"])
    lengths.first.tap()
    expect(row(page).get_by_label("Length, mm")).to_have_value("30")
    answers = (
        ("1e9", "“1e9” is no number."),
        ("-1", "below 0 cannot be right"),
        ("1 in", "At least 34.7 mm."),
        ("250", "260 mm long"),
    )
    for typed, answer in answers:
        write(page, "Thickness it clamps, mm", typed)
        expect(row(page)).to_contain_text(answer)
    save(page)
    # The grip belongs to the question alone.
    assert groups(phone) == [{"count": 1, "thread": "M8", "length_millimetres": 30, "into": "loose_nut"}]
    look_at_it(page)
    page.locator("summary", has_text="How long a bolt").tap()
    page.get_by_label("Thickness it clamps, mm").fill("25")
    page.get_by_role("button", name="35 mm long").tap()
    expect(fact(page, "Length, mm")).to_contain_text("35")
    assert groups(phone)[-1] == {"length_millimetres": 35}


def test_what_is_seldom_said_is_saved_shown_and_corrected(phone: Any) -> None:
    page, _ = phone
    write(page, "Thread", "M6")
    write(page, "Grade on the head", "10,9")
    # ISO 898-1: 940 MPa.
    expect(row(page)).to_contain_text("Read as 10.9: yields at 940 MPa.")
    row(page).get_by_label("Finish").select_option("zinc")
    write(page, "Thread screwed in, mm", "12,5")
    write(page, "One weighs, g", "6.4")
    page.get_by_label("Only holds something on the engine’s outside").check()
    save(page)
    assert groups(phone) == [
        {
            "count": 1, "thread": "M6", "grade": "10,9", "finish": "zinc", "engagement_millimetres": 12.5,
            "grams_each": 6.4, "outside_engine": True,
        }
    ]  # fmt: skip
    about = look_at_it(page)
    for label, value in (
        ("Grade on the head", "10,9"), ("Finish", "zinc plated"), ("Thread screwed in, mm", "12.5"),
        ("Only holds something on the engine’s outside", "yes"),
    ):  # fmt: skip
        expect(fact(page, label)).to_contain_text(value)
    expect(about).to_contain_text("6.4 ± 0.2 g each, as weighed")
    page.get_by_role("button", name="Change: One weighs").tap()
    facts(page).get_by_label("One weighs", exact=True).fill("7,1")
    facts(page).get_by_role("button", name="Save").tap()
    expect(fact(page, "One weighs")).to_contain_text("7.1")
    page.get_by_role("button", name="Change: Finish").tap()
    facts(page).get_by_label("Stainless").check()
    facts(page).get_by_role("button", name="Save").tap()
    expect(fact(page, "Finish")).to_contain_text("stainless")
    assert groups(phone)[1:] == [{"grams_each": 7.1}, {"finish": "stainless"}]


def test_a_part_with_a_key_alone_is_offered_likely_threads_later(phone: Any) -> None:
    page, _ = phone
    write(page, "Key or spanner", "12 mm socket")
    # Saved at once, without waiting for what is said beside it.
    save(page)
    assert groups(phone) == [{"count": 1, "key": "12 mm socket"}]
    look_at_it(page)
    likely(page).get_by_role("button", name="M8").first.tap()
    expect(fact(page, "Thread")).to_contain_text("M8")
    expect(likely(page)).to_have_count(0)
    assert groups(phone)[-1] == {"thread": "M8", "head": "hex"}
    assert page.evaluate(ENTRIES, phone[1])[-1].get("saw") in (None, {})


@pytest.mark.parametrize("text", HOSTILE)
def test_text_that_is_no_thread_is_kept_as_it_is(phone: Any, text: str) -> None:
    page, _ = phone
    write(page, "Key or spanner", text)
    write(page, "Thread", text)
    write(page, "Grade on the head", text)
    expect(row(page).get_by_text("It is kept as you wrote it.")).to_have_count(2)
    expect(likely(page)).to_have_count(0)
    save(page)
    [values] = groups(phone)
    assert (values["thread"], values["key"], values["grade"]) == (text, text, text)
    look_at_it(page)
    expect(fact(page, "Thread")).to_contain_text(text)
    assert facts(page).locator("b").count() == 0


def test_text_beyond_measure_is_refused_with_its_reason_and_kept_in_the_form(phone: Any) -> None:
    page, _ = phone
    for label in ("Thread", "Key or spanner"):
        write(page, label, "M8" * 1000)
    expect(row(page)).to_contain_text("It is kept as you wrote it.")
    page.get_by_role("button", name="Save", exact=True).tap()
    expect(page.get_by_role("alert")).to_contain_text("Thread: This is longer than 40 characters.")
    expect(row(page).get_by_label("Thread", exact=True)).to_have_value("M8" * 1000)
    assert groups(phone) == []


def test_without_an_answer_the_form_is_as_before_and_saves(phone: Any) -> None:
    page, _ = phone
    page.evaluate(NO_ANSWER)
    write(page, "Key or spanner", "6 mm hex key")
    write(page, "Grade on the head", "8.8")
    write(page, "Thickness it clamps, mm", "20")
    page.get_by_role("button", name="Save", exact=True).tap()
    # The core is given up once it has not answered for ten seconds; then the save goes to a fresh one.
    expect(page.get_by_role("heading", name="Saved: Caliper bracket")).to_be_visible(timeout=60_000)
    assert groups(phone) == [{"count": 1, "key": "6 mm hex key", "grade": "8.8"}]


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_what_is_said_beside_the_fields_is_accessible_and_fits(phone: Any, theme: str) -> None:
    page, _ = phone
    page.emulate_media(color_scheme=theme)
    write(page, "Key or spanner", "8")
    write(page, "Grade on the head", "A2")
    write(page, "Thickness it clamps, mm", "20")
    likely(page).get_by_role("button", name="more, less likely").tap()
    expect(row(page)).to_contain_text("Say the thread first.")
    looked_at(page)
    likely(page).get_by_role("button").first.tap()
    write(page, "Key or spanner", "")
    row(page).get_by_label("Screws into").select_option("steel")
    expect(row(page).get_by_role("button", name="mm long").first).to_be_visible()
    expect(page.get_by_role("group", name="Usual keys for this thread and head")).to_be_visible()
    looked_at(page)
    save(page)
    look_at_it(page)
    unfold(page)
    page.get_by_label("Thickness it clamps, mm").fill("20")
    expect(page.get_by_role("button", name="mm long").first).to_be_visible()
    looked_at(page)
    double_the_text(page)
    page.set_viewport_size({"width": 320, "height": 740})
    assert sticking_out(page) == []


def looked_at(page: Any) -> None:
    answer = Axe().run(page, options={"runOnly": {"type": "tag", "values": RULES}}).response
    assert json.dumps([each["id"] for each in answer["violations"]]) == "[]"
    for width in (320, 1280, 360):
        page.set_viewport_size({"width": width, "height": 740})
        assert sticking_out(page) == []
