"""Copies by hand, and going back to one: whole, verified, and never over something without a copy first."""

import json
import os
from types import SimpleNamespace

import pytest

from copying import NOW, PHOTOS, code_of, entries, fill, run
from cotterbook.bundles.reading import verify
from cotterbook.copies import make_copy, restore
from cotterbook.copies import restoring as restoring_module
from cotterbook.errors import Problem
from cotterbook.store import TinyStore, changing_places
from cotterbook.store.changing_places import finish_changing
from cotterbook.store.folder import FolderReader
from cotterbook.store.holder import Holder
from cotterbook.store.journal import FORMAT, VERSION, line
from examples import OTHER_STRIP, STRIP, entry, photo_entry
from running import HttpClient


def test_going_back_brings_what_was_and_keeps_what_is(tmp_path):
    folder, (sha256, other) = tmp_path / "data", PHOTOS
    store = TinyStore(folder)
    first = fill(store, range(5), [sha256])
    identity = store.identity
    make_copy(store, tmp_path / "stick" / "copy.zip")
    fill(store, range(5, 9), [other])
    store.close()

    restored = restore(folder, tmp_path / "stick" / "copy.zip", NOW)
    assert entries(folder) == first and restored.contents.entries == {STRIP: 5}
    # What was there is in a copy that can be gone back to, and in a folder as it was.
    assert verify(restored.before.copy).entries == {STRIP: 9}
    assert len(entries(restored.aside)) == 9
    assert (restored.aside / "photos" / f"{other}.jpg").read_bytes() == PHOTOS[other]
    store = TinyStore(folder)
    assert store.identity != identity  # phones send all once more, and read from the start
    store.close()
    again = restore(folder, restored.before.copy, NOW)
    assert len(entries(folder)) == 9 and again.aside != restored.aside


