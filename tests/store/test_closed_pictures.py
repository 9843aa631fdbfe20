"""Picture files that the program may not read, as somebody leaves them who copied them in by hand as another user."""

import hashlib
import os
import time
from datetime import datetime

import pytest

from cotterbook.bundles.reading import verify
from cotterbook.concerns import Concerns
from cotterbook.copies import DailyCopies
from cotterbook.store import TinyStore
from cotterbook.store.folder import FolderReader
from examples import STRIP, entry, photo_entry, picture
from held_back import HELD_BACK, on_linux, run_held_back

pytestmark = on_linux
LONG_AGO = datetime(2026, 3, 1, 18, 30)
PICTURES = {hashlib.sha256(picture(n)).hexdigest(): picture(n) for n in (1, 2)}
CLOSED, OTHER = sorted(PICTURES)


@pytest.fixture
def folder(tmp_path):
    """A data folder with two pictures and a daily copy of an earlier day."""
    store = TinyStore(tmp_path / "data")
    for sha256, data in PICTURES.items():
        store.put_photo(sha256, data)
    named = [photo_entry(number, data) for number, data in enumerate(PICTURES.values(), 2)]
    assert store.append(STRIP, [entry(1), *named]).refused == []
    DailyCopies(store, tmp_path / "data", 3, Concerns(store, tmp_path / "data")).look(LONG_AGO)
    store.close()
    return tmp_path / "data"


def close(path):
    path.chmod(0)
    return path


def serve_until_copied(server, folder):
    """Serve the folder, held back from what it may not read, until there is one daily copy more."""
    server.folder, server.program = folder, ["-c", HELD_BACK]
    server.start()
    end = time.monotonic() + 60
    while len(list((folder / "copies").glob("daily-*.zip"))) < 2 and time.monotonic() < end:
        time.sleep(0.1)
    server.stop()


def test_what_may_not_be_read_beside_the_copies_holds_up_no_copy_and_no_other_picture(stopped_server, folder):
    own, kept = folder / "photos", folder / "copies" / "photos"
    assert os.path.samefile(own / f"{CLOSED}.jpg", kept / f"{CLOSED}.jpg")
    close(kept / f"{CLOSED}.jpg")
    # A phone sent it again: that is another file, and the old one still lies beside the copies.
    (own / f"{CLOSED}.jpg").unlink()
    store = TinyStore(folder)
    store.put_photo(CLOSED, PICTURES[CLOSED])
    store.close()
    (own / f"{OTHER}.jpg").unlink()
    serve_until_copied(stopped_server, folder)
    made = [verify(path).entries for path in (folder / "copies").glob("daily-*.zip")]
    assert made == [{STRIP: 3}, {STRIP: 3}], stopped_server.log.read_text()
    for sha256, data in PICTURES.items():
        for place in (own, kept):
            path = place / f"{sha256}.jpg"
            assert path.stat().st_mode & 0o400 and path.read_bytes() == data


def test_of_two_that_are_gone_the_one_that_may_not_be_read_holds_up_no_other(stopped_server, folder):
    own = folder / "photos"
    for sha256 in PICTURES:
        (own / f"{sha256}.jpg").unlink()
    close(folder / "copies" / "photos" / f"{CLOSED}.jpg")
    serve_until_copied(stopped_server, folder)
    assert len(list((folder / "copies").glob("daily-*.zip"))) == 2, stopped_server.log.read_text()
    assert (own / f"{OTHER}.jpg").read_bytes() == PICTURES[OTHER]
    assert not (own / f"{CLOSED}.jpg").exists()


