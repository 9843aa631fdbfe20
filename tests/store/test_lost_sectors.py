"""Files that the disk can't read any more: each is damaged by itself, and everything else goes on.

Linux itself says "Input/output error" here, as it does of a lost sector: a file of the store leads to /proc/self/mem,
whose places without memory can't be read (proc(5)).
"""

import ctypes
import errno
import hashlib
import mmap
import os
import sys
import time
from datetime import datetime

import pytest

from cotterbook import photos, settings
from cotterbook.concerns import Concerns
from cotterbook.copies import DailyCopies
from cotterbook.core.words import spoken
from cotterbook.devices import DeviceBook
from cotterbook.errors import Problem
from cotterbook.store import TinyStore
from cotterbook.store.disk import disk_problems, read_whole
from cotterbook.store.folder import FolderReader
from cotterbook.store.journal import parse
from cotterbook.store.salvage import BLOCK_BYTES, around_what_is_lost
from cotterbook.trust.origin import kept_origin
from examples import OTHER_STRIP, STRIP, entry, photo_entry, picture
from running import HttpClient, run

pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="the way to a real error is Linux's own")
EVERYTHING = (1_000, 10_000_000)
PICTURES = {hashlib.sha256(picture(n)).hexdigest(): picture(n) for n in (1, 2)}
LOST, WHOLE = PICTURES


def lose(path):
    path.unlink(missing_ok=True)
    path.symlink_to("/proc/self/mem")
    with pytest.raises(OSError) as found:
        path.read_bytes()
    assert found.value.errno == errno.EIO


def filled(folder):
    """A store with two strip-downs and two pictures."""
    store = TinyStore(folder)
    for sha256, data in PICTURES.items():
        store.put_photo(sha256, data)
    named = [photo_entry(number, data) for number, data in enumerate(PICTURES.values(), 5)]
    assert store.append(STRIP, [*(entry(number) for number in range(5)), *named]).refused == []
    assert store.append(OTHER_STRIP, [entry(50, OTHER_STRIP)]).refused == []
    return store


@pytest.fixture
def store(tmp_path):
    store = filled(tmp_path / "data")
    yield store
    store.close()


@pytest.fixture
def kept(tmp_path):
    """A data folder that nobody holds, and a copy of what it holds."""
    filled(tmp_path / "data").close()
    assert run("backup", "--data", str(tmp_path / "data"), "--to", str(tmp_path / "stick"))[0] == 0
    [copy] = (tmp_path / "stick").iterdir()
    return tmp_path / "data", copy


def test_a_lost_picture_is_wanted_and_comes_again(store, tmp_path):
    path = tmp_path / "data" / "photos" / f"{LOST}.jpg"
    lose(path)
    assert store.missing_photos([WHOLE, LOST]) == [LOST]
    assert store.get_photo(LOST) is None and store.wanted_photos() == [LOST] and store.photos() == [WHOLE]
    assert path.with_suffix(".damaged").is_symlink()
    photos.receive(store, LOST, PICTURES[LOST])
    assert store.wanted_photos() == [] and store.get_photo(LOST) == PICTURES[LOST]
    lose(path)
    store.put_photo(LOST, PICTURES[LOST])  # of what nobody had found lost yet
    assert store.get_photo(LOST) == PICTURES[LOST]


def test_a_picture_that_can_be_read_again_is_taken_back_at_the_next_start(tmp_path):
    filled(tmp_path / "data").close()
    path = tmp_path / "data" / "photos" / f"{LOST}.jpg"
    path.unlink()
    path.with_suffix(".damaged").write_bytes(PICTURES[LOST])
    store = TinyStore(tmp_path / "data")
    assert store.wanted_photos() == [] and store.get_photo(LOST) == PICTURES[LOST]
    store.close()


def test_a_copy_a_day_is_made_beside_a_lost_picture(store, tmp_path):
    folder = tmp_path / "data"
    lose(folder / "photos" / f"{LOST}.jpg")
    concerns = Concerns(store, folder)
    copies = DailyCopies(store, folder, 3, concerns)
    copies.try_once(datetime(2026, 3, 1))
    assert [path.name for path in (folder / "copies").glob("*.zip")] == ["daily-2026-03-01.zip"]
    assert [path.stem for path in (folder / "copies" / "photos").iterdir()] == [WHOLE]
    [told] = map(spoken, concerns.now())
    assert "spoiled: 1." in told
    # Beside the copies too: what the disk lost there is put there again.
    lose(folder / "copies" / "photos" / f"{WHOLE}.jpg")
    copies.try_once(datetime(2026, 3, 2))
    assert (folder / "copies" / "photos" / f"{WHOLE}.jpg").read_bytes() == PICTURES[WHOLE]


