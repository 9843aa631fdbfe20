"""A phone knows what the PC had: where data are older than they were, or gone in part, all phones begin anew."""

import time

import pytest

from cotterbook import less_than_told
from cotterbook.core.words import spoken
from cotterbook.errors import Problem
from cotterbook.store.postgres import PostgresStore
from examples import OTHER_STRIP, STRIP, entry, identifier
from set_back import Pc, Phone, app_over


@pytest.fixture(params=["tinydb", "postgres"])
def pc(request, tmp_path):
    pc = Pc(tmp_path / "data", request.getfixturevalue("postgres") if request.param == "postgres" else None)
    yield pc
    pc.store.close()


@pytest.mark.parametrize("others_wrote", [0, 3, 5, 7])
def test_an_older_copy_of_the_data_is_noticed_by_the_phone_that_read_further(pc, others_wrote, capsys):
    phone = Phone(pc.app)
    phone.sync(*(entry(n) for n in range(4)))
    pc.keep_copy()
    phone.client = pc.app.test_client()
    phone.token = phone.client.get("/api/hello").get_json()["csrf"]
    assert phone.sync(*(entry(n) for n in range(10, 15)))[0] == 200
    assert phone.lines[STRIP] == {"cursor": 9, "last": {"number": 9, "id": entry(14)["id"]}}
    identity = pc.store.identity
    pc.set_back(4)
    assert pc.store.identity == identity  # by itself the store cannot see it
    pc.store.append(STRIP, [entry(20 + n) for n in range(others_wrote)])
    away, late = Phone(pc.app), Phone(pc.app)
    away.sync()
    late.sync()
    phone.client, phone.token = away.client, away.token
    told = phone.sync(entry(30))
    assert (told[0], told[1]["error"]["code"]) == (409, "other_store")
    assert told[1]["error"]["values"]["store"] == pc.store.identity != identity
    assert entry(30)["id"] not in pc.store.held([entry(30)["id"]])  # nothing of that request was kept
    assert "Entries that the PC had are gone from it, of strip-downs: 1, among them" in capsys.readouterr().err
    # Every phone sends all it holds once more: this one, and one to which nothing looked wrong.
    phone.begin_anew(told[1])
    answer = phone.sync(*phone.held.values(), entry(30))[1]
    assert ["Entries that the PC had are gone" in spoken(each) for each in answer["concerns"]] == [True]
    told = late.sync()
    assert told[0] == 409
    late.begin_anew(told[1])
    assert late.sync(*late.held.values())[0] == 200
    assert late.held == phone.held and len(phone.held) == 10 + others_wrote
    assert late.sync()[1]["concerns"] == [] == list(pc.store.gaps())  # for all that was gone is back


def test_what_an_entry_was_told_to_be_last_is_held_against_its_number_and_strip_down(pc, monkeypatch):
    monkeypatch.setattr(less_than_told, "ONCE_WITHIN_MS", 0)
    phone = Phone(pc.app)
    phone.sync(entry(1), entry(2))
    phone.sync(entry(3, OTHER_STRIP), strip=OTHER_STRIP)
    right = {"number": 2, "id": entry(2)["id"]}
    for strip, last, told in (
        (STRIP, right, 200), (STRIP, {"number": 1, "id": entry(1)["id"]}, 200), (STRIP, None, 200),
        (STRIP, right | {"number": 1}, 409), (STRIP, right | {"number": 2**53 - 1}, 409),
        (STRIP, right | {"id": identifier(77)}, 409), (OTHER_STRIP, right, 409), (identifier(78), right, 409),
    ):
        identity = phone.store = pc.store.identity
        assert phone.post({strip: {"cursor": 0, "last": last}}).status_code == told, (strip, last)
        assert (pc.store.identity == identity) == (told == 200)


