"""A page of PostgreSQL's that its disk spoiled, and databases that only read: what can be read of them is."""

import hashlib
import re

import pytest

from cotterbook import photos
from cotterbook.concerns import Concerns
from cotterbook.core.words import spoken
from cotterbook.errors import Problem
from cotterbook.store.opening import reading
from cotterbook.store.postgres import PostgresStore
from examples import STRIP, entry, photo_entry, picture
from postgres import Postgres
from running import run

# Each larger than a page of the database.
PICTURES = {hashlib.sha256(picture(number, 160)).hexdigest(): picture(number, 160) for number in range(4)}
SPOILED, *OTHERS = PICTURES
EVERYTHING = (1_000, 1_000_000)


@pytest.fixture
def own(postgres):
    """A PostgreSQL that this test alone may stop."""
    server = Postgres(postgres.programs).start()
    yield server
    server.close()


def fill(url):
    store = PostgresStore(url)
    store.append(STRIP, [photo_entry(number, data) for number, data in enumerate(PICTURES.values())])
    for sha256, data in PICTURES.items():
        store.put_photo(sha256, data)
    store.close()


def test_a_spoiled_page_costs_its_own_picture_alone_until_it_comes_again(own, tmp_path):
    url = own.database()
    fill(url)
    own.spoil(url, "cotterbook.pictures")
    with pytest.raises(Exception, match="invalid page"):
        own.execute(f"SELECT data FROM cotterbook.pictures WHERE sha256 = '{SPOILED}'", url)
    # A bundle names it as not in it; what only reads notes nothing.
    code, out, errors = run("export", str(tmp_path / "out.zip"), "--store", url, "--data", str(tmp_path / "data"))
    assert code == 0 and "pictures 3." in out and "not on this computer and not in the bundle: 1." in errors
    code, out, errors = run("move", "--store", url, "--data", str(tmp_path / "data"), "--to", str(tmp_path / "goal"))
    assert code == 0 and "pictures 3." in out and f"picture {SPOILED} was damaged" in errors
    store = PostgresStore(url)
    assert store.missing_photos(list(PICTURES)) == [SPOILED]
    assert store.wanted_photos() == store.awaited_photos() == [SPOILED] and store.photos() == sorted(OTHERS)
    assert [store.get_photo(sha256) for sha256 in PICTURES] == [None, *(PICTURES[each] for each in OTHERS)]
    assert store.append(STRIP, [entry(9)]).refused == []
    store.close()
    # Another start knows it too.
    store = PostgresStore(url)
    assert store.wanted_photos() == [SPOILED]
    photos.receive(store, SPOILED, PICTURES[SPOILED])
    assert store.wanted_photos() == store.awaited_photos() == store.missing_photos(list(PICTURES)) == []
    assert store.get_photo(SPOILED) == PICTURES[SPOILED] and store.photos() == sorted(PICTURES)
    store.close()
    code, out, errors = run("backup", "--store", url, "--data", str(tmp_path / "data"))
    assert (code, errors) == (0, "") and "pictures 4." in out


@pytest.mark.parametrize("first", ["get", "put"])
def test_a_spoiled_page_is_found_by_whatever_asks_first(own, first):
    url = own.database()
    fill(url)
    own.spoil(url, "cotterbook.pictures")
    store = PostgresStore(url)
    if first == "get":
        assert store.get_photo(SPOILED) is None and store.wanted_photos() == [SPOILED]
    store.put_photo(SPOILED, PICTURES[SPOILED])
    assert store.get_photo(SPOILED) == PICTURES[SPOILED] and store.wanted_photos() == []
    store.close()


def test_a_picture_on_a_spoiled_page_that_nobody_has_any_more_is_given_up_as_the_owner_is_told(own, tmp_path):
    url = own.database()
    fill(url)
    own.spoil(url, "cotterbook.pictures")
    store = PostgresStore(url)
    assert store.missing_photos(list(PICTURES)) == [SPOILED]
    [told] = [spoken(each) for each in Concerns(store, tmp_path).now() if "spoiled" in each["text"]]
    [statement] = re.findall(r"UPDATE [^;]*(?=\.$)", told)
    for _ in range(2):
        own.execute(statement, url)
        assert store.wanted_photos() == [] and store.photos() == sorted(OTHERS)
    assert not [each for each in Concerns(store, tmp_path).now() if "spoiled" in each["text"]]
    store.close()


def contents(folder, url):
    with reading(folder, url) as store:
        return store.strips(), store.read(STRIP, 0, *EVERYTHING).entries, store.photos(), [
            store.get_photo(sha256) == PICTURES[sha256] for sha256 in PICTURES]


def test_a_database_that_only_reads_is_read_from(own, tmp_path):
    """Set so, by a role that may do no more, and on a standby; also where a picture is named and not there."""
    url = own.database()
    name = url.rsplit("/", 1)[1]
    fill(url)
    own.execute(f"DELETE FROM cotterbook.pictures WHERE sha256 = '{OTHERS[0]}'", url)
    own.execute("UPDATE cotterbook.pictures SET data = set_byte(data, 0, get_byte(data, 0) # 1)"
                f" WHERE sha256 = '{OTHERS[1]}'", url)
    own.execute("CREATE ROLE reader LOGIN PASSWORD 'reader'")
    own.execute("GRANT USAGE ON SCHEMA cotterbook TO reader; GRANT SELECT ON ALL TABLES IN SCHEMA cotterbook TO reader",
                url)
    own.execute(f"ALTER DATABASE {name} SET default_transaction_read_only = on")
    standby = Postgres(own.programs, copy_of=own).start()
    try:
        for readable in (url, own.url(name, "reader", "reader"), standby.url(name)):
            strips, entries, held, whole = contents(tmp_path, readable)
            assert strips == {STRIP: 4} and len(entries) == 4 and whole == [True, False, False, True], readable
            assert held == sorted({*PICTURES} - {OTHERS[0]})
            out = tmp_path / "out.zip"
            code, said, _ = run("export", str(out), "--store", readable, "--data", str(tmp_path / "data"))
            assert code == 0 and "pictures 2." in said
            out.unlink()
        # Nobody serves from a standby: once it leads it has another identity.
        with pytest.raises(Problem, match="of the leading server"):
            PostgresStore(standby.url(name))
    finally:
        standby.close()
    store = PostgresStore(url)
    assert store.get_photo(OTHERS[0]) is None
    assert store.missing_photos(list(PICTURES)) == [OTHERS[0], OTHERS[1]]
    with pytest.raises(Problem, match="takes no writing here"):
        store.append(STRIP, [entry(9)])
    store.close()
    # As soon as it may be written to, what was found is noted.
    own.execute(f"ALTER DATABASE {name} RESET default_transaction_read_only")
    store = PostgresStore(url)
    assert store.missing_photos(list(PICTURES)) == [OTHERS[0], OTHERS[1]]
    assert store.wanted_photos() == [OTHERS[1]] and store.awaited_photos() == sorted(OTHERS[:2])
    store.close()
