"""Taking off, by tapping through the form: what is refused, kept, restored and offered next."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from examples import picture
from screens import open_screen

BEGIN = """async (who) => {
  const shop = await import('/shop.js');
  await shop.setPerson('Ann');
  const { strip } = await shop.act('begin_strip', { name: 'Evening work', machine_name: 'Test hack' });
  await shop.setPerson(who);
  return strip;
}"""
ENTRIES = "async (strip) => (await (await import('/log.js')).entriesOf(strip)).map((row) => row.entry)"


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone on the screen for taking off: (page, strip)."""
    context = chromium.new_context(viewport={"width": 360, "height": 740}, has_touch=True)
    page = context.new_page()
    page.goto(module_server.url + "/")
    expect(page.locator("h1")).to_be_visible()
    strip = page.evaluate(BEGIN, "Ann")
    open_screen(page, f"#/strip/{strip}/take_off")
    yield page, strip
    context.close()


def name(page: Any) -> Any:
    return page.get_by_label("Name of the part")


def save(page: Any) -> None:
    page.get_by_role("button", name="Save", exact=True).click()


def unfold(page: Any, title: str) -> None:
    page.locator("summary", has_text=title).first.click()


def entries(phone: Any) -> list[dict[str, Any]]:
    page, strip = phone
    return page.evaluate(ENTRIES, strip)


def part_fields(phone: Any) -> list[dict[str, Any]]:
    return [each["values"] for each in entries(phone) if each["kind"] == "set" and each["type"] == "part"]


def test_a_name_alone_is_enough(phone: Any) -> None:
    page, _ = phone
    name(page).fill("Bracket of ours")
    save(page)
    expect(page.get_by_role("heading", name="Saved: Bracket of ours")).to_be_visible()
    expect(page.get_by_role("status").filter(has_text="Saved: Bracket of ours")).to_be_focused()
    expect(page.locator(".state")).to_contain_text("Saved on this phone.")
    page.get_by_role("button", name="Next part").click()
    expect(name(page)).to_be_focused()
    assert part_fields(phone) == [{"name": "Bracket of ours", "pieces": 1, "off": True}]


def test_without_a_name_it_is_refused_and_leads_to_the_field(phone: Any) -> None:
    page, _ = phone
    unfold(page, "Still to do")
    page.get_by_label("In words").fill("Order a new one")
    save(page)
    summary = page.get_by_role("alert")
    expect(summary).to_contain_text("Not saved yet.")
    expect(summary).to_be_focused()
    expect(name(page)).to_have_attribute("aria-invalid", "true")
    summary.get_by_role("button").click()
    expect(name(page)).to_be_focused()
    expect(page.get_by_label("In words")).to_have_value("Order a new one")
    assert part_fields(phone) == []


def test_a_wrong_figure_is_shown_at_its_field_even_when_folded(phone: Any) -> None:
    page, _ = phone
    name(page).fill("Horn")
    unfold(page, "Weight")
    page.get_by_label("Figure", exact=True).fill("1.2.3")
    unfold(page, "Weight")
    expect(page.get_by_label("Figure", exact=True)).to_be_hidden()
    save(page)
    page.get_by_role("alert").get_by_role("button").click()
    figure = page.get_by_label("Figure", exact=True)
    expect(figure).to_be_focused()
    expect(figure).to_have_attribute("aria-invalid", "true")
    figure.fill("410")
    save(page)
    expect(page.get_by_role("heading", name="Saved: Horn")).to_be_visible()
    assert [each["grams"] for each in entries(phone) if each["kind"] == "weigh"] == [410]


def test_picking_an_ordinary_part_brings_its_place_side_and_pieces(phone: Any) -> None:
    page, _ = phone
    name(page).fill("mirr")
    page.get_by_role("button", name="Mirrors").click()
    expect(name(page)).to_have_value("Mirrors")
    expect(page.get_by_label("Both sides")).to_be_checked()
    expect(page.get_by_label("Pieces", exact=True)).to_have_value("2")
    expect(page.get_by_label("Place on the machine")).to_have_value("handlebar")


