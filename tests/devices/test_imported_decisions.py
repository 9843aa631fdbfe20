"""A decision that came by a file stands in the record at once: a way back to an older copy does not undo it."""

import pytest

from cotterbook.bundles import write_bundle
from cotterbook.devices import HAND, DeviceBook
from cotterbook.devices.audit import Audit
from cotterbook.devices.decisions import EVENT
from cotterbook.devices.routes import now_ms
from cotterbook.store import TinyStore
from cotterbook.sync import receive
from examples import STRIP, entry
from running import new_id, run


def decided_by(device):
    own = entry(1, by=device)
    return {name: own[name] for name in ("id", "strip", "at", "by", "who")} | {
        "kind": "waive", "group": new_id(), "what": "second_check", "why": "A trim cover."}


@pytest.fixture
def bundle(tmp_path):
    """A file with a decision of a device that is a hand's on this PC's list, and with a note; the two, and the file."""
    book = DeviceBook(tmp_path / "data")
    device = new_id()
    book.pair(book.make_code(HAND, now_ms()), device, "Phone at the lift", now_ms())
    store, decision = TinyStore(tmp_path / "elsewhere"), decided_by(device)
    assert store.append(STRIP, [decision, entry(2)]).refused == []
    write_bundle(store, tmp_path / "carried.zip")
    store.close()
    return decision, tmp_path / "carried.zip"


def test_it_is_noted_when_the_file_is_taken_in_and_taken_again_after_a_way_back(bundle, tmp_path):
    (decision, file), folder = bundle, tmp_path / "data"
    for _ in range(2):
        assert run("import", str(file), "--data", str(folder))[0] == 0
        [noted] = Audit(folder).read(EVENT)
        assert noted["device"] == decision["by"]
    gone_back, book = TinyStore(tmp_path / "gone_back"), DeviceBook(folder)
    assert receive(gone_back, STRIP, [decision], book) == []
    [refused] = receive(gone_back, STRIP, [decided_by(decision["by"]) | {"id": entry(3)["id"]}], book)
    assert refused["code"] == "owner_decides"
    gone_back.close()


def test_it_is_noted_when_a_copy_with_it_is_gone_back_to_and_twice_is_once(bundle, tmp_path):
    (decision, file), folder = bundle, tmp_path / "data"
    for _ in range(2):
        assert run("restore", str(file), "--data", str(folder))[0] == 0
        [noted] = Audit(folder).read(EVENT)
        assert noted["device"] == decision["by"]
    gone_back = TinyStore(tmp_path / "gone_back")
    assert receive(gone_back, STRIP, [decision], DeviceBook(folder)) == []
    gone_back.close()


def test_what_is_taken_into_a_folder_where_nothing_was_is_noted_there(bundle, tmp_path):
    assert run("import", str(bundle[1]), "--data", str(tmp_path / "new"))[0] == 0
    assert len(Audit(tmp_path / "new").read(EVENT)) == 1
