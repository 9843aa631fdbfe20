"""What is wrong on the PC: said to an owner at each sync, as long as it is so, and to nobody else."""

import hashlib
import re
import shutil
from datetime import datetime, timedelta

import pytest

from cotterbook.concerns import Concerns
from cotterbook.copies import DailyCopies
from cotterbook.core.words import spoken
from cotterbook.store import TinyStore
from cotterbook.store.postgres import PostgresStore
from cotterbook.sync import some
from cotterbook.trust.authority import Authority
from cotterbook.trust.certificates import now_utc
from examples import STRIP, entry, picture
from running import HttpClient, new_id

NOW = datetime(2026, 3, 1, 10, 0)


def said(concerns):
    return [spoken(each) for each in concerns.now()]


@pytest.fixture
def store(tmp_path):
    store = TinyStore(tmp_path / "data")
    yield store
    store.close()


def test_nothing_is_said_where_nothing_is_wrong(store, tmp_path):
    assert said(Concerns(store, tmp_path / "data")) == []


def test_a_disk_with_little_room_is_said_while_it_is_so(store, tmp_path, monkeypatch):
    concerns = Concerns(store, tmp_path / "data")
    monkeypatch.setattr("cotterbook.concerns.LITTLE_ROOM_BYTES", 2**62)  # any disk has less
    [told] = said(concerns)
    assert re.fullmatch(r"The PC’s disk has [0-9]+ MB left\. With less than 200 MB it takes no more pictures; .*", told)
    monkeypatch.undo()
    assert said(concerns) == []
    shutil.rmtree(tmp_path / "data")
    [told] = said(concerns)
    assert told == "The PC’s folder can’t be looked at: No such file or directory. Look at the disk of the PC."


def test_a_database_takes_pictures_whatever_room_the_folder_has(postgres, tmp_path, monkeypatch):
    monkeypatch.setattr("cotterbook.concerns.LITTLE_ROOM_BYTES", 2**62)
    url = postgres.database()
    store, data = PostgresStore(url), picture(1)
    sha256 = hashlib.sha256(data).hexdigest()
    [told] = said(Concerns(store, tmp_path))
    assert told.endswith("entries and pictures are in PostgreSQL. Make room there.") and "200 MB" not in told
    monkeypatch.undo()
    store.put_photo(sha256, data)
    postgres.execute("UPDATE cotterbook.pictures SET data = set_byte(data, 0, get_byte(data, 0) # 1)", url)
    assert store.get_photo(sha256) is None
    [told] = said(Concerns(store, tmp_path))
    [statement] = re.findall(r"UPDATE [^;]*(?=\.$)", told)
    assert "cotterbook backup or export made" in told
    postgres.execute(statement, url)
    assert said(Concerns(store, tmp_path)) == []
    store.close()


def test_a_write_that_was_cut_short_stands_no_longer_than_its_start(tmp_path):
    store = TinyStore(tmp_path / "data")
    store.append(STRIP, [entry(1)])
    store.close()
    [journal] = (tmp_path / "data" / "strips").glob("*.jsonl")
    journal.write_bytes(journal.read_bytes() + b'{"crc32":"00')
    store = TinyStore(tmp_path / "data")
    assert "was cut short" in spoken(store.reports[0])  # the terminal hears of it
    assert said(Concerns(store, tmp_path / "data")) == []
    store.close()


def test_a_picture_that_nobody_has_any_more_is_given_up_as_it_is_said(tmp_path):
    folder, data = tmp_path / "data", picture(1)
    store, sha256 = TinyStore(folder), hashlib.sha256(data).hexdigest()
    store.put_photo(sha256, data)
    (folder / "photos" / f"{sha256}.jpg").write_bytes(data[:-1])
    assert store.get_photo(sha256) is None
    [told] = said(Concerns(store, folder))
    assert "take in a file that cotterbook backup or export made: cotterbook import FILE." in told
    assert told.endswith("which ends in .damaged, is moved out of the folder photos in the data.")
    [aside] = (folder / "photos").glob("*.damaged")
    aside.rename(tmp_path / "given_up")
    assert said(Concerns(store, folder)) == []
    store.close()


def test_a_certificate_near_its_end_is_said(store, tmp_path):
    authority = Authority(tmp_path / "trust", "shop.local", now_utc() - timedelta(days=390))
    authority.renew([], now_utc() - timedelta(days=390))
    day = f"{authority.leaf().not_valid_after_utc:%Y-%m-%d}"
    for known, what in ((None, "It is your own: start Cotterbook on the PC with a new one."),
                        (authority, "Stop Cotterbook on the PC and start it again: it makes a new one.")):
        [told] = said(Concerns(store, tmp_path / "data", authority.leaf(), known))
        assert f"holds until {day}. Phones can’t reach the PC afterwards" in told and told.endswith(what)
    key = tmp_path / "trust" / "intermediate_key.pem"
    key.rename(tmp_path / "away")
    [told] = said(Concerns(store, tmp_path / "data", authority.leaf(), authority))
    assert "The key that renews it is gone: move the folder trust away" in told and "it makes a new one" not in told
    (tmp_path / "away").rename(key)
    authority.renew([])
    assert said(Concerns(store, tmp_path / "data", authority.leaf())) == []


