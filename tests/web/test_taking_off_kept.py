"""The form for taking off and its pictures: what is kept, what comes back, and a phone without room or arithmetic."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from examples import picture
from screens import open_screen
from web.taking_off import (
    BEGIN,
    core_away,
    name,
    part_fields,
    save,
    taking_off,
    unfold,
    until_kept,
    until_photos,
)


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone on the screen for taking off: (page, strip)."""
    with taking_off(chromium, module_server, viewport={"width": 360, "height": 740}, has_touch=True) as phone:
        yield phone


@pytest.fixture
def no_worker_phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """As `phone`, but what the page fetches can be held back: (page, strip)."""
    with taking_off(chromium, module_server, service_workers="block") as phone:
        yield phone


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
  await log.photoRefused(sha256, { code: 'no', text: 'The PC had a bad day.', values: {} });
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
    expect(page.get_by_role("alert")).to_contain_text("This phone has room left for entries only.", timeout=20_000)
    expect(name(page)).to_have_value("Seat")
    save(page)
    expect(page.get_by_role("heading", name="Saved: Seat")).to_be_visible()
    context.close()


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