def test_a_draft_outlives_a_reload_until_somebody_starts_afresh(phone: Any) -> None:
    page, _ = phone
    name(page).fill("Half a headlamp")
    unfold(page, "Fasteners and bag")
    for _press in range(3):
        page.get_by_role("button", name="One more: How many").click()
    # The draft is written after each change; the page may go once the last one lies in the store.
    page.evaluate(
        """async () => { const log = await import('/log.js');
          const kept = async () => (await log.drafts())[0]?.value.groups[0]?.count;
          while (await kept() !== 3) await new Promise((on) => setTimeout(on, 20)); }"""
    )
    page.reload()
    expect(page.get_by_text("Your unfinished part is here again")).to_be_visible()
    expect(name(page)).to_have_value("Half a headlamp")
    expect(page.locator("summary", has_text="Fasteners and bag")).to_contain_text("3 ×")
    page.get_by_role("button", name="Start afresh").click()
    page.get_by_role("dialog").get_by_role("button", name="Start afresh").click()
    expect(name(page)).to_have_value("")
    page.reload()
    expect(name(page)).to_have_value("")
    expect(page.get_by_text("Your unfinished part is here again")).to_have_count(0)


@pytest.fixture
def no_worker_phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """As `phone`, but what the page fetches can be held back: (page, strip)."""
    context = chromium.new_context(service_workers="block")
    page = context.new_page()
    page.goto(module_server.url + "/")
    expect(page.locator("h1")).to_be_visible()
    strip = page.evaluate(BEGIN, "Ann")
    open_screen(page, f"#/strip/{strip}/take_off")
    yield page, strip
    context.close()


def core_away(page: Any) -> None:
    page.context.route("**/core.json", lambda route: route.fulfill(status=503, body=""))
    page.reload()


def until(page: Any, holds: str, argument: Any = None) -> None:
    """Wait until an async function of the argument gives true; fails after 20 s."""
    page.evaluate(
        f"""async (argument) => {{
          const start = performance.now();
          while (!(await ({holds})(argument))) {{
            if (performance.now() - start > 20000) throw new Error('never came true');
            await new Promise(requestAnimationFrame);
          }}
        }}""",
        argument,
    )


def until_kept(page: Any, *names: str) -> None:
    """Wait until the drafts on the phone are for these parts."""
    until(
        page,
        """async (names) => {
          const drafts = await (await import('/log.js')).drafts();
          return JSON.stringify(drafts.map((draft) => draft.value.name).sort()) === JSON.stringify(names); }""",
        sorted(names),
    )


def until_photos(page: Any, count: int) -> None:
    """Wait until the phone keeps so many photos."""
    until(
        page,
        """async (count) => count === await (await import('/database.js')).read(
          ['photos'], (all) => all.objectStore('photos').count())""",
        count,
    )


def test_parts_saved_while_the_core_is_away_each_go_in_once(no_worker_phone: Any) -> None:
    page, _ = no_worker_phone
    core_away(page)
    for part in ("Horn", "Seat"):
        name(page).fill(part)
        save(page)
        expect(page.get_by_role("heading", name=f"Kept: {part}")).to_be_visible()
        expect(page.get_by_text("Kept on this phone, not yet in the log.")).to_be_visible()
        page.get_by_role("button", name="Next part").click()
        expect(name(page)).to_have_value("")
    name(page).fill("Half a lamp")
    until_kept(page, "Horn", "Seat", "Half a lamp")
    page.context.unroute("**/core.json")
    page.reload()
    expect(name(page)).to_have_value("Half a lamp")
    until_kept(page, "Half a lamp")
    assert [each["name"] for each in part_fields(no_worker_phone)] == ["Horn", "Seat"]


