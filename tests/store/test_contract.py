"""What every store promises. Another store joins by a row in STORES."""

import hashlib
import threading
import uuid
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from cotterbook.store import Store, TinyStore
from cotterbook.store.gaps import Gap
from cotterbook.store.postgres import PostgresStore
from examples import OTHER_STRIP, STRIP, entry, photo_entry, picture

LIMIT = 50
EVERYTHING = (1_000, 1_000_000)
Make = Callable[[Path], Store]
# Flips a bit of a picture that the store over a folder keeps, as a disk does.
Spoil = Callable[[Path, str], None]
# Takes a picture away, as the mending of a file system may after a power cut.
Lose = Callable[[Path, str], None]


def tinydb(request: pytest.FixtureRequest) -> tuple[Make, Spoil, Lose]:
    def spoil(folder: Path, sha256: str) -> None:
        path = folder / "photos" / f"{sha256}.jpg"
        data = path.read_bytes()
        path.write_bytes(bytes([data[0] ^ 1]) + data[1:])

    def lose(folder: Path, sha256: str) -> None:
        (folder / "photos" / f"{sha256}.jpg").unlink()

    return lambda folder: TinyStore(folder, entries_a_strip=LIMIT), spoil, lose


def postgres(request: pytest.FixtureRequest) -> tuple[Make, Spoil, Lose]:
    server, urls = request.getfixturevalue("postgres"), dict[Path, str]()

    def make(folder: Path) -> Store:
        if folder not in urls:
            urls[folder] = server.database()
        return PostgresStore(urls[folder], entries_a_strip=LIMIT)

    def spoil(folder: Path, sha256: str) -> None:
        server.execute("UPDATE cotterbook.pictures SET data = set_byte(data, 0, get_byte(data, 0) # 1)"
                       f" WHERE sha256 = '{sha256}'", urls[folder])

    def lose(folder: Path, sha256: str) -> None:
        server.execute(f"DELETE FROM cotterbook.pictures WHERE sha256 = '{sha256}'", urls[folder])

    return make, spoil, lose


# For each store what gives the functions that open one, over the same data for the same folder, and spoil a picture.
STORES = {"tinydb": tinydb, "postgres": postgres}


class Opener:
    """Opens one store over the same data again and again, as a program that is started again would."""

    def __init__(self, make: Make, spoil: Spoil, lose: Lose, folder: Path) -> None:
        self._folder, self.make, self._spoil, self._lose = folder, make, spoil, lose
        self.store = make(folder)

    def spoil(self, sha256: str) -> None:
        self._spoil(self._folder, sha256)

    def lose(self, sha256: str) -> None:
        self._lose(self._folder, sha256)

    def again(self) -> Store:
        self.store.close()
        self.store = self.make(self._folder)
        return self.store


@pytest.fixture(params=STORES)
def opened(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Opener]:
    opener = Opener(*STORES[request.param](request), tmp_path / "data")
    yield opener
    opener.store.close()


def test_what_is_held_under_an_identifier_is_told_in_whichever_strip_down(opened):
    opened.store.append(STRIP, [entry(1), entry(2)])
    opened.store.append(OTHER_STRIP, [entry(3, OTHER_STRIP)])
    ids = [entry(number)["id"] for number in (2, 3, 4)]
    assert opened.store.held(ids) == {ids[0]: entry(2), ids[1]: entry(3, OTHER_STRIP)}
    assert opened.again().held(ids[1:]) == {ids[1]: entry(3, OTHER_STRIP)} and opened.store.held([]) == {}


def test_entries_are_numbered_in_order_and_read_back_unchanged(opened):
    entries = [entry(n, who="Zoë ✓ 'Ø'", values={"note": 'two\nlines, "quoted" \u2028 and a tab\t'}) for n in range(3)]
    assert opened.store.append(STRIP, entries).accepted == {entries[n]["id"]: n + 1 for n in range(3)}
    assert opened.store.read(STRIP, 0, *EVERYTHING) == (entries, 3, False)
    assert opened.again().read(STRIP, 0, *EVERYTHING) == (entries, 3, False)


def test_numbering_goes_on_after_a_restart(opened):
    opened.store.append(STRIP, [entry(1), entry(2)])
    assert opened.again().append(STRIP, [entry(3)]).accepted == {entry(3)["id"]: 3}
    assert opened.store.strips() == {STRIP: 3}


def test_a_store_keeps_its_identity_and_another_has_another(opened, tmp_path):
    first = opened.store.identity
    assert opened.again().identity == first == str(uuid.UUID(first))
    other = opened.make(tmp_path / "other")
    assert other.identity != first
    other.close()


