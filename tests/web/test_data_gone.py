"""The PC's data go in part, or an older copy is put back: what phones took for sent goes across again by itself."""

import hashlib
import shutil

import pytest

from examples import picture
from web.phone import entry, uuid
from web.sending import add, ids_of, states

SEND = "await m.sync.sendNow()"
KEEP = """const [sha256, bytes] = a;
  await m.log.addPhoto({sha256, bytes: new Uint8Array(bytes).buffer, type: "image/jpeg", width: 24, height: 24});"""


def with_picture(tab, number, data):
    """An entry that names a picture, and the picture."""
    sha256 = hashlib.sha256(data).hexdigest()
    tab.run(KEEP, [sha256, list(data)])
    named = {"sha256": sha256, "media_type": "image/jpeg", "bytes": len(data), "width": 24, "height": 24}
    envelope = {name: entry(number)[name] for name in ("id", "strip", "at", "by", "who")}
    add(tab, {**envelope, "kind": "photo", "thing": uuid(1), **named})
    return sha256


def turns(*tabs):
    for _ in range(2):
        for tab in tabs:
            tab.run(SEND)


@pytest.mark.parametrize("damage", ["gone", "empty", "shortened", "older copy"])
def test_what_only_one_phone_still_has_comes_back_though_its_numbers_were_given_again(
    phone, second_phone, server, damage
):
    first, second = phone.tab(), second_phone.tab()
    add(first, *(entry(n) for n in range(40)))
    turns(first, second)
    server.stop()
    shutil.copytree(server.folder, server.folder.with_name("copy"))
    server.start()
    add(second, *(entry(n) for n in range(100, 105)))
    sha256 = with_picture(second, 105, picture(7))
    second.run(SEND)
    assert set(states(second).values()) == {"sent"} and len(ids_of(second)) == 46
    assert (server.folder / "photos" / f"{sha256}.jpg").exists()
    server.stop()
    [journal] = (server.folder / "strips").glob("*.jsonl")
    if damage == "gone":
        journal.unlink()
    elif damage == "older copy":
        shutil.rmtree(server.folder)
        shutil.copytree(server.folder.with_name("copy"), server.folder)
    else:
        journal.write_bytes(b"" if damage == "empty" else journal.read_bytes()[:8_192])
    server.start()
    add(first, *(entry(n) for n in range(200, 210)))
    turns(first, second, first)
    assert ids_of(first) == ids_of(second) and len(ids_of(first)) == 56
    assert set(states(first).values()) == set(states(second).values()) == {"sent"}
    assert (server.folder / "photos" / f"{sha256}.jpg").read_bytes() == picture(7)
    assert second.run("return (await m.log.counts()).unsent_photos") == 0
    assert all(tab.run("return m.sync.snapshot()")["phase"] == "idle" for tab in (first, second))


def test_what_counts_as_sent_is_covered_by_the_last_entry_though_the_page_died_before_reading(phone, server):
    """The entries are settled, and the batch behind them is not kept: the cursor stays where it was."""
    tab = phone.tab()
    add(tab, entry(1))
    tab.run(SEND)
    known = tab.run("return (await m.log.strips())[0]")
    assert (known["cursor"], known["last"]) == (1, {"number": 1, "id": entry(1)["id"]})
    add(tab, entry(2))
    tab.run("await m.log.settle([a[0]], [], await m.log.setting('store'), {[a[1]]: {number: 5, id: a[0]}})",
            [entry(2)["id"], uuid(1)])
    assert tab.run("return (await m.log.strips())[0].last") == {"number": 5, "id": entry(2)["id"]}
    # An answer that comes late takes nothing back.
    tab.run("await m.log.receive(a, [], 1, null, {number: 2, id: a})", uuid(1))
    assert tab.run("return (await m.log.strips())[0].last.number") == 5
    # The PC has no such entry: all is unsent and goes once more.
    tab.run(SEND)
    assert set(states(tab).values()) == {"sent"}
    again = tab.run("return (await m.log.strips())[0]")
    assert (again["cursor"], again["last"]) == (2, {"number": 2, "id": entry(2)["id"]})


def test_a_phone_that_was_told_of_no_last_entry_yet_hears_of_it_at_the_next_exchange(phone, server):
    """As one whose program was older until now."""
    tab = phone.tab()
    add(tab, entry(1))
    tab.run(SEND)
    told = "return (await m.log.strips())[0].last ?? null"
    last = tab.run(told)
    tab.run("await m.log.sendAllAgain(a)", uuid(1))
    assert tab.run(told) is None
    tab.run("""const id = a; await m.log.settle(["x"], [], null);
        await m.log.receive(id, [], 1, null); await m.sync.sendNow();""", uuid(1))
    assert tab.run(told) == last