def test_every_command_that_carries_goes_on_beside_a_lost_picture(kept, tmp_path):
    folder, copy = kept
    lose(folder / "photos" / f"{LOST}.jpg")
    said = "damaged on this computer and not in the bundle: 1."
    for command in (["backup", "--to", str(tmp_path / "other")], ["export", str(tmp_path / "out.zip")]):
        code, out, errors = run(*command, "--data", str(folder))
        assert code == 0 and "pictures 1." in out and said in errors
    code, out, errors = run("move", "--data", str(folder), "--to", str(tmp_path / "elsewhere"))
    assert code == 0 and "pictures 1." in out and f"picture {LOST} was damaged" in errors
    code, out, errors = run("restore", str(copy), "--data", str(folder))
    assert (code, errors) == (0, "") and "pictures 2." in out and "Pictures among it that are damaged" in out
    assert FolderReader(folder).get_photo(LOST) == PICTURES[LOST]


def test_it_serves_beside_a_lost_journal_and_takes_its_entries_again(stopped_server):
    """Nothing of that journal can be read: it is kept aside, said, and phones that hold its entries send them again."""
    server, folder = stopped_server, stopped_server.folder
    filled(folder).close()
    identity = (folder / "identity").read_text().splitlines()[0]
    journal = folder / "strips" / f"{STRIP}.jsonl"
    lose(journal)
    server.start()
    end = time.monotonic() + 60
    while "is kept beside it as" not in server.log.read_text() and time.monotonic() < end:
        time.sleep(0.05)
    said = server.log.read_text()
    assert f"{STRIP}.jsonl: the disk can't read all of it any more" in said and f"as {STRIP}.damaged-1." in said
    assert journal.with_suffix(".damaged-1").is_symlink() and not journal.is_symlink()
    client = HttpClient(server.port)
    assert client.hello()["store"] != identity  # so phones send all once more
    strips = {STRIP: {"cursor": 0, "entries": [entry(3)]}}
    body = {"version": "0.1.0", "device": entry(1)["by"], "strips": strips}
    status, answer = client.ask_json("/api/sync", body)
    assert status == 200 and answer["strips"][STRIP]["refused"] == []
    assert answer["strips"][OTHER_STRIP]["entries"] == [entry(50, OTHER_STRIP)]
    assert any(f"{STRIP}.jsonl: lines that are damaged" in spoken(each) for each in answer["concerns"])
    client.close()
    assert server.stop() == 0
    assert FolderReader(folder).read(STRIP, 0, *EVERYTHING).entries == [entry(3)]
    store = TinyStore(folder)
    assert store.damaged  # as long as nobody has gone back to a copy
    store.close()


def test_a_good_copy_is_gone_back_to_over_a_lost_journal(kept):
    folder, copy = kept
    journal = f"{STRIP}.jsonl"
    lose(folder / "strips" / journal)
    code, out, errors = run("restore", str(copy), "--data", str(folder))
    assert (code, errors) == (0, "") and "entries 8" in out
    assert f"Files with lines that can't be read, which are not in that copy: {journal}." in out
    assert len(FolderReader(folder).read(STRIP, 0, *EVERYTHING).entries) == 7
    [aside] = folder.glob("replaced-*")
    assert (aside / "strips" / journal).is_symlink()


def test_a_journal_is_put_aside_where_the_disk_knows_no_second_names(tmp_path, monkeypatch):
    filled(tmp_path / "data").close()
    lose(tmp_path / "data" / "strips" / f"{STRIP}.jsonl")

    def refuse(*_):
        raise OSError("no second names on this disk")

    monkeypatch.setattr("os.link", refuse)
    TinyStore(tmp_path / "data").close()
    names = sorted(path.name for path in (tmp_path / "data" / "strips").iterdir())
    assert names == [f"{STRIP}.damaged-1", f"{STRIP}.jsonl", f"{OTHER_STRIP}.jsonl"]


def test_a_cut_within_the_salvage_leaves_the_journal_in_sight(tmp_path, monkeypatch):
    """The first of two renames is done, where the disk knows no second names, and the second is not."""
    folder = tmp_path / "data"
    filled(folder).close()
    journal = folder / "strips" / f"{STRIP}.jsonl"
    whole = journal.read_bytes()
    identity = (folder / "identity").read_bytes()
    lose(journal)

    def refuse(*_):
        raise OSError("no second names on this disk")

    def cut(*paths):
        replace(*paths)
        raise KeyboardInterrupt

    replace = os.replace
    monkeypatch.setattr("os.link", refuse)
    monkeypatch.setattr("cotterbook.store.tables.os.replace", cut)
    monkeypatch.setattr("cotterbook.store.tables.write_whole", lambda path, _: path.write_bytes(whole))
    with pytest.raises(KeyboardInterrupt):
        TinyStore(folder)
    monkeypatch.undo()
    assert sorted(path.name for path in (folder / "strips").iterdir()) == [
        f"{STRIP}.damaged-1", f"{STRIP}.salvaged", f"{OTHER_STRIP}.jsonl"]
    assert (folder / "identity").read_bytes() == identity
    # Whoever only reads sees it where it lies; whoever opens the folder puts it in its place.
    assert FolderReader(folder).strips() == {STRIP: 7, OTHER_STRIP: 1}
    assert len(FolderReader(folder).read(STRIP, 0, *EVERYTHING).entries) == 7
    store = TinyStore(folder)
    assert store.strips() == {STRIP: 7, OTHER_STRIP: 1} and not store.damaged
    assert len(store.read(STRIP, 0, *EVERYTHING).entries) == 7
    store.close()
    assert journal.read_bytes() == whole and not journal.with_suffix(".salvaged").exists()


