"""A phone may hold the last copy of a picture: what makes room, and what the PC says, never takes that away."""

import hashlib
import shutil

import pytest

from examples import photo_entry, picture
from web.phone import Phone, entry, uuid
from web.sending import ALL_SENT, add, states

QUOTA = 30_000_000
NOISE = """const noise = (size) => {
    const bytes = new Uint8Array(size);
    for (let at = 0; at < size; at += 65536) crypto.getRandomValues(bytes.subarray(at, Math.min(size, at + 65536)));
    return bytes.buffer;
};"""
# Until the browser itself refuses: first in large rows, then in small ones.
FILL = NOISE + """
    for (let size = 1_000_000; size > 20; size = Math.floor(size / 4)) {
        for (let n = 0; ; n += 1) {
            try {
                await m.database.write(['settings'], (tr) =>
                    tr.objectStore('settings').put({key: `filling/${size}/${n}`, value: noise(size)}));
            } catch (error) {
                if (error.name !== 'StorageFull') throw error;
                break;
            }
        }
    }"""
SENT_PICTURES = NOISE + """
    for (let number = 0; number < a[0]; number += 1) {
        const sha256 = String(number).padStart(64, '0');
        await m.log.addPhoto({sha256, bytes: noise(a[1]), type: 'image/jpeg', width: 1, height: 1});
        await m.database.write(['settings'], (tr) => tr.objectStore('settings').delete('held/' + sha256));
        await m.log.photosSent([sha256]);
    }"""


class Shown:
    """A phone with a picture that the PC has, and then no room at all."""

    def __init__(self, phone, server):
        self.tab, self.data = phone.tab(), picture(1, 700)
        self.sha256 = hashlib.sha256(self.data).hexdigest()
        self.kept = server.folder / "photos" / f"{self.sha256}.jpg"
        phone.quota(self.tab, 4_000_000)
        self.tab.run(
            "await m.log.addPhoto({...a, bytes: new Uint8Array(a.bytes).buffer})",
            {"sha256": self.sha256, "bytes": list(self.data), "type": "image/jpeg", "width": 700, "height": 700})
        add(self.tab, entry(1), {**photo_entry(2, self.data), "width": 700, "height": 700})
        self.tab.run("await m.sync.sendNow()")
        self.tab.until("m.log.sentPhotos().then((each) => each.length === 1)")
        assert self.kept.read_bytes() == self.data
        self.tab.run(FILL)
        self.kept.write_bytes(self.data[:-2])  # the PC's disk spoils it

    def here(self):
        return self.tab.run("return m.log.photo(a).then((each) => each?.bytes.byteLength ?? 0)", self.sha256)


@pytest.fixture
def shown(phone, server):
    return Shown(phone, server)


def test_a_full_phone_sends_the_picture_again_that_the_pc_lost(shown):
    assert shown.tab.run("return fetch('/api/photos/' + a).then(({status}) => status)", shown.sha256) == 404
    shown.tab.run("await m.sync.sendNow()")
    assert shown.kept.read_bytes() == shown.data


def test_free_room_lets_no_picture_go_that_the_pc_turns_out_to_lack(shown):
    assert shown.tab.run("return (await import('/free-room.js')).letPicturesGo()") == {"gone": 0, "lacking": 1}
    assert shown.here() == len(shown.data)
    assert shown.tab.run("return m.log.unsentPhotos(9)") == [shown.sha256]
    shown.tab.run("await m.sync.sendNow()")
    assert shown.kept.read_bytes() == shown.data


def test_what_comes_in_the_same_answer_does_not_push_it_out(shown, second_phone):
    """The PC wants the picture, and gives what another phone wrote: there is room for one of them only."""
    other = second_phone.tab()
    add(other, *(entry(number, values={"note": hashlib.sha512(bytes([number])).hexdigest() * 15})
                 for number in range(10, 60)))
    other.run("await m.sync.sendNow()")
    assert shown.tab.run("return fetch('/api/photos/' + a).then(({status}) => status)", shown.sha256) == 404
    shown.tab.run("await m.sync.sendNow()")
    assert shown.here() == len(shown.data)