def test_a_device_makes_all_begin_anew_once_an_hour_and_after_that_itself_alone(pc, monkeypatch):
    phone = Phone(pc.app)
    phone.sync(entry(1))
    made_up = {STRIP: {"cursor": 0, "last": {"number": 9, "id": identifier(77)}}}
    before = phone.store
    first = phone.post(made_up).get_json()["error"]["values"]["store"]
    assert first == pc.store.identity != before
    phone.store = first
    for _again in range(3):
        answer = phone.post(made_up)
        assert (answer.status_code, answer.get_json()["error"]["values"]["store"]) == (409, first)
    assert pc.store.identity == first
    later = time.time_ns() + 2 * less_than_told.ONCE_WITHIN_MS * 1_000_000
    monkeypatch.setattr(time, "time_ns", lambda: later)
    assert phone.post(made_up).get_json()["error"]["values"]["store"] != first


@pytest.mark.parametrize("last", [
    7, "x", [], {}, {"number": 1}, {"id": entry(1)["id"]}, {"number": 0, "id": entry(1)["id"]},
    {"number": True, "id": entry(1)["id"]}, {"number": 1.0, "id": entry(1)["id"]},
    {"number": 2**53, "id": entry(1)["id"]}, {"number": 1, "id": "x"}, {"number": 1, "id": None},
])
def test_a_last_entry_of_the_wrong_form_is_refused_whole(app, store, last):
    phone = Phone(app)
    phone.store = store.identity
    answer = phone.post({STRIP: {"cursor": 0, "entries": [entry(1)], "last": last}})
    assert (answer.status_code, answer.get_json()["error"]["code"]) == (400, "bad_request")
    assert (store.strips(), store.identity) == ({}, phone.store)


def test_a_phone_of_an_older_program_tells_of_no_last_entry_and_is_served_as_before(app, store):
    phone = Phone(app)
    phone.sync(entry(1), entry(2))
    phone.lines = {STRIP: {"cursor": 9}}
    told, answer = phone.sync(entry(3))
    assert told == 200 and answer["strips"][STRIP]["cursor"] == 3  # less than it says: it sends the strip-down again
    assert [each["id"] for each in answer["strips"][STRIP]["entries"]] == [entry(1)["id"], entry(2)["id"]]


def test_another_server_over_the_same_database_hears_that_it_was_begun_anew(postgres, tmp_path):
    url = postgres.database()
    first, second = PostgresStore(url), PostgresStore(url)
    first.append(STRIP, [entry(1)])
    phone = Phone(app_over(tmp_path, second))
    assert phone.sync()[0] == 200
    made = first.begin_anew(phone.store)
    told, answer = phone.sync()
    assert (told, answer["error"]["values"]["store"]) == (409, made)
    assert second.begin_anew(phone.store) == made
    phone.begin_anew(answer)
    assert phone.sync()[0] == 200 and phone.store == made
    first.close()
    second.close()


def test_a_page_that_cannot_be_read_of_one_strip_down_stops_no_other(postgres, tmp_path):
    url, many = postgres.database(), 3_000  # so many that nobody reads them all to find one
    store = PostgresStore(url)
    store.append(OTHER_STRIP, [entry(n, OTHER_STRIP) for n in range(3)])
    store.append(STRIP, [entry(100 + n) for n in range(many)])
    postgres.execute("ANALYZE cotterbook.entries", url)
    store.close()
    postgres.spoil(url, "cotterbook.entries", beside=False)
    store = PostgresStore(url)
    with pytest.raises(Problem, match="database"):
        store.places([entry(0, OTHER_STRIP)["id"]])
    phone = Phone(app_over(tmp_path, store))
    phone.lines = {
        STRIP: {"cursor": many, "last": {"number": many, "id": entry(100 + many - 1)["id"]}},
        OTHER_STRIP: {"cursor": 3, "last": {"number": 3, "id": entry(2, OTHER_STRIP)["id"]}},
    }
    phone.store = identity = store.identity
    told, _ = phone.sync(entry(99_000))
    assert (told, store.identity) == (200, identity)
    assert store.held([entry(99_000)["id"]])
    store.close()