@pytest.mark.parametrize("command", ["backup", "export"])
def test_a_bundle_is_made_without_it_and_names_the_file(folder, tmp_path, command):
    closed = close(folder / "photos" / f"{CLOSED}.jpg")
    to = ["--to", tmp_path / "stick"] if command == "backup" else [tmp_path / "out.zip"]
    code, said, error = run_held_back(command, *to, "--data", folder)
    assert code == 0 and "entries 3, pictures 1. It was read back and is whole." in said
    assert error == (
        "cotterbook: Pictures that you may not read on this computer, and that are not in the bundle: 1"
        f" ({closed}). They are as they were. Give yourself the right to read them, then make another bundle.\n")
    [made] = [*tmp_path.glob("stick/*.zip"), *tmp_path.glob("out.zip")]
    assert (verify(made).photos, verify(made).missing_photos) == ([OTHER], [CLOSED])


def test_many_of_them_are_counted_and_some_are_named(folder, tmp_path):
    for path in (folder / "photos").iterdir():
        path.unlink()
    store = TinyStore(folder)
    more = [picture(n) for n in range(1, 8)]
    store.append(STRIP, [photo_entry(n, data) for n, data in enumerate(more, 10)])
    for data in more:
        store.put_photo(hashlib.sha256(data).hexdigest(), data)
    store.close()
    for path in (folder / "photos").iterdir():
        close(path)
    code, said, error = run_held_back("export", tmp_path / "out.zip", "--data", folder)
    assert code == 0 and "pictures 0" in said
    assert ": 7 (" in error and error.count(".jpg") == 5 and " and 2 more). They are as they were." in error


def test_a_move_ends_at_it_with_its_name_and_goes_on_once_it_may_be_read(folder, tmp_path):
    closed = close(folder / "photos" / f"{CLOSED}.jpg")
    arguments = ("move", "--data", folder, "--to", tmp_path / "moved")
    code, _, error = run_held_back(*arguments)
    assert code == 1 and f"may not read the picture {closed} (Permission denied). It is as it was" in error
    closed.chmod(0o600)
    code, said, error = run_held_back(*arguments)
    assert (code, error) == (0, "") and "entries 3, pictures 2." in said
    assert FolderReader(tmp_path / "moved").get_photo(CLOSED) == PICTURES[CLOSED]


def test_a_move_does_not_take_a_folder_that_it_may_not_read_for_an_empty_one(folder, tmp_path):
    close(folder / "photos")
    code, said, error = run_held_back("move", "--data", folder, "--to", tmp_path / "moved")
    (folder / "photos").chmod(0o700)
    assert code == 1 and f"(Permission denied: {folder / 'photos'})" in error and "Carried" not in said


@pytest.mark.parametrize("command", ["restore", "import"])
def test_a_daily_copy_is_not_taken_in_without_it_unless_somebody_says_so(folder, tmp_path, command):
    kept, target = folder / "copies" / "photos" / f"{CLOSED}.jpg", tmp_path / "other"
    close(kept)
    arguments = (command, folder / "copies" / "daily-2026-03-01.zip", "--data", target)
    code, _, error = run_held_back(*arguments)
    assert code == 1 and f"may not read the picture {kept} (Permission denied)" in error
    if command == "restore":
        assert not (target / "strips").exists()
    else:
        assert FolderReader(target).get_photo(OTHER) == PICTURES[OTHER]
    kept.rename(tmp_path / kept.name)
    code, said, error = run_held_back(*arguments)
    assert (code, error) == (0, "") and ": 1. Phones that have them send them" in said


def test_what_is_gone_back_from_is_moved_aside_with_it(folder, tmp_path):
    """As it is, with the count of what is not in the copy of it."""
    copy = folder / "copies" / "daily-2026-03-01.zip"
    own = folder / "photos" / f"{CLOSED}.jpg"
    data = own.read_bytes()
    own.unlink()
    own.write_bytes(data)
    close(own)
    code, said, error = run_held_back("restore", copy, "--data", folder)
    assert (code, error) == (0, "")
    assert "damaged or may not be read, and are not in that copy: 1. They were moved as they were." in said
    [aside] = folder.glob("replaced-*")
    assert (aside / "photos" / own.name).exists() and own.read_bytes() == data
