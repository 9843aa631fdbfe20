"""A full disk: nothing is acknowledged that is not kept, and everything works again once there is room."""

import hashlib

import pytest

from cotterbook.errors import Problem
from cotterbook.store import TinyStore
from cotterbook.store.tables import EntryDatabase
from disk import full_at
from examples import STRIP, entry, picture

EVERYTHING = (1_000, 1_000_000)


@pytest.mark.parametrize("room", [0, 1, 100, 1_000, 3_000])
def test_a_write_that_does_not_fit_leaves_the_file_as_it_was(data_folder, store, room):
    store.append(STRIP, [entry(0)])
    path = data_folder / "strips" / f"{STRIP}.jsonl"
    before = path.read_bytes()
    many = [entry(n) for n in range(20)]
    with full_at(len(before) + room), pytest.raises(Problem, match="disk is full. Nothing that was kept is lost"):
        store.append(STRIP, many)
    assert path.read_bytes() == before
    assert store.read(STRIP, 0, *EVERYTHING) == ([entry(0)], 1, False)
    assert set(store.append(STRIP, many).accepted.values()) == set(range(1, 21))
    store.close()
    again = TinyStore(data_folder)
    assert again.reports == []
    assert again.read(STRIP, 0, *EVERYTHING).entries == many
    again.close()


def test_what_fits_is_kept_until_the_disk_is_full(store):
    kept = []
    with full_at(5_000), pytest.raises(Problem) as caught:
        for number in range(1_000):
            store.append(STRIP, [entry(number)])
            kept.append(entry(number))
    assert caught.value.code == "disk_full"
    assert len(kept) > 5
    assert store.read(STRIP, 0, *EVERYTHING).entries == kept


def test_a_new_strip_down_that_does_not_fit_is_not_begun(store):
    with full_at(10), pytest.raises(Problem, match="disk is full"):
        store.append(STRIP, [entry(0)])
    assert store.strips() == {}
    assert store.append(STRIP, [entry(0)]).accepted == {entry(0)["id"]: 1}


def test_a_picture_that_does_not_fit_leaves_nothing_behind(data_folder, store):
    data = picture(1)
    sha256 = hashlib.sha256(data).hexdigest()
    with full_at(len(data) - 1), pytest.raises(Problem, match="disk is full"):
        store.put_photo(sha256, data)
    assert list((data_folder / "photos").iterdir()) == []
    assert store.missing_photos([sha256]) == [sha256]
    store.put_photo(sha256, data)
    assert store.get_photo(sha256) == data


def test_tinydbs_write_of_everything_that_does_not_fit_changes_nothing(data_folder, store):
    store.append(STRIP, [entry(n) for n in range(3)])
    path = data_folder / "strips" / f"{STRIP}.jsonl"
    before = path.read_bytes()
    database = EntryDatabase(path, STRIP)
    with full_at(len(before) // 2), pytest.raises(Problem, match="disk is full"):
        database.update({"who": "Bob"}, doc_ids=[1])
    assert path.read_bytes() == before
    assert [row["who"] for row in database] == ["Ann"] * 3
    assert [each.name for each in path.parent.iterdir()] == [path.name]
