"""The phone's own store: whole transactions, doubles, states, a full phone, two tabs."""

from random import Random

import pytest

from web.phone import Phone, entry, uuid


@pytest.fixture
def phone(chromium, module_server):
    phone = Phone(chromium, module_server.url)
    yield phone
    phone.close()


IDS = "(await m.log.entriesOf(a)).map((row) => row.id)"


def test_saved_entries_are_there_after_a_reload_and_the_draft_is_gone(phone):
    tab = phone.tab()
    tab.run("await m.log.putDraft('form', {name: 'half a name'}); await m.log.putDraft('other', {})")
    tab.run("await m.log.addEntries(a, {draft: 'form'})", [entry(1), entry(2)])
    tab.reload()
    assert tab.run(f"return {IDS}", uuid(1)) == [entry(1)["id"], entry(2)["id"]]
    assert tab.run("return (await m.log.drafts()).map((each) => each.key)") == ["other"]
    assert tab.run("return m.log.counts()") == {"unsent": 2, "refused": 0, "unsent_photos": 0}


def test_all_or_none_when_one_entry_cannot_be_kept(phone):
    tab = phone.tab()
    tab.run("await m.log.putDraft('form', {}); await m.log.addEntries(a)", [entry(1)])
    failure = tab.fails("m.log.addEntries(a, {draft: 'form'})", [entry(2), entry(1), entry(3)])
    assert failure["name"] == "StorageAway" and "not saved" in failure["text"]
    assert tab.run(f"return {IDS}", uuid(1)) == [entry(1)["id"]]
    assert tab.run("return m.log.draft('form')") == {}


def test_a_mistake_in_the_middle_of_a_write_leaves_nothing(phone):
    tab = phone.tab()
    failure = tab.fails(
        """m.database.write(["settings"], async (transaction) => {
            await transaction.objectStore("settings").put({key: "half", value: 1});
            throw new TypeError("in the middle");
        })"""
    )
    assert failure["values"] == {"reason": "in the middle"}
    assert tab.run("return await m.log.setting('half') ?? null") is None


def test_entries_after_a_position_and_of_one_strip_down_only(phone):
    tab = phone.tab()
    tab.run("await m.log.addEntries(a)", [entry(1), entry(2, strip=2), entry(3)])
    rows = tab.run("return m.log.entriesOf(a)", uuid(1))
    assert [row["entry"] for row in rows] == [entry(1), entry(3)]
    later = tab.run("return m.log.entriesOf(a[0], a[1])", [uuid(1), rows[0]["seq"]])
    assert [row["id"] for row in later] == [entry(3)["id"]]


def test_what_goes_into_a_request_is_bounded_in_number_and_utf8_bytes(phone):
    tab = phone.tab()
    long = [entry(i, values={"note": "é" * 1500}) for i in range(5)]
    tab.run("await m.log.addEntries(a)", long)
    count = "(await m.log.unsent(a[0], a[1])).length"
    assert tab.run(f"return {count}", [3, 1_000_000]) == 3
    # Each entry is over 3,000 bytes, though under 2,000 characters.
    assert tab.run(f"return {count}", [10, 7_000]) == 2
    assert tab.run(f"return {count}", [10, 10]) == 1, "an entry too big for the room must still go out alone"


def test_a_received_batch_and_its_cursor_go_together_and_doubles_drop(phone):
    tab = phone.tab()
    tab.run("await m.log.addEntries(a)", [entry(1)])
    batch = [entry(1), entry(2)]
    assert tab.run("return m.log.receive(a[0], a[1], 7)", [uuid(1), batch]) == 1
    assert tab.run("return m.log.receive(a[0], a[1], 7)", [uuid(1), batch]) == 0
    rows = tab.run("return m.log.entriesOf(a)", uuid(1))
    assert [(row["id"], row["state"]) for row in rows] == [(entry(1)["id"], "unsent"), (entry(2)["id"], "sent")]
    broken = [entry(3), {"strip": uuid(1)}]
    assert tab.fails("m.log.receive(a[0], a[1], 9)", [uuid(1), broken]) is not None
    assert tab.run("return m.log.strips()") == [{"strip": uuid(1), "cursor": 7}]
    assert len(tab.run("return m.log.entriesOf(a)", uuid(1))) == 2


def test_a_line_of_a_strip_down_keeps_its_cursor(phone):
    tab = phone.tab()
    tab.run("await m.log.receive(a, [], 5); await m.log.putStrip(a, {name: 'Old single'})", uuid(1))
    assert tab.run("return m.log.strips()") == [{"strip": uuid(1), "cursor": 5, "name": "Old single"}]


