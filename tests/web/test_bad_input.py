"""Bad input through the real form of a phone without signal: a clear message at its place, nothing half saved."""

import re
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from cotterbook.core.entries import wall_clock_ms
from examples import picture
from web.hands import PATIENCE_MS, PHONE, Hands, by_id, kept_entries
from web.offline import empty_form, hands_without_signal
from web.seven_parts import begin

YEAR_MS = 365 * 24 * 3_600_000
TOO_LONG = "x" * 2001
BELOW_0 = "A figure below 0 cannot be right here."


@pytest.fixture(scope="module")
def offline(chromium: Any, module_server: Any) -> Iterator[Hands]:
    """A phone that has loaded the program once, has no signal, and has begun a strip-down."""
    with hands_without_signal(chromium, module_server) as hands:
        yield hands


@pytest.fixture
def form(offline: Hands) -> Hands:
    """That phone, on a form for taking off that has nothing but a name."""
    empty_form(offline).name("Grab rail")
    return offline


def refused_at(hands: Hands, field: Any, text: str) -> None:
    """Save is refused: said at the top and at the field, which a tap leads to; nothing is logged, the form stays."""
    before, typed = hands.entries(), field.input_value()
    hands.save()
    top = hands.refused()
    expect(top).to_contain_text("Not saved yet. What you typed is still here.")
    expect(top.get_by_role("listitem")).to_have_count(1)
    top.get_by_role("button", name=text).tap()
    expect(field).to_be_focused()
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_have_accessible_description(re.compile(re.escape(text)))
    assert hands.entries() == before
    expect(hands.page.get_by_label("Name of the part")).to_have_value("Grab rail")
    expect(field).to_have_value(typed)


def stays_after_reload(hands: Hands, title: str, says: str) -> None:
    """The form comes back after a reload, with what was refused."""
    hands.reload()
    expect(hands.page.get_by_text("Your unfinished part is here again")).to_be_visible()
    expect(hands.page.get_by_label("Name of the part")).to_have_value("Grab rail")
    expect(hands.page.locator("summary", has_text=title)).to_contain_text(says)


RANGE, WHOLE = "This must lie between 1 and 500.", "This must be a whole number."


@pytest.mark.parametrize(
    ("typed", "text"),
    [("-3", RANGE), ("0", RANGE), ("501", RANGE), ("2.5", WHOLE), ("a few", WHOLE), ("", "Say how many there are.")],
)
def test_a_count_that_cannot_be(form: Hands, typed: str, text: str) -> None:
    row = form.fasteners(1, "M8", "25", "1")
    form.write("How many", typed, row)
    refused_at(form, row.get_by_label("How many", exact=True), text)
    stays_after_reload(form, "Fasteners and bag", f"{typed} × M8×25, Bag 1".strip())


@pytest.mark.parametrize(
    ("typed", "unit", "text"),
    [
        ("-4", "g", BELOW_0),
        ("0", "g", "A mass here is more than 0 and at most 500"),
        ("600", "kg", "A mass here is more than 0 and at most 500"),
        ("1.2.3", "g", "“1.2.3” is no number."),
        ("heavy", "g", "“heavy” is no number."),
        ("NaN", "kg", "“NaN” is no number."),
        ("1e9", "g", "“1e9” is no number."),
    ],
)
def test_a_mass_that_cannot_be(form: Hands, typed: str, unit: str, text: str) -> None:
    reading = form.reading()
    form.weigh(reading, typed, unit, "1")
    refused_at(form, reading.get_by_label("Figure", exact=True), text)
    # What carries letters may carry a unit too: no other is put behind it.
    stays_after_reload(form, "Weight", typed if re.search("[a-zA-Z]", typed) else f"{typed} {unit}")