def test_a_picture_drops_none_that_the_pc_has_where_the_browser_says_no_quota(phone):
    tab = phone.tab()
    phone.quota(tab, QUOTA)
    tab.run("navigator.storage.estimate = async () => ({})")
    tab.run(SENT_PICTURES, [9, 1_000_000])
    tab.run(FILL)
    failure = tab.fails(
        "(() => { const bytes = new Uint8Array(1e6); for (let at = 0; at < 1e6; at += 50_000)"
        " crypto.getRandomValues(bytes.subarray(at, at + 50_000)); return m.log.addPhoto({sha256: 'f'.repeat(64),"
        " bytes: bytes.buffer, type: 'image/jpeg', width: 1, height: 1}); })()")
    assert failure["name"] == "PhotoRefused" and "room left for entries only" in failure["text"]
    assert tab.run("return m.log.countSentPhotos()") == 9


def test_a_phone_without_room_for_a_mark_lets_the_picture_go_that_the_pc_just_took(shown):
    """Otherwise it would send the first few for ever, and never the others."""
    shown.kept.write_bytes(shown.data)
    shown.tab.run("await m.log.unsendPhotos([a])", shown.sha256)
    shown.tab.run(FILL)
    shown.tab.run("await m.sync.sendNow()")
    shown.tab.until(ALL_SENT)
    assert shown.tab.run("return m.log.counts()")["unsent_photos"] == 0


def keep(tab, number, data):
    """A picture that an entry names; its hash."""
    sha256 = hashlib.sha256(data).hexdigest()
    tab.run("await m.log.addPhoto({...a, bytes: new Uint8Array(a.bytes).buffer})",
            {"sha256": sha256, "bytes": list(data), "type": "image/jpeg", "width": 24, "height": 24})
    add(tab, photo_entry(number, data))
    return sha256


def test_what_is_said_of_a_picture_goes_with_it(shown):
    """Two tabs send the same picture, and the phone is full before the second of them hears that it arrived."""
    shown.kept.write_bytes(shown.data)
    shown.tab.run("await m.log.photosSent([a])", shown.sha256)
    assert shown.here() == 0 and shown.tab.run("return m.log.countSentPhotos()") == 0
    shown.tab.run("await m.sync.sendNow()")
    shown.tab.until(ALL_SENT)


def test_what_an_older_program_left_of_a_picture_that_went_hides_no_other(phone, server):
    tab = phone.tab()
    again, new = picture(1), picture(2)
    left = [hashlib.sha256(again).hexdigest(), *("a" * 62 + f"{number:02}" for number in range(5))]
    tab.run("await m.database.write(['photo_states'], (tr) => Promise.all(a.map((sha256) =>"
            " tr.objectStore('photo_states').put({sha256, state: 'sent'}))))", left)
    assert tab.run("return m.log.counts()")["unsent_photos"] == 0
    hashes = [keep(tab, 1, again), keep(tab, 2, new)]
    assert tab.run("return m.log.counts()")["unsent_photos"] == 2
    tab.run("await m.sync.sendNow()")
    tab.until(ALL_SENT)
    assert all((server.folder / "photos" / f"{sha256}.jpg").exists() for sha256 in hashes)
    # It goes at the next start, and what is said of pictures that are here stays.
    tab.run("await m.shop.ready()")
    tab.until("m.log.countSentPhotos().then((each) => each === 2)")
    assert sorted(tab.run("return m.log.sentPhotos()")) == sorted(hashes)


