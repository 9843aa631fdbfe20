"""What the PC has lost is told, and no daily copy goes, until it is back or an owner gives it up."""

import contextlib
import json
import shutil
import subprocess
from datetime import datetime, timedelta

import pytest

from cotterbook.concerns import Concerns
from cotterbook.copies import DailyCopies, restore
from cotterbook.copies import daily as daily_copies
from cotterbook.core.words import spoken
from cotterbook.devices import HAND, LOOKER_ON, OWNER, DeviceBook
from cotterbook.devices.routes import now_ms
from cotterbook.moving import move
from cotterbook.store import TinyStore
from cotterbook.store.folder import FolderReader
from cotterbook.store.gaps import ABOUT, UNKNOWN, Gap, gaps_as_text, gaps_in, merged, told_of, with_gap
from cotterbook.store.identity import kept_gaps
from cotterbook.store.journal import line
from cotterbook.store.ours import IDENTITY
from cotterbook.store.postgres import PostgresStore
from examples import OTHER_STRIP, STRIP, entry, identifier
from running import new_id, run
from set_back import Pc, Phone

NOW = datetime(2026, 3, 1, 10, 0)
GONE = "Entries that the PC had are gone from it"


@pytest.fixture
def book(tmp_path):
    return DeviceBook(tmp_path / "book")


@pytest.fixture(params=["tinydb", "postgres"])
def pc(request, tmp_path, book):
    postgres = request.getfixturevalue("postgres") if request.param == "postgres" else None
    pc = Pc(tmp_path / "data", postgres, book)
    yield pc
    pc.store.close()


def paired_phones(pc, book, *roles):
    """A phone of each of these roles, on the list."""
    return [Phone(pc.app, book.pair(book.make_code(role, now_ms()), new_id(), f"A {role}", now_ms())[0])
            for role in roles]


def gone(concerns):
    return [each for each in concerns.now() if each.get("about") == ABOUT]


def lose_three_of_five(pc, book, *roles):
    """Five entries, two of the first phone's and three of the second's, all read by all but the first; the PC is set
    back to the two."""
    phones = paired_phones(pc, book, *roles)
    phones[0].sync(entry(1), entry(2))
    pc.keep_copy()
    for phone in phones:
        phone.reach(pc.app)
    phones[1].sync(entry(3), entry(4), entry(5))
    for phone in phones[1:]:
        phone.sync()
    pc.set_back(2)
    for phone in phones:
        phone.reach(pc.app)
    return phones


def test_what_is_gone_stands_over_a_start_and_in_every_process_until_it_is_back(pc, book, capsys):
    owner, second = phones = lose_three_of_five(pc, book, OWNER, HAND)
    assert gone(Concerns(pc.store, pc.folder)) == []  # by itself the store cannot see it
    status, told = second.sync()
    assert status == 409
    second.begin_anew(told)
    terminal = capsys.readouterr().err
    assert f"cotterbook: {GONE}, of strip-downs: 1, among them {STRIP}." in terminal
    how = "cotterbook import FILE --store URL" if pc.url else "stop Cotterbook, then cotterbook import FILE"
    assert f": {how}. Until all" in terminal
    if pc.url:  # another process over the same database
        with contextlib.closing(PostgresStore(pc.url)) as other:
            assert [spoken(each).startswith(GONE) for each in gone(Concerns(other, pc.folder))] == [True]
    pc.store.close()
    pc.open()
    for phone in phones:
        phone.reach(pc.app)
    [gap] = pc.store.gaps()
    assert (gap.strip, gap.number, gap.id) == (STRIP, 5, entry(5)["id"])
    # What others write takes the lost numbers, and brings nothing back.
    pc.store.append(STRIP, [entry(number) for number in (21, 22, 23, 24)])
    status, told = owner.sync()
    owner.begin_anew(told)
    for sent in (tuple(owner.held.values()), ()):
        status, answer = owner.sync(*sent)
        assert status == 200 and ABOUT in [each.get("about") for each in answer["concerns"]]
    # Nor does a part of what the other holds.
    second.sync(entry(5), unsent=4)
    second.sync(entry(1), unsent=3)
    assert pc.store.gaps() == (gap,)
    second.sync(*second.held.values())
    assert pc.store.gaps() == (gap,)  # nobody said yet that this was all
    second.sync()
    assert pc.store.gaps() == () and ABOUT not in [each.get("about") for each in owner.sync()[1]["concerns"]]
    assert book.audit.read("begun_anew") and book.audit.read("entries_back")