def test_the_last_entries_are_told_and_where_an_entry_is(opened):
    assert opened.store.lasts() == {} and opened.store.places([]) == {}
    opened.store.append(STRIP, [entry(2), entry(1)])
    opened.store.append(OTHER_STRIP, [entry(3, OTHER_STRIP)])
    for again in (False, True):
        store = opened.again() if again else opened.store
        assert store.lasts() == {STRIP: (2, entry(1)["id"]), OTHER_STRIP: (1, entry(3)["id"])}
        assert store.places([entry(number)["id"] for number in (1, 3, 4)]) == {
            entry(1)["id"]: (STRIP, 2), entry(3)["id"]: (OTHER_STRIP, 1)}
    opened.store.append(STRIP, [entry(5)])
    assert opened.store.lasts()[STRIP] == (3, entry(5)["id"])


def test_what_is_gone_is_kept_until_somebody_changes_it(opened):
    gap, other = Gap("a", STRIP, 5, entry(5)["id"], 7, ("p", "q")), Gap("b", OTHER_STRIP, 1, "", 2**52)
    assert opened.store.gaps() == ()
    for more in (gap, other):
        opened.store.change_gaps(lambda gaps, more=more: (*gaps, more))
    identity = opened.store.begin_anew(opened.store.identity)
    opened.store.append(STRIP, [entry(1)])
    again = opened.again()
    assert (again.gaps(), again.identity) == ((gap, other), identity)
    again.change_gaps(lambda gaps: gaps[1:])
    assert opened.again().gaps() == (other,)
    opened.store.change_gaps(lambda _: ())
    assert opened.again().gaps() == ()


def test_a_store_begins_anew_once_however_many_ask(opened):
    opened.store.append(STRIP, [entry(1)])
    first = opened.store.identity_now()
    second = opened.store.begin_anew(first)
    assert second == opened.store.begin_anew(first) == opened.store.identity == str(uuid.UUID(second)) != first
    again = opened.again()
    assert (again.identity_now(), again.strips()) == (second, {STRIP: 1})


def test_strip_downs_are_apart(opened):
    opened.store.append(STRIP, [entry(1), entry(2)])
    opened.store.append(OTHER_STRIP, [entry(3, OTHER_STRIP)])
    assert opened.again().strips() == {STRIP: 2, OTHER_STRIP: 1}
    assert opened.store.read(OTHER_STRIP, 0, *EVERYTHING).entries == [entry(3, OTHER_STRIP)]


def test_the_same_entry_twice_is_one_entry(opened):
    opened.store.append(STRIP, [entry(1)])
    for _ in range(2):
        assert opened.store.append(STRIP, [entry(1), entry(2), entry(2)]) == (
            {entry(1)["id"]: 1, entry(2)["id"]: 2}, [])
        opened.again()
    assert opened.store.read(STRIP, 0, *EVERYTHING).entries == [entry(1), entry(2)]


def test_the_same_content_in_another_order_and_writing_is_the_same(opened):
    first = entry(1, kind="reading_to_come", level=2)
    opened.store.append(STRIP, [first])
    assert opened.store.append(STRIP, [dict(reversed({**first, "level": 2.0}.items()))]).refused == []


@pytest.mark.parametrize("other", [entry(1, who="Bob"), entry(1, level=True), entry(1, OTHER_STRIP)])
def test_an_id_used_twice_is_refused_and_the_first_stays(opened, other):
    first = entry(1, level=1)
    opened.store.append(STRIP, [first])
    appended = opened.store.append(other["strip"], [other, entry(2, other["strip"])])
    assert [(each["id"], each["code"]) for each in appended.refused] == [(first["id"], "id_used_twice")]
    assert list(appended.accepted) == [entry(2)["id"]]
    assert opened.again().read(STRIP, 0, *EVERYTHING).entries[0] == first


def test_an_id_used_twice_in_one_call_is_refused(opened):
    appended = opened.store.append(STRIP, [entry(1), entry(1, who="Bob")])
    assert appended.accepted == {entry(1)["id"]: 1}
    assert [each["code"] for each in appended.refused] == ["id_used_twice"]


def test_a_full_strip_down_refuses_more_and_knows_what_it_has(opened):
    opened.store.append(STRIP, [entry(n) for n in range(LIMIT - 1)])
    appended = opened.store.append(STRIP, [entry(0), entry(LIMIT), entry(LIMIT + 1)])
    assert appended.accepted == {entry(0)["id"]: 1, entry(LIMIT)["id"]: LIMIT}
    assert [(each["code"], each["values"]) for each in appended.refused] == [("strip_full", {"limit": LIMIT})]
    assert len(opened.again().read(STRIP, 0, *EVERYTHING).entries) == LIMIT


