"""The file of a strip-down: what a crash or a bad disk does to it, and what is read of it then."""

import errno
import json
import zlib

import pytest
from tinydb import where

from cotterbook.copies.making import make_copy
from cotterbook.core.words import spoken
from cotterbook.errors import Problem
from cotterbook.store import TinyStore
from cotterbook.store.folder import FolderReader
from cotterbook.store.journal import entry_lines, header, parse
from cotterbook.store.tables import EntryDatabase
from disk import full_at
from examples import OTHER_STRIP, STRIP, entry

EVERYTHING = (1_000, 1_000_000)


@pytest.fixture
def path(data_folder):
    """A journal of three entries in two writes."""
    store = TinyStore(data_folder)
    store.append(STRIP, [entry(1), entry(2)])
    store.append(STRIP, [entry(3)])
    store.close()
    return data_folder / "strips" / f"{STRIP}.jsonl"


@pytest.fixture
def reopen(data_folder, path):
    """Opens the store over the journal, as it is now."""
    stores = []

    def make():
        for store in stores:
            store.close()
        stores.append(TinyStore(data_folder))
        return stores[-1]

    yield make
    for store in stores:
        store.close()


def test_each_line_is_json_with_the_checksum_of_its_rest(path):
    for line in path.read_bytes().splitlines():
        record = json.loads(line)
        assert int(record["crc32"], 16) == zlib.crc32(line[len('{"crc32":"xxxxxxxx",'):])
    assert record["number"] == 3 and record["entry"] == entry(3)
    assert json.loads(path.read_bytes().splitlines()[0])["version"] == 1


def test_a_file_cut_at_any_byte_is_read_to_its_last_whole_entry_and_goes_on(path, reopen):
    whole = path.read_bytes()
    ends = [place for place, byte in enumerate(whole, 1) if byte == ord("\n")]
    identity, known = reopen().identity, 3
    for length in range(len(whole) + 1):
        path.write_bytes(whole[:length])
        store = reopen()
        # A line that only lacks the mark of its end is whole.
        kept = max(0, sum(end - 1 <= length for end in ends) - 1)
        assert store.read(STRIP, 0, *EVERYTHING) == ([entry(n) for n in range(1, kept + 1)], kept, False)
        torn = length not in (0, *ends, *(end - 1 for end in ends))
        said = [spoken(each) for each in store.reports]
        assert ["cut short" in each for each in said] == [True] * torn
        assert [each[:3] for each in store.gaps()] == [(identity, STRIP, known)] * (kept < known)
        assert (store.identity != identity) == (kept < known)
        store.change_gaps(lambda _: ())
        store.append(STRIP, [entry(9)])
        identity, known = store.identity, kept + 1
        store = reopen()
        assert store.read(STRIP, kept, *EVERYTHING) == ([entry(9)], kept + 1, False)
        assert store.reports == [] and store.identity == identity
    assert not list(path.parent.glob("*.damaged-*"))


def lost_by(whole, place):
    """The entries of the lines that a changed byte belongs to: two where it was the end of one, none at the last."""
    if place == len(whole) - 1:
        return set()
    hit = whole[:place].count(b"\n")
    return {hit, hit + 1} if whole[place] == ord("\n") else {hit}


def test_a_changed_byte_anywhere_is_found_costs_its_lines_only_and_makes_phones_send_again(path, reopen, data_folder):
    whole, identity = path.read_bytes(), reopen().identity
    kept = (data_folder / "identity").read_bytes()
    for place in range(len(whole)):
        damaged = bytearray(whole)
        damaged[place] ^= 0x15
        path.write_bytes(damaged)
        (data_folder / "identity").write_bytes(kept)
        store, lost = reopen(), lost_by(whole, place)
        assert store.read(STRIP, 0, *EVERYTHING).entries == [entry(n) for n in (1, 2, 3) if n not in lost]
        assert path.read_bytes() == (damaged if lost else whole)
        assert any("damaged" in spoken(report) for report in store.reports) == bool(lost)
        assert (store.identity == identity) == (not lost)