def copied_daily(pc, days):
    """The daily copies of so many days, of which one is to be kept, and where they lie."""
    place = pc.folder.with_name("beside")
    place.mkdir()
    daily = DailyCopies(pc.store, place, 1, Concerns(pc.store, pc.folder))
    for day in range(days):
        daily.look(NOW + timedelta(days=day))
    return daily, place / "copies"


def test_no_daily_copy_goes_while_entries_are_gone(pc, book):
    _, second = lose_three_of_five(pc, book, OWNER, HAND)
    second.sync()
    pc.store.close()
    pc.open()
    daily, copies = copied_daily(pc, 4)
    assert len(list(copies.glob("*.zip"))) == 4
    pc.store.change_gaps(lambda _: ())
    daily.look(NOW + timedelta(days=4))
    assert len(list(copies.glob("*.zip"))) == 1


def test_copies_that_none_goes_of_leave_what_room_there_is_to_entries(tmp_path, monkeypatch):
    store = TinyStore(tmp_path)
    concerns = Concerns(store, tmp_path)
    store.append(STRIP, [entry(1)])
    daily = DailyCopies(store, tmp_path, 2, concerns)
    monkeypatch.setattr(daily_copies, "LEFT_FOR_ENTRIES_BYTES", shutil.disk_usage(tmp_path).free + 10**12)

    def made():
        return sorted(each.name[-6:-4] for each in (tmp_path / "copies").glob("*.zip"))

    for day in range(3):
        daily.try_once(NOW + timedelta(days=day))
    assert made() == ["02", "03"]  # as many as ever, and so no reason to make none
    store.change_gaps(lambda _: (Gap("a", STRIP, 5, "", 1),))
    daily.try_once(NOW + timedelta(days=3))
    assert made() == ["02", "03"]
    said = [spoken(each) for each in concerns.now()]
    assert any(each.startswith("No copy of the data was made on 2026-03-04 (the disk is nearly full") for each in said)
    store.change_gaps(lambda _: ())
    daily.try_once(NOW + timedelta(days=3))
    assert made() == ["03", "04"] and concerns.now() == []
    store.close()


def filled_from(postgres, url, copies=1):
    """A database with what another has now, by way of a dump, or by so many in a row."""
    for _ in range(copies):
        dumped = subprocess.run([postgres.programs / "pg_dump", url], capture_output=True, check=True).stdout
        url = postgres.database()
        into = [postgres.programs / "psql", "-q", "-v", "ON_ERROR_STOP=1", url]
        subprocess.run(into, input=dumped, check=True, capture_output=True)
        PostgresStore(url).close()  # each was served from
    return url


@pytest.mark.parametrize("copies", [1, 3])
def test_a_phone_tells_what_a_database_filled_from_an_older_dump_has_not(postgres, tmp_path, book, copies):
    """It takes another identity by itself; nobody else knows that entries are gone."""
    pc = Pc(tmp_path / "data", postgres, book)
    owner, second = phones = paired_phones(pc, book, OWNER, HAND)
    owner.sync(entry(1), entry(2))
    older = filled_from(postgres, pc.url, copies)
    second.sync(entry(3), entry(4), entry(5))
    pc.store.close()
    pc.url, former = older, pc.store.identity
    pc.open()
    for phone in phones:
        phone.reach(pc.app)
    assert pc.store.is_former(former) and not pc.store.is_former(pc.store.identity)
    # Who knew no more than is there tells of nothing, and neither does who knew other data.
    owner.begin_anew(owner.sync()[1])
    assert second.post(second.lines, store=new_id()).status_code == 409
    assert pc.store.gaps() == ()
    status, told = second.sync()
    second.begin_anew(told)
    [gap] = pc.store.gaps()
    assert (status, gap.of, gap.strip, gap.number, gap.id) == (409, former, STRIP, 5, entry(5)["id"])
    pc.store.close()
    pc.open()
    for phone in phones:
        phone.reach(pc.app)
    [said] = [each for each in owner.sync(*owner.held.values())[1]["concerns"] if each.get("about") == ABOUT]
    assert spoken(said).startswith(f"{GONE}, of strip-downs: 1, among them {STRIP}.")
    daily, copies = copied_daily(pc, 4)
    assert len(list(copies.glob("*.zip"))) == 4
    second.sync(*second.held.values())
    second.sync()
    assert pc.store.gaps() == () and pc.store.strips() == {STRIP: 5}
    assert ABOUT not in [each.get("about") for each in owner.sync()[1]["concerns"]]
    daily.look(NOW + timedelta(days=4))
    assert len(list(copies.glob("*.zip"))) == 1
    pc.store.close()