def test_reading_goes_in_pages_by_count(opened):
    opened.store.append(STRIP, [entry(n) for n in range(5)])
    assert opened.store.read(STRIP, 0, 2, 1_000_000) == ([entry(0), entry(1)], 2, True)
    assert opened.store.read(STRIP, 2, 2, 1_000_000) == ([entry(2), entry(3)], 4, True)
    assert opened.store.read(STRIP, 4, 2, 1_000_000) == ([entry(4)], 5, False)
    assert opened.store.read(STRIP, 5, 2, 1_000_000) == ([], 5, False)
    assert opened.store.read(STRIP, 3, 0, 1_000_000) == ([], 3, True)


def test_reading_goes_in_pages_by_size_and_always_gets_on(opened):
    opened.store.append(STRIP, [entry(n, values={"note": "x" * 1_000}) for n in range(5)])
    assert len(opened.store.read(STRIP, 0, 1_000, 2_700).entries) == 3
    assert len(opened.store.read(STRIP, 0, 1_000, 1).entries) == 1
    assert opened.store.read(STRIP, 0, 1_000, 0) == ([], 0, True)


def test_a_reader_ahead_of_the_store_begins_anew(opened):
    opened.store.append(STRIP, [entry(1)])
    assert opened.store.read(STRIP, 7, *EVERYTHING) == ([entry(1)], 1, False)


def test_a_strip_down_that_is_not_held_has_nothing(opened):
    assert opened.store.read(STRIP, 4, *EVERYTHING) == ([], 0, False)
    assert opened.store.append(STRIP, []) == ({}, [])
    assert opened.again().strips() == {}


@pytest.mark.parametrize("bad", ["", "x", "../../etc/passwd", STRIP.upper(), STRIP + "/", "." * 36])
def test_ids_are_checked_before_they_touch_the_disk(opened, bad, tmp_path):
    before = sorted(tmp_path.rglob("*"))
    with pytest.raises(ValueError):
        opened.store.append(bad, [entry(1)])
    with pytest.raises(ValueError):
        opened.store.read(bad, 0, *EVERYTHING)
    with pytest.raises(ValueError):
        opened.store.put_photo(bad, b"x")
    with pytest.raises(ValueError):
        opened.store.get_photo(bad)
    with pytest.raises(ValueError):
        opened.store.missing_photos([bad])
    assert sorted(tmp_path.rglob("*")) == before


def test_pictures_are_kept_by_hash(opened):
    data = picture(1)
    sha256, other = hashlib.sha256(data).hexdigest(), "0" * 64
    assert opened.store.missing_photos([other, sha256]) == [other, sha256]
    assert opened.store.get_photo(sha256) is None
    assert opened.store.photos() == []
    for _ in range(2):
        opened.store.put_photo(sha256, data)
        assert opened.again().get_photo(sha256) == data
    assert opened.store.missing_photos([other, sha256]) == [other]
    second = picture(2)
    opened.store.put_photo(hashlib.sha256(second).hexdigest(), second)
    assert opened.store.photos() == sorted([sha256, hashlib.sha256(second).hexdigest()])


@pytest.mark.parametrize("finds", ["missing_photos", "get_photo", "put_photo"])
def test_a_picture_that_was_spoiled_counts_as_missing_until_it_comes_again(opened, finds):
    pictures = {hashlib.sha256(picture(n)).hexdigest(): picture(n) for n in (1, 2)}
    for sha256, data in pictures.items():
        opened.store.put_photo(sha256, data)
    spoiled, whole = pictures
    opened.spoil(spoiled)
    if finds == "missing_photos":
        assert opened.store.missing_photos([whole, spoiled]) == [spoiled]
    if finds == "get_photo":
        assert opened.store.get_photo(spoiled) is None
    if finds != "put_photo":
        for begin in (lambda: opened.store, opened.again):
            store = begin()
            assert store.wanted_photos() == [spoiled] and store.photos() == [whole]
            assert store.get_photo(spoiled) is None and store.get_photo(whole) == pictures[whole]
            assert store.missing_photos([spoiled, whole, spoiled]) == [spoiled, spoiled]
    opened.store.put_photo(spoiled, pictures[spoiled])
    for begin in (lambda: opened.store, opened.again):
        store = begin()
        assert store.wanted_photos() == [] == store.missing_photos(pictures)
        assert store.get_photo(spoiled) == pictures[spoiled] and store.photos() == sorted(pictures)


