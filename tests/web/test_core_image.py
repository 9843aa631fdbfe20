"""The core kept as it stands: a start goes on from there, and whatever is wrong with what was kept, nothing is."""

from collections.abc import Iterator
from typing import Any

import pytest

from bench.fold import long_log
from web.phone import Phone, Tab, entry, uuid

VIEWS = ("strip", "off", "back", "statement", "balance", "weigh_in", "gear", "exact")
KEPT = "(await caches.open('cotterbook-core')).match('/core-image')"
# Change what is kept: a function body over `bytes` and `about`.
CHANGE = """const cache = await caches.open('cotterbook-core');
    const answer = await cache.match('/core-image');
    const about = JSON.parse(decodeURIComponent(answer.headers.get('X-About')));
    const bytes = new Uint8Array(await answer.arrayBuffer());
    %s
    const headers = {'X-About': encodeURIComponent(JSON.stringify(about))};
    await cache.put('/core-image', new Response(bytes, {headers}));"""


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Phone]:
    phone = Phone(chromium, module_server.url)
    yield phone
    phone.close()


FILL = "await m.log.putSetting('who', 'Ann'); await m.log.receive(a[0].strip, a, a.length)"


def fill(phone: Phone, entries: list[dict[str, Any]]) -> tuple[Tab, str]:
    """A tab whose phone has this log; its clock is the test's."""
    tab = phone.tab(before=lambda page: page.clock.install())
    tab.run(FILL, entries)
    return tab, entries[0]["strip"]


def shown(tab: Tab, strip: str) -> dict[str, Any]:
    """Everything that the screens show of a strip-down."""
    return {view: tab.run("await m.shop.ready(); return m.shop.view(a[0], a[1])", [strip, view]) for view in VIEWS}


def keep(tab: Tab) -> None:
    """Nobody asks anything for a while, and the core is kept."""
    tab.page.clock.run_for(5_001)
    tab.until(KEPT)


def start_again(tab: Tab) -> Any:
    """Start the program anew: what the core's start says that it holds; None if it began from nothing."""
    tab.reload()
    return tab.run("await m.shop.ready(); return m.core.began()")


def fresh(tab: Tab, strip: str) -> dict[str, Any]:
    """What the screens show when everything is read and folded anew."""
    tab.run("await caches.delete('cotterbook-core')")
    assert start_again(tab) is None
    return shown(tab, strip)


def test_a_start_goes_on_from_there_and_takes_in_what_has_come_since(phone: Phone) -> None:
    entries = long_log(300)[:300]
    tab, strip = fill(phone, entries[:250])
    before = shown(tab, strip)
    keep(tab)
    assert start_again(tab) == [[strip, 250, 250]]
    assert shown(tab, strip) == before
    tab.run("await m.log.receive(a[0].strip, a, 300)", entries[250:])
    assert start_again(tab) == [[strip, 250, 250]]
    after = shown(tab, strip)
    assert after["strip"]["counts"] != before["strip"]["counts"]
    assert after == fresh(tab, strip)


def test_it_works_on_as_any_other(phone: Phone) -> None:
    """Acts, refusals and Python's own errors, and an image of a core that began from an image."""
    tab, strip = fill(phone, long_log(250)[:250])
    shown(tab, strip)
    for number in range(3):
        keep(tab)
        assert start_again(tab) is not None
        tab.run("await m.shop.act('take_off', {strip: a[0], name: a[1]})", [strip, f"Left mirror {number}"])
        refused = tab.fails("m.shop.act('take_off', {strip: a, name: ''})", strip)
        assert refused["name"] == "CoreProblems"
        # So much more has come that the next one is worth keeping.
        notes = [entry(1000 * number + n, thing=uuid(7000 + n), type="item", values={"text": "x"}) for n in range(250)]
        tab.run("await m.log.receive(a[0], a[1], 1)", [strip, [each | {"strip": strip} for each in notes]])
        tab.run("await caches.delete('cotterbook-core')")
        shown(tab, strip)
    keep(tab)
    assert start_again(tab) is not None
    kept = shown(tab, strip)
    assert kept["strip"]["counts"]["parts"] == shown(tab, strip)["strip"]["counts"]["parts"]
    assert kept == fresh(tab, strip)


def test_a_memory_that_has_grown_is_kept_whole(phone: Phone) -> None:
    """16 MB are there from the start; these notes take more."""
    notes = [entry(n, thing=uuid(9000 + n), type="item", values={"text": "long " * 390}) for n in range(1, 6001)]
    tab, strip = fill(phone, [entry(0, values={"name": "Old single"}), *notes])
    before = tab.run("await m.shop.ready(); return m.shop.view(a, 'strip')", strip)
    keep(tab)
    about = f"JSON.parse(decodeURIComponent((await {KEPT}).headers.get('X-About')))"
    assert tab.run(f"return ({about}).pages") * 4096 > 24_000_000
    assert start_again(tab) == [[strip, 6001, 6001]]
    assert tab.run("return m.shop.view(a, 'strip')", strip) == before
    tab.run("await m.shop.act('take_off', {strip: a, name: 'Seat'})", strip)
    assert tab.run("return (await m.shop.view(a, 'strip')).counts.parts", strip) == before["counts"]["parts"] + 1