def test_an_owner_gives_up_what_a_database_filled_from_an_older_dump_has_not(postgres, tmp_path, book):
    pc = Pc(tmp_path / "data", postgres, book)
    owner, second = phones = paired_phones(pc, book, OWNER, HAND)
    owner.sync(entry(1), entry(2))
    pc.url, newer = filled_from(postgres, pc.url), pc.store
    second.sync(entry(3))
    newer.close()
    pc.open()
    for phone in phones:
        phone.reach(pc.app)
    second.sync()
    [said] = gone(Concerns(pc.store, pc.folder))
    assert owner.give_up(said["noticed_ms"]) == 200
    assert pc.store.gaps() == ()
    pc.store.close()


def test_an_owner_gives_up_what_was_shown_and_nothing_that_was_noticed_since(pc, book):
    owner, second = lose_three_of_five(pc, book, OWNER, HAND)
    second.sync()
    owner.begin_anew(owner.sync()[1])
    [said] = [each for each in owner.sync()[1]["concerns"] if each.get("about") == ABOUT]
    assert second.give_up(said["noticed_ms"]) == 403 and pc.store.gaps()
    for wrong in (None, "x", True, 1.5):
        assert owner.give_up(wrong) == 400
    assert owner.give_up(said["noticed_ms"] - 1) == 200 and pc.store.gaps()
    assert owner.give_up(said["noticed_ms"]) == 200 and pc.store.gaps() == ()
    assert len(book.audit.read("given_up")) == 2
    # It is not begun again by a phone that comes late and knew of it.
    assert second.sync()[0] == 409 and pc.store.gaps() == ()


def test_a_phone_that_comes_later_tells_of_more_and_may_be_the_one_that_holds_it(pc, book):
    owner, second, third = lose_three_of_five(pc, book, OWNER, HAND, HAND)
    short = dict(second.lines[STRIP])
    second.lines[STRIP] = {"cursor": 3, "last": {"number": 3, "id": entry(3)["id"]}}
    second.begin_anew(second.sync()[1])
    [gap] = pc.store.gaps()
    assert (gap.number, len(gap.holders)) == (3, 1)
    # It was told of the fifth, and had not read that far.
    third.lines[STRIP] = {"cursor": 4, "last": short["last"]}
    third.begin_anew(third.sync()[1])
    assert [(each.number, each.id, each.holders) for each in pc.store.gaps()] == [(5, entry(5)["id"], ())]
    for phone in (second, third):
        phone.sync(*phone.held.values())
        phone.sync()
    assert len(pc.store.gaps()) == 1  # nobody is known to have held it all
    assert owner.sync()[0] == 409


def test_what_was_written_since_the_way_back_does_not_stand_for_what_is_gone(pc, book):
    """A PC set back goes on by its old identity, and gives the lost numbers anew, until somebody comes who knows."""
    owner, second, third = paired_phones(pc, book, OWNER, HAND, HAND)
    owner.sync(entry(1), entry(2))
    pc.keep_copy()
    for phone in (owner, second, third):
        phone.reach(pc.app)
    for phone in (second, third):
        phone.sync()
    second.sync(entry(3), entry(4), entry(5))
    pc.set_back(2)
    for phone in (owner, second, third):
        phone.reach(pc.app)
    owner.sync(*(entry(number) for number in (21, 22, 23)))
    third.sync()
    third.sync(entry(24))
    second.begin_anew(second.sync()[1])
    [gap] = pc.store.gaps()
    for phone in (owner, third):  # as far as the gap, and further; nothing that they were told of is gone
        phone.begin_anew(phone.sync()[1])
        phone.sync(*phone.held.values())
        phone.sync()
    second.sync(entry(5), unsent=4)
    for phone in (owner, third):
        phone.sync()
    assert pc.store.gaps() == (gap,)
    second.sync(*second.held.values())
    second.sync()
    assert pc.store.gaps() == ()


def only_looker_on_has_it(pc, book):
    """The owner's phone has two of five entries, and a device that looks on has them all; so does nobody else."""
    owner, onlooker = phones = lose_three_of_five(pc, book, OWNER, HAND)
    [device] = [each for each in book.devices() if each.role == HAND]
    book.change(device.id, "Tablet at the bench", LOOKER_ON, now_ms())
    return *phones, device.id