def test_what_was_put_aside_is_not_written_over_where_an_earlier_one_was_taken_away(tmp_path):
    folder = tmp_path / "data"
    filled(folder).close()
    journal = folder / "strips" / f"{STRIP}.jsonl"
    for number in (1, 2):
        journal.with_suffix(f".damaged-{number}").write_bytes(b"kept %d" % number)
    journal.with_suffix(".damaged-1").unlink()
    journal.write_bytes(b"first")
    TinyStore(folder).close()
    journal.write_bytes(b"second")
    TinyStore(folder).close()
    aside = {path.suffix: path.read_bytes() for path in journal.parent.glob("*.damaged-*")}
    assert aside == {".damaged-1": b"first", ".damaged-2": b"kept 2", ".damaged-3": b"second"}


def test_what_lies_around_lost_blocks_is_read():
    """Memory at a fixed low place is a file of which the kernel itself can read the middle alone (proc(5), mmap(2))."""
    first, text = 0x10000, b"what can be read" * 512
    library = ctypes.CDLL(None, use_errno=True)
    library.mmap.restype = ctypes.c_void_p
    library.mmap.argtypes = [ctypes.c_void_p, ctypes.c_size_t, *[ctypes.c_int] * 3, ctypes.c_long]
    fixed = 0x100000 | mmap.MAP_PRIVATE | mmap.MAP_ANONYMOUS  # MAP_FIXED_NOREPLACE of <linux/mman.h>
    place = library.mmap(first, len(text), mmap.PROT_READ | mmap.PROT_WRITE, fixed, -1, 0)
    assert place == first, ctypes.get_errno()
    ctypes.memmove(place, text, len(text))
    with open("/proc/self/mem", "rb", buffering=0) as file:
        assert around_what_is_lost(file, first + len(text)) == bytes(first) + text
        assert around_what_is_lost(file, first + 100) == bytes(first) + text[:100]
        behind = around_what_is_lost(file, first + len(text) + BLOCK_BYTES + 5)
        assert behind == bytes(first) + text + bytes(BLOCK_BYTES + 5) + b"\n"
    library.munmap.argtypes = [ctypes.c_void_p, ctypes.c_size_t]
    assert library.munmap(place, len(text)) == 0


def test_a_block_lost_anywhere_in_a_journal_costs_its_own_lines_alone(tmp_path):
    """Each block of 512 bytes in turn, read as zeros, as `around_what_is_lost` gives it."""
    folder = tmp_path / "data"
    filled(folder).close()
    path = folder / "strips" / f"{STRIP}.jsonl"
    data = path.read_bytes()
    whole = parse(data, path)
    for at in range(0, len(data), 512):
        end = min(at + 512, len(data))
        found = parse(data[:at] + bytes(end - at) + (b"\n" if end == len(data) else b"") + data[end:], path)
        hit = {number for number, document in whole.documents.items()
               if not (data.find(document["id"].encode()) + len(str(document)) + 200 < at
                       or data.find(document["id"].encode()) - 200 > end)}
        assert set(whole.documents) - set(found.documents) <= hit
        assert all(found.documents[number] == whole.documents[number] for number in found.documents)
        assert found.damaged_lines and found.next_number >= whole.next_number and found.reports


def test_small_files_that_are_lost_are_as_damaged_ones(tmp_path):
    folder = tmp_path / "data"
    DeviceBook(folder)
    lose(folder / "devices.json")
    with pytest.raises(Problem) as found:
        DeviceBook(folder)
    assert found.value.code == "devices_damaged" and "devices.json" in str(found.value)
    lose(folder / "origin.json")
    with pytest.raises(Problem) as found:
        kept_origin(folder)
    assert found.value.code == "origin_damaged"
    lose(folder / "secret_key")
    assert settings.secret_key(folder) == (folder / "secret_key").read_bytes()
    filled(tmp_path / "other").close()
    lose(tmp_path / "other" / "identity")
    TinyStore(tmp_path / "other").close()
    assert not (tmp_path / "other" / "identity").is_symlink()


def test_what_stops_a_command_names_the_lost_file(tmp_path):
    lose(tmp_path / "file")
    with pytest.raises(Problem) as found, disk_problems():
        read_whole(tmp_path / "file")
    assert f"(Input/output error: {tmp_path / 'file'})" in str(found.value)


def test_a_file_that_may_not_be_read_is_no_damage(store, tmp_path):
    """A folder in a picture's place: there is something, and it is no lost sector. It stays, and holds up no other."""
    path = tmp_path / "data" / "photos" / f"{LOST}.jpg"
    path.unlink()
    path.mkdir()
    assert store.missing_photos([LOST, WHOLE]) == [LOST] == store.wanted_photos() and path.is_dir()
    with pytest.raises(Problem) as found:
        store.put_photo(LOST, PICTURES[LOST])
    assert found.value.code == "disk_trouble" and f"(Is a directory: {path})" in str(found.value)
    assert path.is_dir() and store.wanted_photos() == [LOST]