def test_a_log_that_has_lost_an_entry_since_is_folded_anew(phone: Phone) -> None:
    entries = long_log(250)[:250]
    tab, strip = fill(phone, entries)
    before = shown(tab, strip)
    keep(tab)
    # In another tab, of which this one would hear, nothing runs now: the log alone knows.
    tab.run(
        """const database = await (await import('/vendor/idb-8.0.4.mjs')).openDB('cotterbook');
        await database.delete('entries', a); database.close();""", len(entries))
    assert start_again(tab) == [[strip, 250, 250]]
    after = shown(tab, strip)
    assert after != before
    assert after == fresh(tab, strip)


def test_a_log_that_has_lost_all_of_a_strip_down_leaves_nothing_of_it_in_the_next_image(phone: Phone) -> None:
    """What the core was told to drop it must not be said to hold, whether or not anything is folded after that."""
    tab, strip = fill(phone, long_log(250)[:250])
    shown(tab, strip)
    keep(tab)
    tab.run(
        """const database = await (await import('/vendor/idb-8.0.4.mjs')).openDB('cotterbook');
        await database.clear('entries'); database.close();""")
    assert start_again(tab) == [[strip, 250, 250]]
    assert tab.fails("m.shop.ready().then(() => m.shop.view(a, 'strip'))", strip)["name"] == "CoreProblems"
    other = uuid(123_456)
    tab.run(FILL, [each | {"strip": other} for each in long_log(250)[:250]])
    tab.run("await caches.delete('cotterbook-core'); await m.shop.view(a, 'strip')", other)
    keep(tab)
    assert start_again(tab) == [[other, 500, 250]]


def test_what_a_person_let_go_is_in_no_image(phone: Phone) -> None:
    tab, strip = fill(phone, long_log(250)[:250])
    shown(tab, strip)
    last = tab.run("return (await m.log.entriesOf(a)).at(-1).id", strip)
    keep(tab)
    refusal = {"id": last, "code": "no", "field": "", "text": "No.", "values": {}}
    tab.run("await m.log.settle([], [a]); await m.log.forget(a.id)", refusal)
    tab.until(f"!(await {KEPT})")


@pytest.mark.parametrize(
    "change",
    [
        "bytes[bytes.length - 100] ^= 1;",
        "bytes[5000] ^= 128;",
        "about.key = 'of other files';",
        "about.sha256 = '';",
        "delete about.holds; about.key = undefined;",
    ],
)
def test_an_image_that_is_torn_or_of_other_files_is_left(phone: Phone, change: str) -> None:
    tab, strip = fill(phone, long_log(250)[:250])
    before = shown(tab, strip)
    keep(tab)
    tab.run(CHANGE % change)
    assert start_again(tab) is None
    assert shown(tab, strip) == before
    tab.run("await caches.delete('cotterbook-core')")
    keep(tab)
    assert start_again(tab) == [[strip, 250, 250]]


def test_other_files_of_the_core_are_read_anew(phone: Phone) -> None:
    tab, strip = fill(phone, long_log(250)[:250])
    before = shown(tab, strip)
    keep(tab)

    def newer(route: Any) -> None:
        modules = route.fetch().json()
        modules["core/phone.py"] += "\n# newer\n"
        route.fulfill(json=modules)

    phone.context.route("**/core.json", newer)
    assert start_again(tab) is None
    assert shown(tab, strip) == before


def test_a_core_that_fails_is_not_started_from_the_same_image_again(phone: Phone) -> None:
    tab, strip = fill(phone, long_log(250)[:250])
    before = shown(tab, strip)
    keep(tab)
    assert start_again(tab) is not None
    assert tab.fails("m.core.call('load', {strip: 'x'})")["name"] == "CoreFault"
    tab.until(f"!(await {KEPT})")
    assert start_again(tab) is None
    assert shown(tab, strip) == before


NOISE = """const noise = () => {
    // The browser would press nothing but noughts together.
    const bytes = new Uint8Array(1_000_000);
    for (let i = 0; i < bytes.length; i += 50_000) crypto.getRandomValues(bytes.subarray(i, i + 50_000));
    return bytes.buffer;
};
const names = [];
const add = async () => {
    const sha256 = String(names.length).padStart(64, "0");
    await m.log.addPhoto({sha256, bytes: noise(), type: "image/jpeg", width: 1, height: 1});
    names.push(sha256);
};
"""


@pytest.mark.parametrize("quota_bytes", [12_000_000, 45_000_000])
def test_a_full_phone_keeps_no_image_and_loses_nothing_that_is_not_sent(phone: Phone, quota_bytes: int) -> None:
    """One that is nearly full makes none; one that fills up later gives it up."""
    tab = phone.tab(before=lambda page: page.clock.install())
    phone.quota(tab, quota_bytes)
    entries = long_log(250)[:250]
    tab.run(FILL, entries)
    before = shown(tab, entries[0]["strip"])
    tab.page.clock.run_for(5_001)
    if quota_bytes > 40_000_000:
        tab.until(KEPT)
    pictures = tab.run(
        NOISE + """const until = async (name, put) => {
            for (let count = 0; count < 100; count += 1) {
                try { await put(count); } catch (error) { if (error.name === name) return; throw error; }
            }
            throw new Error("the phone does not fill up");
        };
        await until("PhotoRefused", add);
        // Pictures leave room for what is typed and saved; that takes it, to the last.
        await until("StorageFull", (count) => m.log.putDraft(`tally/${count}`, { noise: noise() }));
        return (await Promise.all(names.map(m.log.photo))).map((each) => each?.bytes.byteLength);"""
    )
    assert len(pictures) > 1 and set(pictures) == {1_000_000}
    assert not tab.run(f"return Boolean(await {KEPT})")
    assert start_again(tab) is None
    assert shown(tab, entries[0]["strip"]) == before