def test_each_changed_bit_anywhere_is_found_and_no_wrong_entry_is_read(path):
    whole = path.read_bytes()
    for place in range(len(whole)):
        for bit in range(8):
            damaged = bytearray(whole)
            damaged[place] ^= 1 << bit
            journal = parse(bytes(damaged), path)
            lost = lost_by(whole, place)
            # A byte that becomes the mark of a line's end makes two of one, and neither is whole.
            assert journal.documents == {n: entry(n) for n in (1, 2, 3) if n not in lost}, (place, bit)
            assert (journal.damaged_lines > 0) == bool(lost) and journal.next_number > max(journal.documents)


def test_what_damage_took_comes_back_from_a_phone_and_the_identity_stays_then(path, reopen):
    before = reopen().identity
    path.write_bytes(path.read_bytes().replace(b"note 2", b"note 9"))
    store = reopen()
    assert store.identity != before
    numbers = store.append(STRIP, [entry(1), entry(2), entry(3)]).accepted
    assert [each["id"] for each in store.read(STRIP, 0, *EVERYTHING).entries] == sorted(numbers, key=numbers.get)
    again = reopen()
    assert again.identity == store.identity
    assert len(again.read(STRIP, 0, *EVERYTHING).entries) == 3


def test_damage_stays_in_the_file_and_its_numbers_are_not_given_again(path, reopen):
    damaged = path.read_bytes().replace(b"note 3", b"note 8")
    path.write_bytes(damaged)
    store = reopen()
    said = spoken(store.reports[0])
    assert "damaged and cannot be read: 1." in said and "the other 2 entries" in said
    number = store.append(STRIP, [entry(4)]).accepted[entry(4)["id"]]
    assert number > 3
    assert path.read_bytes().startswith(damaged)
    assert reopen().read(STRIP, 3, *EVERYTHING) == ([entry(4)], number, False)
    assert reopen().read(STRIP, 0, *EVERYTHING).entries == [entry(1), entry(2), entry(4)]


def test_a_file_without_one_whole_line_is_kept_aside(path, reopen):
    path.write_bytes(b"\0" * 300)
    store = reopen()
    assert store.read(STRIP, 0, *EVERYTHING).entries == []
    assert path.with_suffix(".damaged-1").read_bytes() == b"\0" * 300
    assert ["cut short" in spoken(each) for each in store.reports] == [True] and store.gaps()


@pytest.mark.parametrize("closed", [True, False])
def test_a_journal_that_is_gone_is_told_and_makes_phones_send_again(path, data_folder, closed):
    """Also where the program was killed: a new strip-down is noted when its first entry is."""
    kept = (data_folder / "identity").read_bytes()
    assert kept.splitlines()[2] == b'{"%s":3}' % STRIP.encode()
    path.unlink()
    if not closed:
        (data_folder / "identity").write_bytes(kept.replace(b":3}", b":2}"))  # as the first of two writes left it
    store = TinyStore(data_folder)
    [gap] = store.gaps()
    assert gap[:4] == (kept.decode().splitlines()[0], STRIP, 3 if closed else 2, "")
    assert store.identity != gap.of and not store.damaged
    store.append(STRIP, [entry(1)])
    store.close()
    again = TinyStore(data_folder)
    assert (again.identity, again.gaps(), again.reports) == (store.identity, (gap,), [])
    again.close()


def test_what_cannot_be_noted_beside_the_identity_stops_nothing(path, data_folder, monkeypatch):
    """It is a help; phones tell of what went meanwhile."""
    store = TinyStore(data_folder)
    identity, before = store.identity, (data_folder / "identity").read_bytes()
    monkeypatch.setattr("cotterbook.store.identity.write_whole", full)
    assert store.append(OTHER_STRIP, [entry(4, OTHER_STRIP)]).accepted
    store.close()
    again = TinyStore(data_folder)
    assert (again.identity, again.reports, again.strips()) == (identity, [], {STRIP: 3, OTHER_STRIP: 1})
    again.close()
    assert (data_folder / "identity").read_bytes() == before


def full(*_):
    raise OSError(errno.ENOSPC, "No space left on device")


@pytest.mark.parametrize("line", ["", "[]", "{", "null", '{"a":1}', f'{{"{STRIP}":"3"}}', f'{{"{STRIP}":2}}'])
def test_an_identity_of_an_older_program_or_with_a_spoiled_line_beside_it_holds(path, data_folder, line):
    file = data_folder / "identity"
    identity = file.read_text().splitlines()[0]
    file.write_text(f"{identity}\n{line and chr(10)}{line}")
    store = TinyStore(data_folder)
    assert (store.identity, store.reports) == (identity, [])
    store.close()
    assert file.read_text().splitlines() == [identity, "", f'{{"{STRIP}":3}}']


