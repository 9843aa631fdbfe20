"""A phone that fills up: it is told early, pictures stop first, entries go on, and what is unsent is never dropped."""

import hashlib

import pytest
from playwright.sync_api import expect

from examples import photo_entry, picture
from web.hands import Hands
from web.offline import hands_without_signal
from web.phone import entry

# Its name alone: an answer that was taken from there would be held until it is read.
KEPT = "(await (await caches.open('cotterbook-core')).keys()).length"
NOISE = """const noise = (size) => {
    const bytes = new Uint8Array(size);
    for (let at = 0; at < size; at += 65536) crypto.getRandomValues(bytes.subarray(at, Math.min(size, at + 65536)));
    return bytes.buffer;
};"""
PUT = f"""{NOISE}
    const hash = (number) => String(number).padStart(64, '0');
    for (let number = 0; number < 60; number += 1) {{
        try {{
            await m.log.addPhoto({{sha256: hash(number), bytes: noise(1_000_000), type: 'image/jpeg', width: 1, height: 1}});
        }} catch (error) {{
            return {{number, name: error.name, said: m.words.t(error.sentence)}};
        }}
    }}
    return null;"""  # noqa: E501


@pytest.mark.parametrize(
    ("used", "quota", "percent", "tight", "pictures"),
    [
        (0, 1_000_000_000, 0, False, True), (799_999_999, 1_000_000_000, 79, False, True),
        (800_000_000, 1_000_000_000, 80, True, True), (980_000_000, 1_000_000_000, 98, True, True),
        # The reserve is 20 MB of a large quota, and a twentieth of a small one.
        (980_000_001, 1_000_000_000, 98, True, False), (95_000_000, 100_000_000, 95, True, True),
        (95_000_001, 100_000_000, 95, True, False), (120, 100, 120, True, False),
        (None, None, None, False, True), (5, None, None, False, True), (5, 0, None, False, True),
    ],
)  # fmt: skip
def test_where_the_limits_lie(room_in, used, quota, percent, tight, pictures):
    assert room_in(used, quota) == {"percent": percent, "tight": tight, "pictures": pictures}


@pytest.fixture(scope="module")
def room_in(chromium, module_server):
    from web.phone import Phone

    phone = Phone(chromium, module_server.url)
    tab = phone.tab()
    yield lambda used, quota: tab.run(
        "return (await import('/room.js')).roomIn({used_bytes: a[0], quota_bytes: a[1]})", [used, quota])
    phone.close()


def test_pictures_stop_before_entries_do(phone):
    """The browser itself refuses, as a full phone does."""
    tab = phone.tab()
    phone.quota(tab, 40_000_000)
    tab.run("await m.shop.ready(); await m.shop.setPerson('Ann')")
    strip = tab.run("return (await m.shop.act('begin_strip', {name: 'Runabout', machine_name: 'Marlwick'})).strip")
    tab.run("await m.shop.view(a, 'strip')", strip)
    tab.until(KEPT)
    stopped = tab.run(PUT)
    assert stopped and stopped["name"] == "PhotoRefused" and stopped["number"] > 3
    assert "room left for entries only" in stopped["said"] and "Sending" in stopped["said"]
    assert tab.run(f"return {KEPT}"), "a picture must not take the room that entries are to have"
    for batch in range(10):
        notes = [hashlib.sha256(bytes([batch, n])).hexdigest() * 25 for n in range(50)]
        tab.run("await m.log.addEntries(a)", [
            entry(batch * 50 + n, values={"note": note}) for n, note in enumerate(notes)
        ])
    assert tab.run("return (await m.log.counts()).unsent") > 500
    held = tab.run("return (await (await import('/carried.js')).picturesHere()).all.size")
    assert held == stopped["number"], "no unsent picture may be dropped for room"


# Browsers of this family add the same to whatever is used and say that this is their quota; others say what is true.
SAYS = """(() => { globalThis.told = %s; navigator.storage.estimate = async () => globalThis.told; })()"""


@pytest.fixture
def hands(chromium, server):
    with hands_without_signal(chromium, server) as hands:
        yield hands


def says(hands: Hands, usage, quota):
    hands.page.evaluate(SAYS % f"{{usage: {usage}, quota: {quota}}}")