@pytest.mark.parametrize("begun_anew_by", ["nobody", "owner"])
def test_what_only_a_looker_on_knew_of_is_told_with_its_name_until_it_is_brought(pc, book, begun_anew_by):
    owner, onlooker, device = only_looker_on_has_it(pc, book)
    identity = pc.store.identity
    if begun_anew_by == "owner":
        identity = pc.store.begin_anew(identity)
        owner.store = identity
    assert ABOUT not in [each.get("about") for each in owner.sync()[1]["concerns"]]
    status, told = onlooker.sync()
    assert (status, told["error"]["values"]["store"]) == (409, identity) and pc.store.identity == identity
    onlooker.begin_anew(told)
    assert onlooker.sync()[0] == 200
    [said] = [each for each in owner.sync()[1]["concerns"] if each.get("about") == ABOUT]
    assert spoken(said).startswith("Tablet at the bench may only look on, and knew of entries that the PC has no more;")
    assert "make a file there (Sending, Carry by file)" in spoken(said) and "or let it write" in spoken(said)
    # It stands over a start, and lets daily copies go as before: who looks on is to change nothing.
    pc.store.close()
    pc.open()
    for phone in (owner, onlooker):
        phone.reach(pc.app)
    _, copies = copied_daily(pc, 3)
    assert len(list(copies.glob("*.zip"))) == 1
    assert [each.get("about") for each in owner.sync()[1]["concerns"]].count(ABOUT) == 1
    # By a file on another's phone, or by itself once it may write.
    sender = owner
    if begun_anew_by == "owner":
        book.change(device, "Tablet at the bench", HAND, now_ms())
        sender = onlooker
    assert sender.sync(*onlooker.held.values())[0] == 200
    assert ABOUT not in [each.get("about") for each in owner.sync()[1]["concerns"]] and pc.store.gaps() == ()


def test_a_looker_on_that_knew_no_more_than_is_here_is_not_told_of(pc, book):
    owner, onlooker = paired_phones(pc, book, OWNER, LOOKER_ON)
    owner.sync(entry(1), entry(2))
    onlooker.sync()
    pc.store.begin_anew(pc.store.identity)
    assert onlooker.sync()[0] == 409 and pc.store.gaps() == ()


def test_whatever_a_looker_on_makes_up_leaves_a_few_notes_and_no_gap(pc, book):
    [onlooker] = paired_phones(pc, book, LOOKER_ON)
    identity = pc.store.identity
    for of in (identity, "x" * 10_000):
        for round_ in range(3):
            onlooker.store = of
            made_up = {identifier(500 + 40 * round_ + n): {"cursor": 9, "last": {
                "number": 2**53 - 1 - n, "id": identifier(900 + n)}} for n in range(40)}
            assert onlooker.post(made_up).status_code == 409
    gaps = pc.store.gaps()
    assert len(gaps) == 8 and all(each.looker_on and each.of == "" for each in gaps) and pc.store.identity == identity
    # They keep no room from what a hand tells of.
    [hand] = paired_phones(pc, book, HAND)
    hand.store = identity
    hand.post({identifier(3_000 + n): {"cursor": 9, "last": {
        "number": 9, "id": identifier(900)}} for n in range(20)})
    assert len([each for each in pc.store.gaps() if not each.looker_on]) == 20


def test_a_file_of_a_looker_ons_taken_in_at_the_terminal_settles_its_note(shorter):
    folder, bundle = shorter
    store = TinyStore(folder)
    note = Gap("", OTHER_STRIP, 1, entry(7)["id"], 1, (), "p")
    store.change_gaps(lambda _: (note, note._replace(strip=STRIP, id=entry(8)["id"], looker_on="q")))
    store.close()
    code, _, errors = run("import", "--data", str(folder), str(bundle))
    assert code == 0 and errors.count("A device that is on the list no more may only look on") == 1
    store = TinyStore(folder)
    assert [each.looker_on for each in store.gaps()] == ["q"]
    store.close()


def test_a_last_entry_that_is_gone_itself_is_told_to_nobody_again(postgres, tmp_path, book):
    """Rows that went without PostgreSQL's knowing: beside the strip-down it still stands which was its last."""
    pc = Pc(tmp_path / "data", postgres, book)
    _, second, third = phones = paired_phones(pc, book, OWNER, HAND, HAND)
    second.sync(entry(1), entry(2))
    third.sync()
    postgres.execute("DELETE FROM cotterbook.entries WHERE number = 2", pc.url)
    before = pc.store.identity
    third.begin_anew(third.sync()[1])
    assert pc.store.identity != before and pc.store.lasts() == {}
    del third.held[entry(2)["id"]]
    identity = pc.store.identity
    for phone in phones[::2]:
        phone.store, phone.lines = identity, {}
        assert [phone.sync(*phone.held.values())[0] for _ in range(3)] == [200] * 3
    assert pc.store.identity == identity and pc.store.strips() == {STRIP: 2}
    second.begin_anew(second.sync()[1])
    second.sync(*second.held.values())
    assert pc.store.lasts() == {STRIP: (3, entry(2)["id"])}
    pc.store.close()