def test_a_file_of_a_later_version_is_refused_untouched(path, reopen):
    rest = b'"format":"cotterbook journal","version":2,"strip":"' + STRIP.encode() + b'"}'
    later = b'{"crc32":"%08x",' % zlib.crc32(rest) + rest + b"\nwhatever comes then\n"
    path.write_bytes(later)
    with pytest.raises(Problem, match="newer Cotterbook"):
        reopen()
    assert path.read_bytes() == later
    path.write_bytes(b"")
    reopen()


def test_a_file_changed_by_somebody_else_is_not_written_to(path, reopen):
    store = reopen()
    with path.open("ab") as file:
        file.write(b"something\n")
    before = path.read_bytes()
    with pytest.raises(Problem, match="changed by another program"):
        store.append(STRIP, [entry(4)])
    assert path.read_bytes() == before


def test_a_file_that_has_gone_is_no_success(path, reopen):
    store = reopen()
    path.unlink()
    with pytest.raises(Problem, match="could not be read or written"):
        store.append(STRIP, [entry(4)])
    assert store.read(STRIP, 0, *EVERYTHING).cursor == 3


def test_other_files_in_the_folder_are_left_alone(path, reopen):
    (path.parent / "notes.jsonl").write_text("mine")
    (path.parent / f"{STRIP}.jsonl.tmp").write_text("half")
    assert ["notes.jsonl" in spoken(report) for report in reopen().reports] == [True]
    assert sorted(each.name for each in path.parent.iterdir()) == [f"{STRIP}.jsonl", "notes.jsonl"]


def test_tinydbs_own_changes_take_the_files_place_whole(path):
    database = EntryDatabase(path, STRIP)
    assert len(database) == 3
    assert database.search(where("id") == entry(2)["id"])[0].doc_id == 2
    database.update({"who": "Bob"}, where("id") == entry(2)["id"])
    database.remove(doc_ids=[3])
    database.insert(entry(5))
    database.close()
    database = EntryDatabase(path, STRIP)
    assert {row.doc_id: (row["id"], row["who"]) for row in database} == {
        1: (entry(1)["id"], "Ann"), 2: (entry(2)["id"], "Bob"), 4: (entry(5)["id"], "Ann")}
    assert [each.name for each in path.parent.iterdir()] == [path.name]


def test_a_damaged_file_is_kept_before_tinydb_replaces_it(path):
    damaged = path.read_bytes().replace(b"note 2", b"note 8")
    path.write_bytes(damaged)
    database = EntryDatabase(path, STRIP)
    database.update({"who": "Bob"}, doc_ids=[1])
    assert path.with_suffix(".damaged-1").read_bytes() == damaged
    assert [row.doc_id for row in EntryDatabase(path, STRIP)] == [1, 3]


def test_an_append_writes_what_it_adds_and_no_more(path, reopen):
    store = reopen()
    before = path.read_bytes()
    store.append(STRIP, [entry(4)])
    added = path.read_bytes()
    assert added.startswith(before) and 0 < len(added) - len(before) < 500


def test_a_number_given_twice_is_damage_and_the_first_stands(path):
    path.write_bytes(path.read_bytes() + path.read_bytes().splitlines(keepends=True)[2])
    store = TinyStore(path.parent.parent)
    assert "damaged and cannot be read: 1." in spoken(store.reports[0])
    assert [each["id"] for each in store.read(STRIP, 0, 10, 10_000).entries] == [entry(n)["id"] for n in (1, 2, 3)]
    store.close()


def alike(store):
    """Whether the store finds each last entry where it tells it to be: else its phones begin anew for ever."""
    lasts = store.lasts()
    places = store.places([last.id for last in lasts.values()])
    return all(places.get(last.id) == (strip, last.number) for strip, last in lasts.items())