def test_a_nearly_full_phone_is_told_where_pictures_are_taken_and_on_sending(hands, tmp_path):
    says(hands, 82, 100)
    hands.to("Off")
    hands.to("Take off")
    expect(hands.page.get_by_text("storage is 82 % full".replace(" %", "\u00a0%"))).to_be_visible()
    hands.to("Sending")
    expect(hands.page.get_by_text("82\u00a0% full. Send to the PC and free room")).to_be_visible()
    says(hands, 999_999_000, 1_000_000_000)
    hands.to("Take off")
    expect(hands.page.get_by_text("room left for entries only, not for photos.")).to_be_visible()
    hands.name("Seat")
    hands.page.get_by_label("Take a photo").set_input_files(
        {"name": "seat.jpg", "mimeType": "image/jpeg", "buffer": picture(1, 64)})
    expect(hands.refused()).to_contain_text("The picture was not taken in; everything saved is still here.")
    hands.saved("Seat")
    hands.to("Sending")
    expect(hands.page.get_by_text("Photos are not taken in any more, entries still are.")).to_be_visible()
    says(hands, 10, 100)
    hands.to("Take off")
    expect(hands.page.get_by_label("Name of the part")).to_be_visible()
    expect(hands.page.get_by_text("Free room on Sending.")).to_have_count(0)


def test_photos_that_the_pc_has_go_by_a_persons_choice_and_are_seen_again(hands, server):
    hands.name("Seat")
    hands.page.get_by_label("Take a photo").set_input_files(
        {"name": "seat.jpg", "mimeType": "image/jpeg", "buffer": picture(1, 64)})
    expect(hands.page.get_by_role("img", name="Photo 1")).to_be_visible()
    hands.saved("Seat")
    (sha256,) = hands.pictures()
    hands.to("Sending")
    expect(hands.page.get_by_role("button", name="Free room")).to_have_count(0)
    hands.page.context.set_offline(False)
    hands.tap("Send now")
    hands.all_sent()
    expect(hands.sum("Photos here that the PC has")).to_have_text("1")
    # Away from the PC nothing goes: it has to say first that it has them.
    hands.page.context.set_offline(True)
    hands.tap("Free room")
    hands.tap("Free room", hands.page.get_by_role("dialog"))
    expect(hands.status()).to_contain_text("The PC does not answer.")
    assert hands.page.evaluate("async (a) => Boolean(await (await import('/log.js')).photo(a))", sha256)
    hands.page.context.set_offline(False)
    hands.tap("Free room")
    hands.tap("Free room", hands.page.get_by_role("dialog"))
    expect(hands.status()).to_contain_text("Photos let go: 1.")
    expect(hands.page.get_by_role("button", name="Free room")).to_have_count(0)
    assert not hands.page.evaluate("async (a) => Boolean(await (await import('/log.js')).photo(a))", sha256)
    hands.reload()
    hands.open(f"#/strip/{hands.strip}/off")
    hands.to_part("Seat")
    picture_shown = hands.page.get_by_role("img").first
    expect(picture_shown).to_have_js_property("naturalWidth", 64)
    assert sha256 in picture_shown.get_attribute("src")


def test_a_photo_that_the_pc_lost_meanwhile_stays_and_is_sent_again(phone, server):
    tab, data = phone.tab(), picture(1, 64)
    named = photo_entry(1, data)
    tab.run(
        """await m.log.addPhoto({sha256: a[0].sha256, bytes: Uint8Array.from(a[1]).buffer, type: 'image/jpeg',
                                 width: 64, height: 64});
        await m.log.addEntries([a[0]]);
        await m.sync.sendNow();""", [named, list(data)])
    tab.until("(await m.log.sentPhotos()).length === 1")
    (kept,) = server.folder.rglob(named["sha256"] + ".jpg")
    kept.unlink()
    assert tab.run("return (await import('/free-room.js')).letPicturesGo()") == {"gone": 0, "lacking": 1}
    assert tab.run("return m.log.unsentPhotos(10)") == [named["sha256"]]
    tab.run("await m.sync.sendNow()")
    tab.until("(await m.log.sentPhotos()).length === 1")
    assert kept.read_bytes() == data
    assert tab.run("return (await import('/free-room.js')).letPicturesGo()") == {"gone": 1, "lacking": 0}
    assert tab.run("return m.log.photo(a)", named["sha256"]) is None


def test_only_what_the_pc_acknowledged_can_be_let_go(phone):
    tab = phone.tab()
    tab.run(
        f"""{NOISE} for (const name of ["aa", "bb", "cc"]) {{
            await m.log.addPhoto({{sha256: name, bytes: noise(9), type: "image/jpeg", width: 1, height: 1}});
        }}
        await m.log.photosSent(["aa"]);
        await m.log.photoRefused("cc", {{code: "no"}});""")
    assert tab.run("return m.log.dropSentPhotos(['aa', 'bb', 'cc', 'dd'])") == 1
    kept = "return Promise.all(['aa', 'bb', 'cc'].map(async (name) => Boolean(await m.log.photo(name))))"
    assert tab.run(kept) == [False, True, True]