def test_refused_entries_stay_until_a_person_deals_with_them(phone):
    tab = phone.tab()
    refusal = {"id": entry(2)["id"], "code": "no", "field": "values", "text": "No {x}.", "values": {"x": 1}}
    tab.run("await m.log.addEntries(a)", [entry(1), entry(2)])
    tab.run("await m.log.settle(a[0], a[1])", [[entry(1)["id"]], [refusal]])
    assert tab.run("return m.log.refused()") == [{"id": entry(2)["id"], "entry": entry(2), "problem": refusal}]
    assert tab.run("return m.log.unsent(10, 10000)") == []
    tab.run("await m.log.forget(a)", entry(1)["id"])
    assert len(tab.run("return m.log.entriesOf(a)", uuid(1))) == 2, "only a refused entry may be dropped"
    tab.run("await m.log.sendAgain(a)", entry(2)["id"])
    assert [e["id"] for e in tab.run("return m.log.unsent(10, 10000)")] == [entry(2)["id"]]
    tab.run("await m.log.settle([], [a]); await m.log.forget(a.id)", refusal)
    assert tab.run(f"return {IDS}", uuid(1)) == [entry(1)["id"]]


def test_a_pc_that_went_back_gets_everything_again(phone):
    tab = phone.tab()
    tab.run("await m.log.receive(a[0], a[1], 2)", [uuid(1), [entry(1)]])
    tab.run("await m.log.addEntries(a)", [entry(2, strip=2)])
    tab.run("await m.log.sendAllAgain(a)", uuid(1))
    assert len(tab.run("return m.log.unsent(10, 10000)")) == 2
    assert tab.run("return m.log.strips()") == [{"strip": uuid(1), "cursor": 0}]


# The browser's store compresses, so only what cannot be compressed fills it.
NOISE = Random(7)


def notes(batch):
    return [entry(batch * 50 + i, values={"note": NOISE.randbytes(950).hex()}) for i in range(50)]


def fill(tab):
    """Saves until the phone is full; returns the failure and how many entries were saved before it."""
    for batch in range(200):
        failure = tab.fails("m.log.addEntries(a)", notes(batch))
        if failure:
            return failure, batch * 50
    raise AssertionError("the phone never filled up")


def test_a_full_phone_says_so_and_loses_nothing(phone):
    tab = phone.tab()
    phone.quota(tab, 2_000_000)
    tab.run("await m.log.putDraft('form', {name: 'in my hand'})")
    failure, saved = fill(tab)
    assert failure["name"] == "StorageFull"
    assert "storage is full" in failure["text"] and "still here" in failure["text"] and "save again" in failure["text"]
    phone.quota(tab, None)
    tab.reload()
    assert tab.run("return (await m.log.counts()).unsent") == saved > 0
    assert tab.run("return m.log.draft('form')") == {"name": "in my hand"}
    assert tab.fails("m.log.addEntries([a])", entry(999_999)) is None


def test_a_full_phone_gives_up_pictures_that_the_pc_holds_and_no_others(phone):
    tab = phone.tab()
    phone.quota(tab, 3_000_000)
    tab.run(
        """for (const name of ["aa", "bb"]) {
            const bytes = new Uint8Array(600_000).buffer;
            await m.log.addPhoto({sha256: name, bytes, type: "image/jpeg", width: 1, height: 1});
        }
        await m.log.photosSent(["aa"]);"""
    )
    fill(tab)
    kept = tab.run("return Promise.all(['aa', 'bb'].map(async (name) => Boolean(await m.log.photo(name))))")
    assert kept == [False, True]


def test_a_newer_version_in_another_tab_is_not_blocked(phone):
    tab, other = phone.tab(), phone.tab()
    tab.run("await m.log.addEntries(a)", [entry(1)])
    opened = other.run(
        """return new Promise((resolve, reject) => {
            const request = indexedDB.open("cotterbook", 99);
            request.onblocked = () => reject(new Error("blocked"));
            request.onsuccess = () => { request.result.close(); resolve(true); };
        })"""
    )
    assert opened
    failure = tab.fails("m.log.addEntries(a)", [entry(2)])
    assert failure["name"] == "StorageAway" and "reload this page" in failure["text"]


def test_two_tabs_share_one_device_and_hear_of_each_other(phone):
    tab, other = phone.tab(), phone.tab()
    other.run("globalThis.heard = []; m.log.onChange((change) => heard.push(change))")
    first = tab.run("return m.log.settingOnce('device', () => 'one')")
    assert other.run("return m.log.settingOnce('device', () => 'two')") == first == "one"
    tab.run("await m.log.addEntries(a)", [entry(1)])
    change = other.until("heard.find((each) => each.what === 'entries')")
    assert change["strips"] == [uuid(1)] and change["elsewhere"] is True


def test_what_the_browser_says_about_keeping_the_data_is_told(phone):
    state = phone.tab().run("return m.log.storageState()")
    assert isinstance(state["persisted"], bool)
    assert 0 <= state["used_bytes"] < state["quota_bytes"]