def test_a_copy_that_is_not_whole_changes_nothing(tmp_path):
    folder = tmp_path / "data"
    store = TinyStore(folder)
    fill(store, range(3))
    make_copy(store, tmp_path / "copy.zip")
    store.close()
    data = (tmp_path / "copy.zip").read_bytes()
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    for length in (0, 1, len(data) // 2, len(data) - 1):
        (tmp_path / "cut.zip").write_bytes(data[:length])
        assert code_of(restore, folder, tmp_path / "cut.zip", NOW) in ("no_bundle", "bundle_damaged")
    assert code_of(restore, folder, tmp_path / "none.zip", NOW) == "no_such_file"
    assert {path: path.read_bytes() for path in folder.rglob("*") if path.is_file() and path.name != "lock"} == {
        path: data for path, data in before.items() if path.name != "lock"}


def stopped_between_names(monkeypatch, moves):
    """Let going back give so many folders their new names, then stop as suddenly as a power cut."""
    left = [moves]

    def replace(source, target):
        if not left[0]:
            raise KeyboardInterrupt
        left[0] -= 1
        os.rename(source, target)

    monkeypatch.setattr(changing_places, "os", SimpleNamespace(replace=replace))


def copied_and_gone_on(tmp_path):
    """A folder of which copy.zip is a copy, and into which more was written since; what the copy holds."""
    folder = tmp_path / "data"
    store = TinyStore(folder)
    first = fill(store, range(3), PHOTOS)
    make_copy(store, tmp_path / "copy.zip")
    fill(store, range(3, 6))
    store.close()
    return folder, first


@pytest.mark.parametrize("moves", range(7))
def test_a_crash_between_the_renames_is_finished_at_the_next_start(tmp_path, monkeypatch, moves):
    folder, first = copied_and_gone_on(tmp_path)
    stopped_between_names(monkeypatch, moves)
    try:
        restore(folder, tmp_path / "copy.zip", NOW)
        assert moves == 6
    except KeyboardInterrupt:
        assert (folder / "restoring.json").exists()
    monkeypatch.undo()
    finish_changing(folder)
    assert entries(folder) == first
    assert not (folder / "restoring.json").exists() and not (folder / "restoring").exists()
    [aside] = folder.glob("replaced-*")
    assert len(entries(aside)) == 6 and (aside / "identity").exists()
    finish_changing(folder)
    TinyStore(folder).close()


def test_whatever_opens_the_folder_next_finishes_it_first(tmp_path, monkeypatch):
    """Each command, after a stop before and within the changing of names."""
    other = TinyStore(tmp_path / "other")
    other.append(OTHER_STRIP, [entry(50, OTHER_STRIP)])
    make_copy(other, tmp_path / "carried.zip")
    other.close()
    commands = {
        "backup": ["--to", str(tmp_path / "stick")], "export": [str(tmp_path / "out.zip")],
        "move": ["--to", str(tmp_path / "moved")], "import": [str(tmp_path / "carried.zip")],
        "restore": [str(tmp_path / "carried.zip")]}
    for moves, (command, more) in enumerate(commands.items()):
        folder = tmp_path / command
        store = TinyStore(folder)
        first = fill(store, range(3))
        make_copy(store, tmp_path / f"{command}.zip")
        fill(store, range(3, 6))
        store.close()
        stopped_between_names(monkeypatch, moves)
        with pytest.raises(KeyboardInterrupt):
            restore(folder, tmp_path / f"{command}.zip", NOW)
        monkeypatch.undo()
        held = Holder(folder)
        refused = run(command, *more, "--data", folder)
        held.release()
        assert refused.returncode == 1 and "in use by another Cotterbook" in refused.stderr
        done = run(command, *more, "--data", folder)
        assert (done.returncode, done.stderr) == (0, ""), command
        assert not (folder / "restoring.json").exists() and not (folder / "restoring").exists()
        aside = next(each for each in sorted(folder.glob("replaced-*")) if len(entries(each)) == 6)
        assert (aside / "identity").exists()
        strips = {STRIP: 3, OTHER_STRIP: 1} if command == "import" else {STRIP: 3}
        assert FolderReader(folder).strips() == ({OTHER_STRIP: 1} if command == "restore" else strips)
    for made in ((tmp_path / "stick").glob("*.zip"), [tmp_path / "out.zip"]):
        assert [verify(each).entries for each in made] == [{STRIP: 3}]
    assert entries(tmp_path / "moved") == first


def test_what_was_begun_between_the_names_is_moved_aside_too(tmp_path, monkeypatch):
    """As an earlier version left it, which took a bundle in between."""
    folder = tmp_path / "data"
    store = TinyStore(folder)
    first = fill(store, range(3))
    make_copy(store, tmp_path / "copy.zip")
    store.close()
    stopped_between_names(monkeypatch, 1)
    with pytest.raises(KeyboardInterrupt):
        restore(folder, tmp_path / "copy.zip", NOW)
    monkeypatch.undo()
    (folder / "strips").mkdir()
    (folder / "strips" / "between").touch()
    TinyStore(folder).close()
    [aside] = folder.glob("replaced-*")
    assert entries(folder) == first == entries(aside) and (aside / "strips-2" / "between").exists()


@pytest.mark.parametrize(
    "mark", [b"", b"{", b"[]", b'{"aside": 5}', b'{"aside": "../data"}', b'{"aside": "replaced-gone"}'])
@pytest.mark.parametrize("moves", [0, 3])
def test_a_mark_that_a_disk_spoiled_stops_no_start_and_loses_nothing(tmp_path, monkeypatch, mark, moves):
    folder, first = copied_and_gone_on(tmp_path)
    stopped_between_names(monkeypatch, moves)
    with pytest.raises(KeyboardInterrupt):
        restore(folder, tmp_path / "copy.zip", NOW)
    monkeypatch.undo()
    (folder / "restoring.json").write_bytes(mark)
    finish_changing(folder)
    [aside] = folder.glob("replaced-*")
    assert entries(folder) == first and len(entries(aside)) == 6
    assert not (folder / "restoring.json").exists() and not (folder / "restoring").exists()


def test_a_mark_without_the_data_it_stands_for_stops_no_start(tmp_path):
    """The names changed places, and what was emptied was on its way out when the power went."""
    folder = tmp_path / "data"
    store = TinyStore(folder)
    first = fill(store, range(3), PHOTOS)
    store.close()
    for mark in (b'{"aside": "replaced-2026-03-01-183000"}', b"{"):
        (folder / "restoring.json").write_bytes(mark)
        finish_changing(folder)
        assert entries(folder) == first
        left = {path.name for path in folder.iterdir()}
        assert not [name for name in left if name.startswith(("replaced-", "restoring"))]
    # What was moved aside before stays.
    (folder / "replaced-1").mkdir()
    (folder / "replaced-1" / "identity").touch()
    (folder / "restoring.json").write_bytes(b'{"aside": "replaced-1"}')
    finish_changing(folder)
    assert (folder / "replaced-1" / "identity").exists() and not (folder / "restoring.json").exists()


def test_without_room_for_a_copy_of_what_is_there_nothing_is_gone_back_to(tmp_path, monkeypatch):
    folder = tmp_path / "data"
    store = TinyStore(folder)
    now = fill(store, range(3))
    make_copy(store, tmp_path / "copy.zip")
    store.close()

    def full(*_):
        raise Problem("bundle_not_written", file="x", what="No space left on device")

    monkeypatch.setattr(restoring_module, "make_copy", full)
    assert code_of(restore, folder, tmp_path / "copy.zip", NOW) == "bundle_not_written"
    assert entries(folder) == now and not list(folder.glob("replaced-*"))
    assert not (folder / "restoring").exists()


def flip_a_byte(path):
    data = bytearray(path.read_bytes())
    data[len(data) // 2] ^= 0x01
    path.write_bytes(data)
    return bytes(data)


def rotten(tmp_path):
    """A folder with a whole copy of three entries and two pictures, in which one picture then lost a bit."""
    folder, good = tmp_path / "data", tmp_path / "good.zip"
    store = TinyStore(folder)
    for sha256, data in PHOTOS.items():
        store.put_photo(sha256, data)
    made = [entry(1), *(photo_entry(n, data) for n, data in enumerate(PHOTOS.values(), 2))]
    assert store.append(STRIP, made).refused == []
    make_copy(store, good)
    store.close()
    sha256, other = PHOTOS
    return folder, good, sha256, other, flip_a_byte(folder / "photos" / f"{sha256}.jpg")


def test_a_damaged_picture_is_left_out_of_a_copy_and_counted(tmp_path):
    folder, _, sha256, other, _ = rotten(tmp_path)
    said = "Pictures that are damaged on this computer and not in the bundle: 1. "
    backup = run("backup", "--data", folder, "--to", tmp_path / "stick")
    export = run("export", tmp_path / "out.zip", "--data", folder)
    for done in (backup, export):
        assert done.returncode == 0 and said in done.stderr and "entries 3, pictures 1" in done.stdout
        assert "not on this computer" not in done.stderr
    for bundle in (*(tmp_path / "stick").iterdir(), tmp_path / "out.zip"):
        contents = verify(bundle)
        assert (contents.entries, contents.photos, contents.missing_photos) == ({STRIP: 3}, [other], [sha256])


def test_a_good_copy_is_gone_back_to_over_a_damaged_picture(tmp_path):
    folder, good, sha256, other, rot = rotten(tmp_path)
    done = run("restore", good, "--data", folder)
    assert (done.returncode, done.stderr) == (0, "")
    assert "damaged or may not be read, and are not in that copy: 1." in done.stdout
    assert FolderReader(folder).get_photo(sha256) == PHOTOS[sha256]
    [aside] = folder.glob("replaced-*")
    assert (aside / "photos" / f"{sha256}.jpg").read_bytes() == rot
    [before] = (folder / "copies").glob("before-restore-*.zip")
    assert verify(before).photos == [other] and not (folder / "restoring").exists()


def test_a_damaged_list_of_devices_does_not_stop_going_back_halfway(tmp_path):
    folder, good, *_ = rotten(tmp_path)
    whole = run("restore", good, "--data", folder)
    (folder / "devices.json").write_bytes(b'{"half of it')
    done = run("restore", good, "--data", folder)
    assert (whole.returncode, done.returncode, done.stderr) == (0, 0, "")
    assert done.stdout.splitlines()[0] == whole.stdout.splitlines()[0] and "Phones send all" in done.stdout
    events = [json.loads(each)["event"] for each in (folder / "audit.jsonl").read_text().splitlines()]
    assert events == ["restored", "restored"]
    assert (folder / "devices.json").read_bytes() == b'{"half of it'


def test_a_good_copy_is_gone_back_to_over_data_of_a_newer_format(tmp_path):
    folder, good, *_ = rotten(tmp_path)
    journal = folder / "strips" / f"{STRIP}.jsonl"
    newer = line({"format": FORMAT, "version": VERSION + 1, "strip": STRIP}) + b"what nobody here can read\n"
    journal.write_bytes(newer)
    done = run("restore", good, "--data", folder)
    assert (done.returncode, done.stderr) == (0, "")
    [aside] = folder.glob("replaced-*")
    assert f"Its files were moved to {aside}, byte for byte." in done.stdout and "is copied in" not in done.stdout
    assert (aside / "strips" / journal.name).read_bytes() == newer
    assert len(entries(folder)) == 3
    assert not (folder / "restoring").exists() and not list((folder / "copies").glob("before-*"))


def test_while_it_serves_a_copy_is_whole_and_going_back_is_refused(stopped_server, tmp_path):
    server = stopped_server.start()
    client = HttpClient(server.port)
    client.hello()
    strips = {STRIP: {"cursor": 0, "entries": [entry(n) for n in range(40)]}}
    body = {"version": "0.1.0", "device": entry(1)["by"], "strips": strips}
    assert client.ask_json("/api/sync", body)[0] == 200
    done = run("backup", "--data", server.folder, "--to", tmp_path / "stick")
    assert (done.returncode, done.stderr) == (0, "") and "entries 40" in done.stdout
    [copy] = (tmp_path / "stick").iterdir()
    assert verify(copy).entries == {STRIP: 40}
    refused = run("restore", copy, "--data", server.folder)
    assert refused.returncode == 1 and "is in use by another Cotterbook" in refused.stderr
    client.close()
    server.stop()
    done = run("restore", copy, "--data", server.folder)
    assert (done.returncode, done.stderr) == (0, "") and "What was there before is copied in" in done.stdout
    assert json.loads((server.folder / "audit.jsonl").read_text().splitlines()[-1])["event"] == "restored"
    assert len(entries(server.folder)) == 40
