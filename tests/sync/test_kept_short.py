"""What was made short for the wire is kept, and believed only where it is just what it should be."""

import hashlib
import os

import brotli
import pytest

from cotterbook import compressed
from cotterbook.compressed import made_short

DATA = b"A line of a page that is asked for again and again.\n" * 2_000
HASH = hashlib.sha256(DATA).hexdigest()


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "cache" / "brotli"


def kept(folder):
    return folder / f"{HASH}.br"


def test_what_was_made_is_taken_from_the_folder_the_next_time(folder):
    assert brotli.decompress(made_short(DATA, HASH, folder)) == DATA
    # Another writing of the same, as no run would make it: it comes from the folder, then.
    other = brotli.compress(DATA, quality=1)
    assert other != kept(folder).read_bytes()
    kept(folder).write_bytes(other)
    assert made_short(DATA, HASH, folder) == other


@pytest.mark.parametrize("spoiled", [
    b"", b"not Brotli at all", brotli.compress(DATA)[:-3], brotli.compress(DATA[:-1]), brotli.compress(DATA + b"."),
    brotli.compress(b"Another page."), brotli.compress(DATA) + b"more", brotli.compress(b"\0" * 50_000_000),
])  # fmt: skip
def test_what_is_torn_or_of_another_file_is_made_anew(folder, spoiled):
    folder.mkdir(parents=True)
    kept(folder).write_bytes(spoiled)
    assert brotli.decompress(made_short(DATA, HASH, folder)) == DATA
    assert brotli.decompress(kept(folder).read_bytes()) == DATA


def test_where_nothing_can_be_kept_it_is_made_each_time(tmp_path):
    in_the_way = tmp_path / "cache"
    in_the_way.write_text("a file where the folder would be")
    assert brotli.decompress(made_short(DATA, HASH, in_the_way / "brotli")) == DATA
    folder = tmp_path / "brotli"
    kept(folder).mkdir(parents=True)
    assert brotli.decompress(made_short(DATA, HASH, folder)) == DATA
    assert [path.name for path in folder.iterdir()] == [f"{HASH}.br"]


def test_the_folder_does_not_grow_for_ever(folder):
    folder.mkdir(parents=True)
    for number in range(compressed.MOST_KEPT):
        (folder / f"{number}.br").touch()
        os.utime(folder / f"{number}.br", (number, number))
    made_short(DATA, HASH, folder)
    left = {path.name for path in folder.iterdir()}
    assert len(left) <= compressed.MOST_KEPT // 2 + 1
    assert {f"{HASH}.br", f"{compressed.MOST_KEPT - 1}.br"} <= left and "0.br" not in left
