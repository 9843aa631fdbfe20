"""Daily copies: one a day, the oldest go, and their pictures stay whole beside them."""

import hashlib
import os
import shutil
import time
from datetime import timedelta

import pytest

from copying import NOW, PHOTOS, fill
from cotterbook.bundles.reading import verify
from cotterbook.concerns import Concerns
from cotterbook.copies import DailyCopies, restore
from cotterbook.core.words import spoken
from cotterbook.store import TinyStore
from cotterbook.store.folder import FolderReader
from examples import STRIP, entry, photo_entry


def test_a_copy_a_day_is_made_and_the_oldest_go(tmp_path):
    folder, sha256 = tmp_path / "data", next(iter(PHOTOS))
    store = TinyStore(folder)
    copies = DailyCopies(store, folder, 3, Concerns(store, folder))
    assert copies.look(NOW) is None  # nothing to copy yet
    store.append(STRIP, [entry(1), photo_entry(2, PHOTOS[sha256])])
    store.put_photo(sha256, PHOTOS[sha256])
    for day in range(5):
        assert copies.look(NOW + timedelta(days=day)) is not None
        assert copies.look(NOW + timedelta(days=day, hours=2)) is None
    names = sorted(path.name for path in (folder / "copies").glob("*.zip"))
    assert names == ["daily-2026-03-03.zip", "daily-2026-03-04.zip", "daily-2026-03-05.zip"]
    # The picture is there once for all of them, as a second name of the same file.
    assert os.path.samefile(folder / "copies" / "photos" / f"{sha256}.jpg", folder / "photos" / f"{sha256}.jpg")
    store.close()
    # Pictures of a daily copy come from beside it, also when the data folder has lost them.
    shutil.rmtree(folder / "photos")
    restored = restore(folder, folder / "copies" / names[0], NOW)
    assert restored.missing_photos == []
    assert FolderReader(folder).get_photo(sha256) == PHOTOS[sha256]
    # A damaged one is not taken for it, and where there is no other, the picture is said to be missing.
    shutil.rmtree(folder / "photos")
    (folder / "copies" / "photos" / f"{sha256}.jpg").unlink()
    (folder / "copies" / "photos" / f"{sha256}.jpg").write_bytes(b"rot")
    assert restore(folder, folder / "copies" / names[0], NOW).missing_photos == [sha256]


def test_a_clock_that_went_back_takes_no_copy_just_made(tmp_path):
    folder = tmp_path / "data"
    store = TinyStore(folder)
    concerns = Concerns(store, folder)
    copies = DailyCopies(store, folder, 3, concerns)
    fill(store, range(3))
    for day in range(4):
        copies.look(NOW + timedelta(days=100 + day))
    assert concerns.now() == []
    fill(store, range(3, 6))
    made = copies.look(NOW)
    assert verify(made).entries == {STRIP: 6}
    names = ["daily-2026-06-11.zip", "daily-2026-06-12.zip"]
    assert sorted(each.name for each in (folder / "copies").glob("*.zip")) == [made.name, *names]
    [told] = map(spoken, concerns.now())
    assert told.startswith("Copies of the data that are dated after today: 3, up to daily-2026-06-12.zip. ")
    assert "The PC’s clock stands at 2026-03-01:" in told
    for day in (1, 2):
        copies.look(NOW + timedelta(days=day))
    # Those of the other clock were made first, and have gone first.
    assert sorted(each.name for each in (folder / "copies").glob("*.zip")) == [
        f"daily-2026-03-0{day}.zip" for day in (1, 2, 3)]
    copies.look(NOW + timedelta(days=2, hours=1))
    assert concerns.now() == []
    store.close()