def test_a_phone_full_of_sent_pictures_sends_all_again_to_a_pc_with_other_data(phone, server):
    tab = phone.tab()
    phone.quota(tab, QUOTA)
    add(tab, *(entry(number) for number in range(1200)))
    tab.run("await m.sync.sendNow()")
    tab.until(ALL_SENT)
    tab.run(SENT_PICTURES, [18, 1_000_000])
    server.stop()
    shutil.move(server.folder, server.folder.with_name("before"))
    server.start()
    add(tab, entry(2000))
    tab.run("await m.sync.sendNow()")
    assert set(states(tab).values()) == {"sent"} and len(states(tab)) == 1201
    [journal] = (server.folder / "strips").glob("*.jsonl")
    assert len(journal.read_text("utf-8").splitlines()) == 1202
    # The pictures are no JPEG at all, so this PC refuses each of them: it was asked for every one.
    tab.until("m.log.refusedPhotos().then((each) => each.length === 18)")
    assert tab.run("return m.log.countSentPhotos()") == tab.run("return m.log.counts()")["unsent_photos"] == 0


@pytest.mark.parametrize("again", ["m.log.sendEverythingAgain(a[0])", "m.log.sendAllAgain(a[1])"])
def test_sending_all_again_reads_and_writes_no_picture(phone, again):
    tab = phone.tab()
    tab.run("await m.log.receive(a[0], a[1], 3)", [uuid(1), [entry(number) for number in range(1100)]])
    add(tab, entry(1101, strip=2))
    tab.run("await m.log.settle([a], [])", entry(1101)["id"])
    tab.run(SENT_PICTURES, [3, 9])
    tab.run("""
        globalThis.touched = [];
        for (const name of ['get', 'getAll', 'put', 'openCursor']) {
            const real = IDBObjectStore.prototype[name];
            IDBObjectStore.prototype[name] = function (...given) {
                touched.push(this.name);
                return real.apply(this, given);
            };
        }""")
    tab.run(f"await {again}", [uuid(77), uuid(1)])
    assert "photos" not in tab.run("return touched")
    assert tab.run("return m.log.counts()") == {
        "unsent": 1101 if "Everything" in again else 1100, "refused": 0, "unsent_photos": 3}
    assert set(states(tab).values()) == {"unsent"}
    assert [line["cursor"] for line in tab.run("return m.log.strips()")] == [0]


def test_who_only_looks_on_keeps_what_the_pc_lost_until_another_brings_it(chromium, server):
    data = picture(3)
    sha256 = hashlib.sha256(data).hexdigest()
    phones = [Phone(chromium, server.url) for _ in range(2)]
    tabs = [phone.tab() for phone in phones]
    for tab in tabs:
        tab.run(
            "await m.log.addPhoto({...a, bytes: new Uint8Array(a.bytes).buffer})",
            {"sha256": sha256, "bytes": list(data), "type": "image/jpeg", "width": 24, "height": 24})
        add(tab, photo_entry(2, data))
        tab.run("await m.sync.sendNow()")
        tab.until("m.log.countSentPhotos()")
    onlooker, other = tabs
    kept = server.folder / "photos" / f"{sha256}.jpg"
    kept.write_bytes(data[:-2])
    assert other.run("return fetch('/api/photos/' + a).then(({status}) => status)", sha256) == 404
    make_looker(phones[0])
    onlooker.run("await m.sync.sendNow()")
    assert onlooker.run("return m.log.photoState(a)", sha256) == "unsent"
    assert not kept.exists()
    other.run("await m.sync.sendNow()")
    assert kept.read_bytes() == data
    onlooker.run("await m.sync.sendNow()")
    assert onlooker.run("return m.log.photoState(a)", sha256) == "sent"
    for phone in phones:
        phone.close()


def make_looker(phone):
    """The PC says that this device may only look on, as it does once the owner changed its role."""
    def looks_on(route):
        response = route.fetch()
        answer = response.json()
        route.fulfill(response=response, json={**answer, "role": "looker_on"} if "role" in answer else answer)

    for path in ("/api/hello", "/api/sync"):
        phone.context.route("**" + path, looks_on)