@pytest.mark.parametrize("kept", [True, False])
def test_a_file_under_another_strip_downs_name_is_told_and_not_read(path, reopen, kept):
    """Copied or moved there by hand: a file manager's slip, or a script that puts back the wrong one."""
    other = path.with_name(f"{OTHER_STRIP}.jsonl")
    other.write_bytes(path.read_bytes())
    if not kept:
        path.unlink()
    held = other.read_bytes()
    store = reopen()
    [said] = [spoken(each) for each in store.reports]
    assert f"{other.name}: lines that belong to another strip-down, {STRIP}, and not" in said
    assert f"takes over into {STRIP}.jsonl what is not there. Afterwards cotterbook backup, and cotterbook rest" in said
    assert alike(store) and store.damaged and other.read_bytes() == held
    assert store.read(OTHER_STRIP, 0, *EVERYTHING).entries == []
    assert store.read(STRIP, 0, *EVERYTHING).entries == [entry(n) for n in (1, 2, 3)] and store.gaps() == ()
    # What comes of either goes on, and numbers of the other count for nothing.
    assert store.append(OTHER_STRIP, [entry(8, OTHER_STRIP)]).accepted == {entry(8, OTHER_STRIP)["id"]: 1}
    again = reopen()
    assert alike(again) and again.read(OTHER_STRIP, 0, *EVERYTHING) == ([entry(8, OTHER_STRIP)], 1, False)
    assert again.identity == store.identity and other.read_bytes().startswith(held)


def test_what_is_under_another_name_is_taken_over_beside_what_came_since(path, reopen):
    """What the owner is told to do about such a file costs neither strip-down an entry."""
    other = path.with_name(f"{OTHER_STRIP}.jsonl")
    path.rename(other)
    path.write_bytes(header(STRIP) + entry_lines({1: entry(3), 2: entry(7), 3: {**entry(2), "who": "Eve"}}))
    other.write_bytes(other.read_bytes() + entry_lines({1: entry(8, OTHER_STRIP)}))
    for _ in range(2):
        store = reopen()
        ids = [each["id"] for each in store.read(STRIP, 0, *EVERYTHING).entries]
        assert ids == [entry(n)["id"] for n in (3, 7, 2, 1)] and alike(store)
        [_, left] = map(spoken, store.reports)
        assert f"{other.name}: entries of another strip-down, {STRIP}, that could not be taken over into its" in left
        assert "file: 1. " in left
    made = path.parent.parent.with_name("one.zip")
    assert make_copy(FolderReader(path.parent.parent), made).entries == {STRIP: 4, OTHER_STRIP: 1}


def test_a_full_disk_stops_no_start_where_something_is_to_be_taken_over(path, reopen):
    other = path.with_name(f"{OTHER_STRIP}.jsonl")
    path.rename(other)
    (path.parent.parent / "identity").unlink(missing_ok=True)
    with full_at(300):
        store = reopen()
    assert store.strips()[OTHER_STRIP] == 0 and not store.lasts()
    assert "could not be taken over into its file: 3." in spoken(store.reports[-1])
    assert reopen().strips() == {OTHER_STRIP: 0, STRIP: 3}


def test_another_strip_downs_file_put_in_the_place_of_one_takes_its_entries_for_gone(path, reopen):
    store = reopen()
    store.append(OTHER_STRIP, [entry(n, OTHER_STRIP) for n in (11, 12, 13, 14)])
    store.close()
    path.write_bytes(path.with_name(f"{OTHER_STRIP}.jsonl").read_bytes())
    store = reopen()
    assert [(gap.strip, gap.number) for gap in store.gaps()] == [(STRIP, 3)]
    assert store.read(STRIP, 0, *EVERYTHING).entries == [] and alike(store)
    assert len(store.read(OTHER_STRIP, 0, *EVERYTHING).entries) == 4


def test_an_entry_that_stands_twice_in_a_file_is_where_it_stood_first(path, reopen):
    path.write_bytes(path.read_bytes() + entry_lines({4: entry(2)}))
    store = reopen()
    assert alike(store) and store.lasts()[STRIP] == (3, entry(3)["id"])


def test_a_copy_of_the_data_is_made_beside_a_file_under_another_name(path, reopen, tmp_path):
    path.with_name(f"{OTHER_STRIP}.jsonl").write_bytes(path.read_bytes())
    reopen().close()
    contents = make_copy(FolderReader(path.parent.parent), tmp_path / "copies" / "one.zip")
    assert contents.entries[STRIP] == 3 and not contents.entries.get(OTHER_STRIP)