def test_the_form_waits_for_no_core_and_says_that_it_is_away(no_worker_phone: Any) -> None:
    page, _ = no_worker_phone
    held: list[Any] = []
    page.context.route("**/core.json", lambda route: held.append(route))
    page.reload()
    name(page).fill("Horn")
    expect(page.get_by_text("Evening work")).to_be_visible()
    page.context.unroute("**/core.json")
    core_away(page)
    expect(page.get_by_role("alert")).to_contain_text("The arithmetic did not answer.")
    expect(name(page)).to_have_value("Horn")
    page.context.unroute("**/core.json")
    page.get_by_role("button", name="Try again").click()
    expect(page.get_by_role("alert")).to_have_count(0)
    save(page)
    expect(page.get_by_role("heading", name="Saved: Horn")).to_be_visible()


def test_without_lists_of_an_earlier_start_the_trouble_is_shown_and_tried_again(no_worker_phone: Any) -> None:
    page, _ = no_worker_phone
    page.evaluate(
        """async () => (await import('/database.js')).write(['settings'], (all) =>
          all.objectStore('settings').delete(IDBKeyRange.bound('choices/', 'choices/~')))"""
    )
    core_away(page)
    expect(page.get_by_role("alert")).to_contain_text("The arithmetic did not answer.")
    expect(name(page)).to_have_count(0)
    page.context.unroute("**/core.json")
    page.get_by_role("button", name="Try again").click()
    expect(name(page)).to_be_visible()
    expect(page.get_by_role("alert")).to_have_count(0)


def test_a_strip_down_that_nobody_began_has_no_form(phone: Any) -> None:
    page, _ = phone
    page.goto(page.url.split("#")[0] + "#/strip/01900000-0000-7000-8000-000000000001/take_off")
    expect(page.get_by_role("alert")).to_contain_text("This strip-down is not in the log of this phone.")
    expect(name(page)).to_have_count(0)


def test_each_tab_has_a_draft_of_its_own_and_a_closed_one_leaves_its_to_the_next(phone: Any) -> None:
    page, _ = phone
    other = page.context.new_page()
    other.goto(page.url)
    name(page).fill("Horn")
    until_kept(page, "Horn")
    expect(name(other)).to_have_value("")
    name(other).fill("Seat")
    until_kept(page, "Horn", "Seat")
    save(page)
    expect(page.get_by_role("heading", name="Saved: Horn")).to_be_visible()
    other.reload()
    expect(name(other)).to_have_value("Seat")
    third = page.context.new_page()
    third.goto(page.url)
    expect(name(third)).to_have_value("")
    third.close()
    other.close()
    page.reload()
    expect(page.get_by_text("Your unfinished part is here again")).to_be_visible()
    expect(name(page)).to_have_value("Seat")


# A transaction on the drafts that does not end until it is told to, as storage that is slow.
SLOW_STORAGE = """async () => {
  const open = indexedDB.open('cotterbook');
  const base = await new Promise((on) => { open.onsuccess = () => on(open.result); });
  const transaction = base.transaction(['drafts'], 'readwrite');
  const spin = () => { if (!window.letGo) transaction.objectStore('drafts').count().onsuccess = spin; };
  spin();
}"""


def test_start_afresh_clears_the_form_before_the_storage_answers(phone: Any) -> None:
    page, _ = phone
    name(page).fill("Horn")
    until_kept(page, "Horn")
    page.evaluate(SLOW_STORAGE)
    page.get_by_role("button", name="Start afresh").click()
    page.get_by_role("dialog").get_by_role("button", name="Start afresh").click()
    expect(name(page)).to_have_value("")
    page.evaluate("() => { window.letGo = true; }")
    until_kept(page)


def test_a_photo_taken_out_of_the_form_or_started_afresh_is_not_sent(phone: Any) -> None:
    page, _ = phone
    name(page).fill("Seat")
    for number in (1, 2):
        page.get_by_label("From the gallery").set_input_files(
            {"name": "seat.jpg", "mimeType": "image/jpeg", "buffer": picture(number, 64)}
        )
        expect(page.get_by_role("img", name=f"Photo {number}")).to_be_visible()
    until_photos(page, 2)
    page.get_by_role("button", name="Remove photo 1").click()
    until_photos(page, 1)
    page.get_by_role("button", name="Start afresh").click()
    page.get_by_role("dialog").get_by_role("button", name="Start afresh").click()
    until_photos(page, 0)