def test_a_note_that_is_too_long(form: Hands) -> None:
    form.unfold("What becomes of it, note")
    note = form.page.get_by_label("Note", exact=True).first
    note.fill(TOO_LONG)
    refused_at(form, note, "This is longer than 2,000 characters.")
    stays_after_reload(form, "What becomes of it, note", "note")
    form.unfold("What becomes of it, note")
    note.fill(TOO_LONG[:2000])
    form.saved("Grab rail")
    assert form.entries()[-1]["values"]["note"] == TOO_LONG[:2000]


def test_a_picture_that_is_none_and_one_that_is_too_big(form: Hands, tmp_path: Path) -> None:
    none, big = tmp_path / "notes.jpg", tmp_path / "big.jpg"
    none.write_text("screws in the red tin")
    big.write_bytes(picture(1) + bytes(15_000_001))
    gallery = form.page.get_by_label("From the gallery")
    for file, text in (
        (none, "This file is no picture that this phone can read. It was not taken in. Choose another."),
        (big, "The picture is larger than 15 MB. It was not taken in. Choose a smaller one."),
    ):
        gallery.set_input_files(file)
        expect(form.refused()).to_have_text(text)
        expect(form.page.get_by_role("img")).to_have_count(0)
        expect(form.page.get_by_label("Name of the part")).to_have_value("Grab rail")
    before = form.entries()
    form.saved("Grab rail")
    assert [each["kind"] for each in form.entries()[len(before) :]] == ["set"]
    assert form.pictures() == {}


def test_more_bolts_back_than_came_off(form: Hands) -> None:
    page = form.page
    form.name("Tail lamp")
    form.fasteners(2, "M8", "25", "1")
    form.outcome("Goes back", done=False)
    form.saved("Tail lamp")
    form.to("Put back")
    part = page.locator("details.part").filter(has_text="Tail lamp")
    form.unfold("Tail lamp")
    before = form.entries()
    form.write("Out of bag 1 and in", "9", part)
    form.tap("Put 9 back", part)
    expect(form.refused()).to_contain_text("Asked for 9, but there: 2.")
    expect(part.get_by_label("Out of bag 1 and in", exact=True)).to_have_attribute("aria-invalid", "true")
    assert form.entries() == before
    form.write("Out of bag 1 and in", "1", part)
    form.tap("Put 1 back", part)
    expect(part).to_contain_text("1 of 2 on")
    before = form.entries()
    form.write("Tightened", "2", part)
    form.write("Torque applied", "20", part)
    form.tap("2 tightened", part)
    expect(form.refused()).to_contain_text("Asked for 2, but on the machine: 1.")
    assert form.entries() == before


@pytest.mark.parametrize("part", ["01900000-0000-7000-8000-000000000001", "nonsense"])
def test_a_part_that_is_not_there(offline: Hands, part: str) -> None:
    offline.open(f"#/strip/{offline.strip}/part/{part}")
    expect(offline.page.get_by_text("This part is not in the log of this phone.")).to_be_visible()
    offline.to("Off")
    expect(offline.page.get_by_role("heading", name="What is off")).to_be_visible()


FILL = """async () => {
  const log = await import('/log.js');
  const letters = (length) => {
    const bytes = crypto.getRandomValues(new Uint8Array(length));
    return Array.from(bytes, (byte) => String.fromCharCode(33 + byte % 90)).join('');
  };
  let length = 65000;
  for (let each = 0; length > 50; each += 1) {
    try {
      await log.putSetting(`ballast ${each}`, letters(length));
    } catch (error) {
      if (error.name !== 'StorageFull') throw error;
      length = Math.floor(length / 4);
    }
  }
}"""
EMPTY = """async () => {
  const { write } = await import('/database.js');
  await write(['settings'], (all) => all.objectStore('settings').delete(IDBKeyRange.bound('ballast', 'ballast z')));
}"""