def rot_in_place(path):
    """What a disk does: one bit of the file is another, and the file is the same."""
    with open(path, "r+b") as file:
        file.seek(path.stat().st_size // 2)
        byte = file.read(1)[0]
        file.seek(-1, os.SEEK_CUR)
        file.write(bytes([byte ^ 0x01]))


@pytest.fixture(params=["with hard links", "without hard links"])
def daily(request, tmp_path, monkeypatch):
    """A store with one picture and one daily copy of it; (store, copies, its own file, the copies' file, SHA-256)."""
    if request.param == "without hard links":

        def refuse(*_):
            raise OSError("no second names on this disk")

        monkeypatch.setattr(os, "link", refuse)
    folder, sha256 = tmp_path / "data", next(iter(PHOTOS))
    store = TinyStore(folder)
    store.put_photo(sha256, PHOTOS[sha256])
    store.append(STRIP, [photo_entry(1, PHOTOS[sha256])])
    copies = DailyCopies(store, folder, 2, Concerns(store, folder))
    copies.look(NOW)
    own, kept = folder / "photos" / f"{sha256}.jpg", folder / "copies" / "photos" / f"{sha256}.jpg"
    assert os.path.samefile(own, kept) == (request.param == "with hard links")
    yield store, copies, own, kept, sha256
    store.close()


def test_a_picture_that_rotted_everywhere_is_whole_everywhere_when_it_comes_again(daily, tmp_path):
    store, copies, own, kept, sha256 = daily
    rot_in_place(own)
    if not os.path.samefile(own, kept):
        rot_in_place(kept)
    assert store.missing_photos([sha256]) == [sha256]
    copies.look(NOW)
    assert store.wanted_photos() == [sha256]  # nothing whole was there to take it back from
    store.put_photo(sha256, PHOTOS[sha256])
    copies.look(NOW + timedelta(minutes=15))  # the copy of that day is made already
    assert kept.read_bytes() == PHOTOS[sha256] and list(kept.parent.iterdir()) == [kept]
    store.close()
    shutil.rmtree(own.parent)
    assert restore(tmp_path / "data", tmp_path / "data" / "copies" / "daily-2026-03-01.zip", NOW).missing_photos == []
    assert own.read_bytes() == PHOTOS[sha256]


def test_a_picture_that_came_again_before_a_start_is_whole_beside_the_next_copy(daily, tmp_path):
    store, _, own, kept, sha256 = daily
    if not os.path.samefile(own, kept):
        rot_in_place(kept)
    rot_in_place(own)
    assert store.get_photo(sha256) is None
    store.put_photo(sha256, PHOTOS[sha256])
    assert kept.read_bytes() != PHOTOS[sha256]
    DailyCopies(store, tmp_path / "data", 2, Concerns(store, tmp_path / "data")).look(NOW + timedelta(days=1))
    assert kept.read_bytes() == PHOTOS[sha256] == own.read_bytes()


def test_a_rotten_picture_beside_the_copies_is_made_whole_again(daily):
    _, copies, own, kept, sha256 = daily
    if os.path.samefile(own, kept):
        kept.write_bytes(b"")  # what spoils it for both is another test's
        own.unlink()
        own.write_bytes(PHOTOS[sha256])
    else:
        rot_in_place(kept)
    copies.look(NOW + timedelta(days=1))
    assert kept.read_bytes() == PHOTOS[sha256] == own.read_bytes()


def test_a_wanted_picture_is_taken_back_from_beside_the_copies_and_stays_there(daily, tmp_path):
    store, copies, own, kept, sha256 = daily
    if os.path.samefile(own, kept):
        kept.unlink()
        kept.write_bytes(PHOTOS[sha256])
    rot_in_place(own)
    assert store.missing_photos([sha256]) == [sha256] and store.wanted_photos() == [sha256]
    copies.look(NOW + timedelta(minutes=15))
    assert store.wanted_photos() == [] and store.get_photo(sha256) == PHOTOS[sha256] == kept.read_bytes()


def test_a_picture_whose_file_is_gone_is_taken_back_from_beside_the_copies(daily, tmp_path):
    store, copies, own, kept, sha256 = daily
    own.unlink()
    assert store.missing_photos([sha256]) == [sha256] == store.awaited_photos()
    copies.look(NOW + timedelta(minutes=15))
    assert store.awaited_photos() == [] and own.read_bytes() == PHOTOS[sha256] == kept.read_bytes()


def test_a_picture_that_is_wanted_or_named_stays_beside_the_copies(tmp_path):
    """The one is put aside as damaged, the other is in no store any more and only a copy by hand names it."""
    folder, (wanted, named) = tmp_path / "data", PHOTOS
    store = TinyStore(folder)
    for sha256, data in PHOTOS.items():
        store.put_photo(sha256, data)
    store.append(STRIP, [photo_entry(n, data) for n, data in enumerate(PHOTOS.values(), 1)])
    copies = DailyCopies(store, folder, 1, Concerns(store, folder))
    pool = folder / "copies" / "photos"
    copies.look(NOW)
    shutil.copy(folder / "copies" / "daily-2026-03-01.zip", folder / "copies" / "by-hand.zip")
    rot_in_place(folder / "photos" / f"{wanted}.jpg")
    assert store.get_photo(wanted) is None
    (folder / "photos" / f"{named}.jpg").unlink()
    foreign = pool / f"{hashlib.sha256(b'').hexdigest()}.jpg"
    foreign.touch()
    copies.look(NOW + timedelta(days=1))
    assert sorted(each.stem for each in pool.iterdir()) == sorted(PHOTOS)
    # With a copy that cannot be read nobody knows what it names.
    (folder / "copies" / "by-hand.zip").write_bytes(b"rot")
    foreign.touch()
    copies.look(NOW + timedelta(days=2))
    assert foreign.exists() and len(list(pool.iterdir())) == 3
    store.close()


@pytest.mark.parametrize(("options", "made"), [((), True), (("--copies", "0"), False)])
def test_the_program_makes_its_daily_copy_by_itself_unless_none_is_wanted(stopped_server, options, made):
    store = TinyStore(stopped_server.folder)
    fill(store, range(7))
    store.close()
    stopped_server.options = options
    stopped_server.start()
    end = time.monotonic() + (60 if made else 3)
    while not (found := list((stopped_server.folder / "copies").glob("daily-*.zip"))) and time.monotonic() < end:
        time.sleep(0.1)
    assert [verify(path).entries for path in found] == ([{STRIP: 7}] if made else [])
