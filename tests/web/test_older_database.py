"""The database of an older program is taken over as it is: nothing is lost, no picture is written again."""

import pytest

from web.phone import entry, uuid

# As version 1 laid it down, written from the outside: each row with a picture's bytes said how far it had got.
OLDER = """
    const bytes = (size) => { const all = new Uint8Array(size); for (let at = 0; at < size; at += 50_000)
        crypto.getRandomValues(all.subarray(at, Math.min(size, at + 50_000))); return all.buffer; };
    const done = (request) => new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.oncomplete = resolve;
        request.onabort = request.onerror = () => reject(request.error);
    });
    const opening = indexedDB.open("cotterbook", 1);
    opening.onupgradeneeded = () => {
        const database = opening.result;
        const entries = database.createObjectStore("entries", {keyPath: "seq", autoIncrement: true});
        entries.createIndex("id", "id", {unique: true});
        for (const name of ["strip", "state"]) entries.createIndex(name, name);
        database.createObjectStore("photos", {keyPath: "sha256"}).createIndex("state", "state");
        database.createObjectStore("strips", {keyPath: "strip"});
        for (const name of ["drafts", "settings"]) database.createObjectStore(name, {keyPath: "key"});
    };
    const older = globalThis.older = await done(opening);
    const put = (name, ...rows) => {
        const writing = older.transaction(name, "readwrite");
        for (const row of rows) writing.objectStore(name).put(row);
        return done(writing);
    };
    for (const entry of a.entries) {
        await put("entries", {id: entry.id, strip: entry.strip, entry, state: "sent", problem: null});
    }
    const problem = {code: "not_a_picture", text: "No.", values: {}};
    for (const [sha256, state] of Object.entries(a.pictures)) {
        await put("photos", {sha256, bytes: bytes(a.size), type: "image/jpeg", width: 4, height: 3, state,
                             problem: state === "refused" ? problem : null});
    }
    await put("settings", {key: "held/" + a.held, value: 1}, {key: "device", value: "it"});
    await put("drafts", {key: "form", value: {name: "half"}, at: 1});
    older.onversionchange = () => older.close();
"""
PICTURES = {"a1" * 32: "sent", "b2" * 32: "sent", "c3" * 32: "unsent", "d4" * 32: "refused", "e5" * 32: "unsent"}
HELD = "e5" * 32


def lay_down(tab, **changes):
    given = {"entries": [entry(1), entry(2)], "pictures": PICTURES, "held": HELD, "size": 9}
    tab.run(OLDER, given | changes)


def all_is_here(tab):
    assert [row["entry"] for row in tab.run("return m.log.entriesOf(a)", uuid(1))] == [entry(1), entry(2)]
    assert tab.run("return m.log.draft('form')") == {"name": "half"}
    assert tab.run("return m.log.setting('device')") == "it"
    kept = "return Promise.all(a.map(async (each) => (await m.log.photo(each)).bytes.byteLength))"
    return tab.run(kept, list(PICTURES))


def test_what_was_said_of_the_pictures_is_carried_over_and_their_bytes_stay(phone):
    tab = phone.tab()
    lay_down(tab)
    tab.run("""
        globalThis.written = [];
        const put = IDBObjectStore.prototype.put;
        IDBObjectStore.prototype.put = function (...given) {
            written.push(this.name);
            return put.apply(this, given);
        };""")
    assert all_is_here(tab) == [9] * 5
    assert set(tab.run("return written")) == {"photo_states"}
    assert tab.run("return m.log.sentPhotos()") == ["a1" * 32, "b2" * 32]
    assert tab.run("return m.log.refusedPhotos()") == [
        {"sha256": "d4" * 32, "problem": {"code": "not_a_picture", "text": "No.", "values": {}}}]
    assert tab.run("return m.log.unsentPhotos(9)") == ["c3" * 32]
    assert tab.run("return m.log.counts()") == {"unsent": 0, "refused": 0, "unsent_photos": 1}
    tab.reload()
    assert tab.run("return m.log.sentPhotos()") == ["a1" * 32, "b2" * 32]


def test_a_full_phone_opens_and_asks_the_pc_what_it_has(phone):
    tab = phone.tab()
    phone.quota(tab, 3_000_000)
    lay_down(tab, size=300_000)
    tab.run("""
        const noise = (size) => { const all = new Uint8Array(size); for (let at = 0; at < size; at += 50_000)
            crypto.getRandomValues(all.subarray(at, Math.min(size, at + 50_000))); return all; };
        for (let size = 1_500_000, number = 0; size > 4; number += 1) {
            const went_in = await new Promise((resolve) => {
                const writing = older.transaction("settings", "readwrite");
                writing.objectStore("settings").put({key: `filling/${number}`, value: noise(size)});
                writing.oncomplete = () => resolve(true);
                writing.onabort = () => resolve(false);
            });
            if (!went_in) size = Math.floor(size / 2);
        }""")
    assert all_is_here(tab) == [300_000] * 5
    # What could not be written is unsent, which loses nothing; what is held is not sent.
    assert tab.run("return m.log.countSentPhotos()") == 0
    assert tab.run("return m.log.unsentPhotos(9)") == sorted(set(PICTURES) - {HELD})


def test_a_page_of_the_older_program_that_holds_on_is_named_and_nothing_is_lost(phone):
    """It hears of the newer one and lets go; one that sleeps lets go when it wakes."""
    tab, other = phone.tab(), phone.tab()
    lay_down(tab)
    tab.run("older.onversionchange = () => setTimeout(() => older.close(), 1000)")
    assert other.run("return m.log.sentPhotos()") == ["a1" * 32, "b2" * 32]
    assert tab.fails("new Promise((_, no) => { const again = indexedDB.open('cotterbook', 1);"
                     " again.onerror = () => no(again.error); })")["name"] == "VersionError"
    assert all_is_here(other) == [9] * 5


@pytest.mark.parametrize("newer", [3, 99])
def test_a_database_of_a_newer_program_is_left_alone(phone, newer):
    tab = phone.tab()
    tab.run("await new Promise((go) => { const it = indexedDB.open('cotterbook', a);"
            " it.onsuccess = () => { it.result.close(); go(); }; })", newer)
    assert tab.fails("m.log.counts()")["name"] == "StorageAway"
    assert tab.run("return (await indexedDB.databases())[0].version") == newer