def test_a_phone_that_is_full_keeps_the_form_and_saves_when_there_is_room(chromium: Any, module_server: Any) -> None:
    context = chromium.new_context(**PHONE)
    page = context.new_page()
    hands = Hands(page, module_server.url)
    # Twice what the program takes. Before the first write: the browser remembers for a while how much room there was.
    context.new_cdp_session(page).send(
        "Storage.overrideQuotaForOrigin", {"origin": module_server.url, "quotaSize": 8_000_000}
    )
    hands.install()
    context.set_offline(True)
    begin(hands)
    hands.name("Grab rail")
    hands.fasteners(2, "M8", "25", "1")
    hands.weigh(hands.reading(), "500", "g", "1")
    hands.until_draft(lambda form: form["readings"] and form["readings"][0]["step"] == "1")
    draft, before = hands.draft(), hands.entries()
    page.evaluate(FILL)
    hands.save()
    expect(hands.refused()).to_contain_text("This phone's storage is full. This was not saved;")
    assert hands.entries() == before, "all or none"
    assert hands.draft() == draft
    expect(page.get_by_label("Name of the part")).to_have_value("Grab rail")
    page.evaluate(EMPTY)
    hands.saved("Grab rail")
    assert [each["kind"] for each in hands.entries()[len(before) :]] == ["set", "set", "set", "move", "weigh"]
    context.close()


def test_the_pc_away_and_back(chromium: Any, server: Any) -> None:
    context = chromium.new_context(**PHONE)
    hands = Hands(context.new_page(), server.url)
    hands.install()
    strip = begin(hands)
    server.stop()
    hands.name("Grab rail")
    hands.saved("Grab rail")
    expect(hands.status()).to_contain_text("1 not sent yet: the PC is not in reach.", timeout=PATIENCE_MS)
    hands.to("Sending")
    expect(hands.page.get_by_text("The PC does not answer. Everything is kept on this phone")).to_be_visible()
    expect(hands.sum("Entries not sent")).to_have_text("1")
    hands.reload()
    server.start()
    hands.tap("Send now")
    hands.all_sent()
    assert by_id(kept_entries(server.folder, strip)) == by_id(hands.entries())
    context.close()


A_YEAR_AHEAD = f"const real = Date.now.bind(Date); Date.now = () => real() + {YEAR_MS};"


def test_a_clock_a_year_ahead_is_said_and_loses_nothing(chromium: Any, server: Any) -> None:
    # The worker that makes the ids has a clock of its own, and only without a service worker can a test reach it.
    wrong = chromium.new_context(**PHONE, service_workers="block")
    wrong.add_init_script(A_YEAR_AHEAD)
    wrong.route(
        "**/core-worker.js",
        lambda route: route.fulfill(response=(real := route.fetch()), body=A_YEAR_AHEAD + real.text()),
    )
    right = chromium.new_context(**PHONE)
    ahead, other = (Hands(context.new_page(), server.url) for context in (wrong, right))
    ahead.open()
    strip = begin(ahead)
    ahead.name("Grab rail")
    ahead.saved("Grab rail")
    now_ms = time.time_ns() // 1_000_000
    assert all(wall_clock_ms(entry["id"]) > now_ms + YEAR_MS / 2 for entry in ahead.entries())
    ahead.all_sent()
    expect(ahead.page.get_by_text("This phone's clock is")).to_contain_text("ahead of the PC's. Nothing is lost;")
    assert by_id(kept_entries(server.folder, strip)) == by_id(ahead.entries())
    # What is written after it wins, though its writer's clock is a year behind.
    other.install()
    other.open(f"#/strip/{strip}/off")
    other.to_part("Grab rail")
    other.tap("Change: Name")
    other.write("Name", "Rear rail")
    other.tap("Save")
    other.answer("Your name", "Bram", "That’s me")
    expect(other.page.get_by_role("heading", level=1)).to_have_text("Rear rail")
    other.all_sent()
    expect(other.page.get_by_text("This phone's clock is")).to_have_count(0)
    ahead.tap("Send now")
    ahead.to_part("Rear rail")
    other.to_part("Rear rail")
    assert ahead.exact() == other.exact()
    wrong.close()
    right.close()