REFUSED_PHOTO = """async () => {
  const log = await import('/log.js');
  const bytes = new TextEncoder().encode('no picture').buffer;
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  const sha256 = Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
  await log.addPhoto({ sha256, bytes, type: 'image/jpeg', width: 1, height: 1 });
  const { person } = await import('/shop.js');
  const [{ strip }] = await log.strips();
  await log.addEntries([{ id: '01900000-0000-7000-8000-000000000077', strip, kind: 'photo', at: 1760000000000,
    by: '01900000-0000-7000-8000-000000000009', who: person(), thing: strip, sha256, media_type: 'image/jpeg',
    bytes: bytes.byteLength, width: 1, height: 1 }]);
  await log.settlePhotos([sha256], 'refused', { code: 'no', text: 'The PC had a bad day.', values: {} });
  return sha256;
}"""


def test_a_refused_photo_is_tried_again_or_dropped_after_a_question(phone: Any) -> None:
    page, _ = phone
    sha256 = page.evaluate(REFUSED_PHOTO)
    open_screen(page, "#/sending")
    refused = page.locator(".block", has_text="A photo")
    expect(refused).to_contain_text("The PC had a bad day.")
    with page.expect_request("**/api/photos/" + sha256):
        refused.get_by_role("button", name="Try again").click()
    expect(refused).not_to_contain_text("The PC had a bad day.")
    refused.get_by_role("button", name="Drop it").click()
    page.get_by_role("dialog").get_by_role("button", name="Drop it").click()
    expect(refused).to_have_count(0)
    assert page.evaluate("async (sha256) => (await (await import('/log.js')).photo(sha256)) ?? null", sha256) is None


def test_what_the_storage_cannot_keep_is_said_in_the_line_at_the_top(chromium: Any, module_server: Any) -> None:
    context = chromium.new_context()
    page = context.new_page()
    page.goto(module_server.url + "/")
    expect(page.locator("h1")).to_be_visible()
    # A newer version in another tab has taken the storage over.
    page.evaluate("""() => new Promise((on, off) => { const open = indexedDB.open('cotterbook', 99);
      open.onerror = off; open.onsuccess = () => { open.result.close(); on(); }; })""")
    page.get_by_label("Dark, for the night").check()
    expect(page.locator(".state")).to_contain_text("This phone's storage did not answer")
    context.close()


def test_rows_left_untouched_are_not_saved(phone: Any) -> None:
    page, _ = phone
    name(page).fill("Side panel")
    for title in ("Fasteners and bag", "Weight", "Still to do"):
        unfold(page, title)
    save(page)
    expect(page.get_by_role("heading", name="Saved: Side panel")).to_be_visible()
    assert [each["kind"] for each in entries(phone)][2:] == ["set"]


def test_the_other_side_is_one_tap_and_the_next_reading_keeps_unit_and_step(phone: Any) -> None:
    page, _ = phone
    name(page).fill("Side panel")
    page.get_by_label("Left", exact=True).check()
    unfold(page, "Fasteners and bag")
    for _press in range(4):
        page.get_by_role("button", name="One more: How many").click()
    page.get_by_label("Thread", exact=True).fill("M6")
    page.get_by_label("Into which bag").fill("7")
    unfold(page, "Weight")
    page.get_by_label("Figure", exact=True).fill("1,25")
    page.get_by_label("Unit of: Figure").select_option("kg")
    page.get_by_label("Step of the scale").fill("0.005")
    save(page)
    page.get_by_role("button", name="Same again, other side").click()
    expect(page.get_by_role("heading", name="Saved for the other side: Side panel")).to_be_visible()
    assert [each["side"] for each in part_fields(phone)] == ["left", "right"]
    moved = [(each["count"], each["from"], each["to"]) for each in entries(phone) if each["kind"] == "move"]
    assert moved == [(4, "machine", "bag")] * 2
    page.get_by_role("button", name="Next part").click()
    unfold(page, "Weight")
    expect(page.get_by_label("Unit of: Figure")).to_have_value("kg")
    expect(page.get_by_label("Step of the scale")).to_have_value("0.005")
    unfold(page, "Fasteners and bag")
    page.get_by_role("button", name="Bag 8").click()
    expect(page.get_by_label("Into which bag")).to_have_value("8")