def test_a_copy_that_failed_is_said_until_one_is_made(store, tmp_path, capsys):
    concerns = Concerns(store, tmp_path / "data")
    copies = DailyCopies(store, tmp_path / "data", 3, concerns)
    store.append(STRIP, [entry(1)])
    (tmp_path / "data" / "copies").write_text("no folder")
    copies.try_once(NOW)
    [told] = said(concerns)
    where = tmp_path / "data" / "copies" / "photos"
    assert told.startswith(f"No copy of the data was made on 2026-03-01 (Not a directory: {where}). What is kept is")
    assert "no copy was made today" in capsys.readouterr().err
    (tmp_path / "data" / "copies").unlink()
    copies.try_once(NOW)
    assert said(concerns) == [] and len(list((tmp_path / "data" / "copies").glob("*.zip"))) == 1


def test_copies_of_damaged_entries_take_no_older_ones_place(tmp_path):
    folder = tmp_path / "data"
    store = TinyStore(folder)
    store.append(STRIP, [entry(number) for number in (1, 2, 3)])
    DailyCopies(store, folder, 1, Concerns(store, folder)).look(NOW)
    store.close()
    [journal] = (folder / "strips").glob("*.jsonl")
    journal.write_bytes(journal.read_bytes().replace(b"note 2", b"note 8"))
    store = TinyStore(folder)
    assert store.damaged and "damaged and cannot be read: 1." in said(Concerns(store, folder))[0]
    DailyCopies(store, folder, 1, Concerns(store, folder)).look(NOW + timedelta(days=1))
    assert len(list((folder / "copies").glob("*.zip"))) == 2
    store.close()


def test_a_spoiled_picture_is_put_aside_and_wanted_until_it_comes_again(tmp_path):
    folder, data = tmp_path / "data", picture(1)
    store = TinyStore(folder)
    sha256 = hashlib.sha256(data).hexdigest()
    store.put_photo(sha256, data)
    path = folder / "photos" / f"{sha256}.jpg"
    rotten = bytes([data[0] ^ 1]) + data[1:]
    path.write_bytes(rotten)
    # A phone that asks before it lets its own picture go is told the truth.
    assert store.missing_photos([sha256]) == [sha256] and store.get_photo(sha256) is None
    assert path.with_suffix(".damaged").read_bytes() == rotten and store.wanted_photos() == [sha256]
    store.close()
    store = TinyStore(folder)
    assert store.wanted_photos() == [sha256] and "spoiled: 1." in said(Concerns(store, folder))[0]
    store.put_photo(sha256, data)
    assert store.wanted_photos() == [] and store.get_photo(sha256) == data and said(Concerns(store, folder)) == []
    store.close()
    store = TinyStore(folder)
    assert store.wanted_photos() == []
    store.close()


def test_a_picture_that_somebody_puts_back_by_hand_is_wanted_no_more(tmp_path):
    folder, data = tmp_path / "data", picture(1)
    store, sha256 = TinyStore(folder), hashlib.sha256(data).hexdigest()
    store.put_photo(sha256, data)
    path = folder / "photos" / f"{sha256}.jpg"
    path.write_bytes(data[:-1])
    assert store.get_photo(sha256) is None and store.wanted_photos() == [sha256]
    path.write_bytes(data[:-2])  # no better
    assert store.wanted_photos() == [sha256] and not path.exists()
    path.write_bytes(data)
    assert store.wanted_photos() == []
    store.close()


def test_an_owner_hears_of_it_at_each_sync_and_nobody_else(stopped_server):
    """Over HTTP, from a real server: a journal with a damaged line and a picture that the disk spoiled."""
    folder, data = stopped_server.folder, picture(1)
    store = TinyStore(folder)
    store.append(STRIP, [entry(number) for number in (1, 2, 3)])
    sha256 = hashlib.sha256(data).hexdigest()
    store.put_photo(sha256, data)
    store.close()
    [journal] = (folder / "strips").glob("*.jsonl")
    journal.write_bytes(journal.read_bytes().replace(b"note 2", b"note 8"))
    (folder / "photos" / f"{sha256}.jpg").write_bytes(data[:-1])
    server, answers = stopped_server.start(), {}
    for role in ("owner", "hand", "looker_on"):
        client = HttpClient(server.port, server.pair(role))
        client.hello()
        assert client.ask_json("/api/photos/missing", {"hashes": [sha256]}) == (200, {"missing": [sha256]})
        asked = {"version": "0.1.0", "device": new_id(), "now": 0, "strips": {}}
        status, answers[role] = client.ask_json("/api/sync", asked)
        client.close()
        assert status == 200
    assert all(each["wanted_photos"] == [sha256] for each in answers.values())
    assert answers["hand"]["concerns"] == answers["looker_on"]["concerns"] == []
    told = [spoken(each) for each in answers["owner"]["concerns"]]
    assert len(told) == 2 and "damaged and cannot be read: 1." in told[0] and "spoiled: 1." in told[1]


def test_each_of_many_wanted_pictures_is_named_sooner_or_later():
    wanted = [f"{number:064x}" for number in range(105)]
    assert len(some(wanted)) == 100 and some(wanted[:3]) and sorted(some(wanted[:3])) == wanted[:3]
    # 30 answers all without one of them: (1 - 100/105) ** 30 is 1e-40.
    assert {each for _ in range(30) for each in some(wanted)} == set(wanted)