@pytest.fixture
def shorter(tmp_path):
    """A folder whose journal has lost its last entry since it was served, and a file with another entry."""
    store = TinyStore(tmp_path / "other")
    store.append(OTHER_STRIP, [entry(7, OTHER_STRIP)])
    store.close()
    assert run("backup", "--data", str(tmp_path / "other"), "--to", str(tmp_path))[0] == 0
    [bundle] = tmp_path.glob("*.zip")
    folder = tmp_path / "data"
    store = TinyStore(folder)
    store.append(STRIP, [entry(1), entry(2)])
    store.close()
    [journal] = (folder / "strips").glob("*.jsonl")
    journal.write_bytes(b"".join(journal.read_bytes().splitlines(keepends=True)[:-1]))
    return folder, bundle


def test_a_command_that_takes_in_tells_of_it_and_so_does_each_start(shorter, stopped_server):
    folder, bundle = shorter
    code, _, errors = run("import", "--data", str(folder), str(bundle))
    assert code == 0 and f"{GONE}, of strip-downs: 1, among them {STRIP}." in errors
    assert stopped_server.folder == folder
    for starts in (1, 2):
        stopped_server.start()
        stopped_server.stop()
        assert stopped_server.log.read_text().count(GONE) == starts


def test_a_bundle_is_made_of_the_rest_and_the_command_tells_what_is_gone(shorter, tmp_path, postgres):
    folder, _ = shorter
    url = postgres.database()
    with contextlib.closing(PostgresStore(url)) as target:
        move(FolderReader(folder), target)
    for where, how in (((), "stop Cotterbook, then cotterbook import FILE"),
                       (("--store", url), "cotterbook import FILE --store URL")):
        (tmp_path / "some.zip").unlink(missing_ok=True)
        for command in (("backup", "--to", str(tmp_path / "to")), ("export", str(tmp_path / "some.zip"))):
            code, _, errors = run(*command, "--data", str(folder), *where)
            assert code == 0 and errors.count(f"{GONE}, of strip-downs: 1, among them {STRIP}.") == 1
            assert f": {how}. Until all" in errors
    # The file that says it is no part of a bundle: none is refused because of it.
    (folder / "identity").unlink()
    (folder / "identity").mkdir()
    code, _, errors = run("backup", "--data", str(folder), "--to", str(tmp_path / "to"))
    assert code == 0 and GONE not in errors


def test_what_is_gone_goes_along_to_another_store_and_to_a_copy(shorter, tmp_path, postgres):
    folder, bundle = shorter
    store = TinyStore(folder)
    gaps = store.gaps()
    store.close()
    assert [each[1:4] for each in gaps] == [(STRIP, 2, "")]
    with contextlib.closing(PostgresStore(postgres.database())) as target:
        move(FolderReader(folder), target)
        assert target.gaps() == gaps
    restore(folder, bundle, NOW)
    store = TinyStore(folder)
    assert store.gaps() == gaps and store.strips() == {OTHER_STRIP: 1}
    store.close()


def test_what_nobody_opened_since_it_went_is_gone_in_what_is_made_of_it_too(shorter, tmp_path, postgres):
    """A shop that moves or goes back at once, because of what the disk did to its folder."""
    folder, bundle = shorter
    [identity, *_] = (folder / "identity").read_text().splitlines()
    expected = [(identity, STRIP, 2, "")]
    assert [each[:4] for each in FolderReader(folder).gaps()] == expected
    with contextlib.closing(PostgresStore(postgres.database())) as target:
        move(FolderReader(folder), target)
        assert [each[:4] for each in target.gaps()] == expected
    restore(folder, bundle, NOW)
    store = TinyStore(folder)
    assert [each[:4] for each in store.gaps()] == expected
    store.close()