def test_threads_that_write_at_once_lose_nothing(opened):
    def write(first: int) -> None:
        for number in range(first, first + 8):
            opened.store.append(STRIP, [entry(number)])

    threads = [threading.Thread(target=write, args=(first,)) for first in (0, 8, 16, 24, 4, 20)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    page = opened.again().read(STRIP, 0, *EVERYTHING)
    assert sorted(each["id"] for each in page.entries) == [entry(n)["id"] for n in range(32)]
    assert page.cursor == 32


def test_closing_twice_does_nothing(opened):
    opened.store.close()
    opened.store.close()
    assert opened.again().strips() == {}


def test_values_come_back_exactly_as_they_were(opened):
    values = [
        0, -1, 2**53 - 1, -(2**53), 2**63, 10**300, 0.1, -0.0, 1e-300, 1.7976931348623157e308, 5e-324, 3.0, True, None,
        "", "\x00", "a\x00b\x1f\x7f", "\u2028\u2029\ufeff\ufffe", "\U0001f529", "e\u0301", "\\u0000", "\"\\/",
        [], {}, [[[]]], {"": {"\x00": -0.0}}, list(range(100)),
    ]
    sent = [entry(n, kind="to_come", level=value) for n, value in enumerate(values)]
    assert len(opened.store.append(STRIP, sent).accepted) == len(values)
    read = opened.again().read(STRIP, 0, *EVERYTHING).entries
    assert [repr(each["level"]) for each in read] == [repr(value) for value in values]
    assert read == sent
    assert opened.store.append(STRIP, sent).refused == []


def test_an_entry_that_two_strip_downs_bring_at_once_is_in_one_of_them(opened):
    both = threading.Barrier(2)
    found: dict[str, list[dict[str, object]]] = {}

    def bring(strip: str, numbers: list[int]) -> None:
        both.wait()
        found[strip] = opened.store.append(strip, [entry(n, strip) for n in numbers]).refused

    numbers = list(range(20))
    threads = [threading.Thread(target=bring, args=each)
               for each in ((STRIP, numbers), (OTHER_STRIP, list(reversed(numbers))))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    held = [each["id"] for strip in (STRIP, OTHER_STRIP)
            for each in opened.again().read(strip, 0, *EVERYTHING).entries]
    assert sorted(held) == [entry(n)["id"] for n in numbers]
    refused = found[STRIP] + found[OTHER_STRIP]
    assert sorted(str(each["id"]) for each in refused) == sorted(held)
    assert {each["code"] for each in refused} == {"id_used_twice"}


def test_a_picture_that_an_entry_names_is_awaited_until_it_comes(opened):
    first, second = picture(1), picture(2)
    one, two = (hashlib.sha256(data).hexdigest() for data in (first, second))
    opened.store.put_photo(one, first)
    opened.store.append(STRIP, [entry(1), photo_entry(2, first), photo_entry(3, second)])
    opened.store.append(OTHER_STRIP, [photo_entry(4, second, OTHER_STRIP)])
    assert opened.store.awaited_photos() == [two] == opened.again().awaited_photos()
    assert opened.store.wanted_photos() == [], "it was never here: nothing is wrong with the disk"
    opened.store.put_photo(two, second)
    assert opened.store.awaited_photos() == [] == opened.again().awaited_photos()


@pytest.mark.parametrize("finds", ["the next start", "missing_photos", "get_photo"])
def test_a_picture_that_is_gone_from_the_disk_is_awaited_again(opened, finds):
    data, other = picture(1), picture(2)
    sha256 = hashlib.sha256(data).hexdigest()
    opened.store.append(STRIP, [photo_entry(1, data), photo_entry(2, other)])
    for each in (data, other):
        opened.store.put_photo(hashlib.sha256(each).hexdigest(), each)
    opened.lose(sha256)
    if finds == "the next start":
        opened.again()
    elif finds == "missing_photos":
        assert opened.store.missing_photos([sha256]) == [sha256]
    else:
        assert opened.store.get_photo(sha256) is None
    assert opened.store.awaited_photos() == [sha256] and opened.store.wanted_photos() == []
    opened.store.put_photo(sha256, data)
    assert opened.store.awaited_photos() == [] == opened.again().awaited_photos()


def test_a_spoiled_picture_is_awaited_whether_or_not_an_entry_names_it(opened):
    for number, name_it in ((1, True), (2, False)):
        data = picture(number)
        sha256 = hashlib.sha256(data).hexdigest()
        if name_it:
            opened.store.append(STRIP, [photo_entry(number, data)])
        opened.store.put_photo(sha256, data)
        opened.spoil(sha256)
        assert opened.store.missing_photos([sha256]) == [sha256]
        assert opened.store.awaited_photos() == opened.store.wanted_photos() == [sha256]
        opened.store.put_photo(sha256, data)
        assert opened.store.awaited_photos() == []


def test_what_is_no_hash_in_an_entry_is_awaited_by_nobody(opened):
    odd = ({}, {"sha256": "../x"}, {"sha256": 7}, {"sha256": ["a" * 64]})
    opened.store.append(STRIP, [entry(number, kind="photo", **each) for number, each in enumerate(odd)])
    assert opened.store.awaited_photos() == [] == opened.again().awaited_photos()