def test_a_photo_from_the_gallery_and_a_file_that_is_none(phone: Any, tmp_path: Path) -> None:
    page, _ = phone
    good, bad = tmp_path / "seat.jpg", tmp_path / "notes.jpg"
    good.write_bytes(picture(1, 64))
    bad.write_text("no picture")
    name(page).fill("Seat")
    page.get_by_label("From the gallery").set_input_files(bad)
    expect(page.get_by_role("alert")).to_contain_text("This file is no picture")
    page.get_by_label("Take a photo").set_input_files(good)
    expect(page.get_by_role("img", name="Photo 1")).to_be_visible()
    save(page)
    expect(page.get_by_role("heading", name="Saved: Seat")).to_be_visible()
    assert len([each for each in entries(phone) if each["kind"] == "photo"]) == 1


def test_the_name_of_who_is_working_is_asked_once(chromium: Any, module_server: Any) -> None:
    context = chromium.new_context()
    page = context.new_page()
    page.goto(module_server.url + "/")
    expect(page.locator("h1")).to_be_visible()
    strip = page.evaluate(BEGIN, "")
    open_screen(page, f"#/strip/{strip}/take_off")
    name(page).fill("Horn")
    save(page)
    page.get_by_role("dialog").get_by_label("Your name").fill("Bo")
    page.get_by_role("button", name="That’s me").click()
    expect(page.get_by_role("heading", name="Saved: Horn")).to_be_visible()
    page.get_by_role("button", name="Next part").click()
    name(page).fill("Seat")
    save(page)
    expect(page.get_by_role("heading", name="Saved: Seat")).to_be_visible()
    assert {each["who"] for each in page.evaluate(ENTRIES, strip)[2:]} == {"Bo"}
    context.close()


def test_a_phone_without_room_says_so_and_keeps_the_form(chromium: Any, module_server: Any) -> None:
    context = chromium.new_context(service_workers="block")
    page = context.new_page()
    session = context.new_cdp_session(page)
    # Before the first write: the browser remembers for a while how much room there was.
    session.send("Storage.overrideQuotaForOrigin", {"origin": module_server.url, "quotaSize": 1_000_000})
    page.goto(module_server.url + "/")
    expect(page.locator("h1")).to_be_visible()
    strip = page.evaluate(BEGIN, "Ann")
    open_screen(page, f"#/strip/{strip}/take_off")
    name(page).fill("Seat")
    page.get_by_label("From the gallery").set_input_files(
        {"name": "seat.jpg", "mimeType": "image/jpeg", "buffer": picture(2, 2000)}
    )
    expect(page.get_by_role("alert")).to_contain_text("This phone's storage is full.", timeout=20_000)
    expect(name(page)).to_have_value("Seat")
    save(page)
    expect(page.get_by_role("heading", name="Saved: Seat")).to_be_visible()
    context.close()


def test_every_field_is_reached_by_keyboard_in_reading_order(phone: Any) -> None:
    page, _ = phone
    page.get_by_role("button", name="Read. Put away for this spell").click()
    name(page).focus()
    reached = []
    for _press in range(9):
        page.keyboard.press("Tab")
        reached.append(
            page.evaluate(
                """() => { const at = document.activeElement;
                          return at.labels?.[0]?.innerText.trim() ?? at.ariaLabel ?? at.innerText; }"""
            )
        )
    assert reached == [
        "or an ordinary part", "Take a photo", "From the gallery", "Pieces", "One more: Pieces", "Left",
        "Place on the machine", "Fasteners and bag\nnone yet", "Weight\nnot weighed",
    ]