def test_going_back_from_what_cannot_be_read_keeps_what_is_known_to_be_gone(shorter):
    folder, bundle = shorter
    store = TinyStore(folder)
    gaps = store.gaps()
    store.close()
    [journal] = (folder / "strips").glob("*.jsonl")
    journal.write_bytes(line({"format": "cotterbook journal", "version": 99, "strip": STRIP}))
    assert restore(folder, bundle, NOW).before.no_copy_of
    store = TinyStore(folder)
    assert store.gaps() == gaps != ()
    store.close()


def test_a_phone_that_had_read_it_all_ends_what_the_store_noticed_by_itself(tmp_path, book):
    pc = Pc(tmp_path / "data", None, book)
    _, second = paired_phones(pc, book, OWNER, HAND)
    second.sync(entry(1), entry(2))
    pc.store.close()
    [journal] = (pc.folder / "strips").glob("*.jsonl")
    journal.unlink()
    pc.open()
    assert [(each.number, each.id) for each in pc.store.gaps()] == [(2, "")]
    second.reach(pc.app)
    second.begin_anew(second.sync()[1])
    assert [(each.number, each.id) for each in pc.store.gaps()] == [(2, entry(2)["id"])]
    second.sync(*second.held.values())
    second.sync()
    assert pc.store.gaps() == ()
    pc.store.close()


def test_gaps_are_one_for_each_strip_down_of_the_same_data_and_reach_as_far_as_anybody_knew():
    first = Gap("a", STRIP, 5, "", 1)
    assert with_gap((first,), first._replace(number=4, id="x", noticed_ms=2, holders=("p",))) == (first,)
    same = with_gap((first,), first._replace(id="x", noticed_ms=2, holders=("p",)))
    assert same == (first._replace(id="x", holders=("p",)),)
    assert merged(same, same) == same
    assert with_gap(same, first._replace(id="y", holders=("q",))) == same
    further = first._replace(number=6, id="y", noticed_ms=3)
    assert with_gap(same, further) == (further,)
    others = (first._replace(of="b"), first._replace(strip=OTHER_STRIP))
    assert merged((first,), others) == (first, *others)
    held = first._replace(holders=("p",))
    for number in range(30):
        [held] = with_gap((held,), first._replace(holders=(f"q{number}",)))
    assert len(held.holders) == 8
    assert gaps_in(gaps_as_text((held, further))) == (held, further)


@pytest.mark.parametrize("text", ["x", "[", "{}", "null", "7", "[7]", "[{}]", '["x"]', '[{"of":"a"}]', json.dumps(
    [{"of": "a", "strip": "../x", "number": 1, "id": "", "noticed_ms": 1, "holders": []}])])
def test_of_a_spoiled_text_it_is_known_that_something_may_be_gone_and_nothing_stops(text):
    assert gaps_in(text) == (UNKNOWN,) and gaps_in(gaps_as_text((UNKNOWN,))) == (UNKNOWN,)


def test_what_an_older_program_noted_without_a_checksum_is_read():
    gap = Gap("a", STRIP, 3, "", 7, ("one",))
    assert gaps_in(json.dumps([gap._asdict()])) == (gap,) and gaps_in("") == gaps_in("\0\0") == ()


def test_no_single_flipped_bit_of_the_file_makes_a_gap_unknown_without_a_word(tmp_path):
    store = TinyStore(tmp_path / "data")
    store.append(STRIP, [entry(1), entry(2)])
    gap = Gap(store.identity, STRIP, 5, entry(5)["id"], 9, ("a phone",))
    store.change_gaps(lambda _: (gap,))
    store.close()
    path = tmp_path / "data" / IDENTITY
    whole = path.read_bytes()
    assert kept_gaps(path.parent) == (gap,)
    for bit in range(len(whole) * 8):
        spoiled = bytearray(whole)
        spoiled[bit // 8] ^= 1 << bit % 8
        path.write_bytes(spoiled)
        assert kept_gaps(path.parent) in ((gap,), (UNKNOWN,)), bit
    path.write_bytes(whole[:-9])
    store = TinyStore(path.parent)
    assert store.gaps() == (UNKNOWN,)
    [said] = told_of(store.gaps(), {}, in_folder=True)
    assert spoken(said).startswith("What was noted of entries that are gone from the PC can no longer be read")
    with_more = with_gap(store.gaps(), gap)
    assert len(told_of(with_more, {}, in_folder=True)) == 2
    store.close()
    # It stands over a start, and an owner's word ends it.
    store = TinyStore(path.parent)
    assert store.gaps() == (UNKNOWN,)
    store.change_gaps(lambda gaps: tuple(each for each in gaps if each.noticed_ms > said["noticed_ms"]))
    assert store.gaps() == ()
    store.close()
