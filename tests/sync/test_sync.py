"""Sync over HTTP: what is kept, what is refused and with which words, and that phones converge."""

import io
import json

import pytest

from cotterbook import sync
from cotterbook.core.limits import ENTRY_BYTES, TEXT_CHARACTERS
from cotterbook.store import TinyStore
from cotterbook.sync import ANSWER_BYTES
from disk import full_at
from examples import AT_MS, DEVICE, OTHER_STRIP, STRIP, entry, identifier
from running import new_id


class Phone:
    """A phone over Flask's test client: what it holds, how far it has read, and its token."""

    def __init__(self, app):
        self.client, self.cursors, self.held = app.test_client(), {}, {}
        self.token = self.client.get("/api/hello").get_json()["csrf"]

    def post(self, body):
        data = body if isinstance(body, bytes | str) else json.dumps(body)
        return self.client.post(
            "/api/sync", data=data, headers={"X-CSRFToken": self.token, "Content-Type": "application/json"})

    def body(self, entries=(), strip=STRIP):
        strips = {each: {"cursor": cursor, "entries": []} for each, cursor in self.cursors.items()}
        if entries:
            strips[strip] = {"cursor": self.cursors.get(strip, 0), "entries": list(entries)}
        return {"version": "0.1.0", "now": AT_MS, "device": DEVICE, "strips": strips}

    def sync(self, entries=(), strip=STRIP):
        """Send entries of one strip-down, take in the answer, and return it."""
        response = self.post(self.body(entries, strip))
        assert response.status_code == 200, response.get_json()
        answer = response.get_json()
        refused = {each["id"] for part in answer["strips"].values() for each in part["refused"]}
        self.held |= {each["id"]: each for each in entries if each["id"] not in refused}
        for each, part in answer["strips"].items():
            self.cursors[each] = part["cursor"]
            self.held |= {new["id"]: new for new in part["entries"]}
        return answer

    def refusals(self, entries, strip=STRIP):
        return self.sync(entries, strip)["strips"][strip]["refused"]


@pytest.fixture
def phone(app):
    return Phone(app)


def error(response, status, code):
    body = response.get_json()
    assert (response.status_code, body["error"]["code"]) == (status, code), body
    return body["error"]["text"].format(**body["error"]["values"])


def test_entries_are_kept_on_disk_and_not_sent_back(phone, data_folder, store):
    answer = phone.sync([entry(1), entry(2)])
    assert answer["strips"] == {STRIP: {"entries": [], "cursor": 2, "more": False, "refused": [],
                                        "last": {"number": 2, "id": entry(2)["id"]}}}
    assert answer["more"] is False
    store.close()
    again = TinyStore(data_folder)
    assert again.read(STRIP, 0, 9, 9_999).entries == [entry(1), entry(2)]
    again.close()


def test_sending_the_same_again_changes_nothing(phone, store):
    first = phone.sync([entry(1)])
    second = phone.sync([entry(1)])
    assert second["strips"] == first["strips"]
    assert store.strips() == {STRIP: 1}


@pytest.mark.parametrize(("version", "taken"), [
    ("0.1.9", False), ("0.2.0", True), ("0.10.0", True), ("1.0.0", True), ("0.0.99", False), ("9999.0.0", True),
])
def test_a_phone_that_is_too_old_is_told_and_nothing_is_stored(phone, store, monkeypatch, version, taken):
    monkeypatch.setattr("cotterbook.sync.LEAST_PHONE", "0.2.0")
    answer = phone.post({**phone.body([entry(1)]), "version": version})
    if taken:
        assert answer.status_code == 200 and store.strips() == {STRIP: 1}
    else:
        text = error(answer, 409, "phone_too_old")
        assert version in text and "0.2.0 or later" in text and "stays on this phone" in text
        assert store.strips() == {}


def test_an_answer_says_who_and_when(phone):
    answer = phone.sync()
    assert answer["version"] == "0.1.0" and answer["now"] > AT_MS and answer["strips"] == {}
    hello = phone.client.get("/api/hello").get_json()
    assert (hello["program"], hello["version"]) == ("cotterbook", "0.1.0") and hello["now"] >= answer["now"]


def test_two_phones_converge(app):
    one, two = Phone(app), Phone(app)
    one.sync([entry(1)])
    two.sync([entry(2), entry(3)])
    two.sync([entry(4, OTHER_STRIP)], OTHER_STRIP)
    one.sync([entry(5)])
    for phone in (one, two, one):
        phone.sync()
    assert one.held == two.held and len(one.held) == 5
    assert one.cursors == two.cursors == {STRIP: 4, OTHER_STRIP: 1}
    assert one.sync()["strips"][STRIP]["entries"] == []


def test_an_id_used_twice_is_refused_and_both_stay_where_they_are(app):
    one, two = Phone(app), Phone(app)
    one.sync([entry(1)])
    [refused] = two.refusals([entry(1, who="Bob")])
    assert (refused["id"], refused["code"], refused["field"]) == (entry(1)["id"], "id_used_twice", "id")
    two.cursors = {}
    two.sync()
    assert two.held[entry(1)["id"]] == entry(1)


def test_an_id_of_another_strip_down_is_refused(phone):
    phone.sync([entry(1)])
    assert [each["code"] for each in phone.refusals([entry(1, OTHER_STRIP)], OTHER_STRIP)] == ["id_used_twice"]


@pytest.mark.parametrize(("bad", "code", "field"), [
    (entry(9, values={"pieces": 2}), "unknown_field", "values.pieces"),
    (entry(9, kind="witness"), "missing", "group"),
    (entry(9, surprise=1), "unknown_field", "surprise"),
    (entry(9, at="today"), "not_whole", "at"),
    (entry(9, at=AT_MS // 1000), "out_of_range", "at"),
    (entry(9, who=" "), "blank", "who"),
    (entry(9, who=None), "missing", "who"),
    (entry(9, who=["Ann"]), "not_text", "who"),
    (entry(9, by="phone"), "not_an_id", "by"),
    (entry(9, values={"note": "x" * (TEXT_CHARACTERS + 1)}), "too_long", "values.note"),
    (entry(9, kind="new", filler="x" * ENTRY_BYTES), "too_big", ""),
    (entry(9, OTHER_STRIP), "wrong_strip", "strip"),
])
def test_a_bad_entry_is_refused_and_the_rest_accepted(phone, store, bad, code, field):
    refused = phone.refusals([entry(1), bad, entry(2)])
    assert [(each["id"], each["code"], each["field"]) for each in refused] == [(bad["id"], code, field)]
    assert refused[0]["text"].format(**refused[0]["values"])
    assert store.read(STRIP, 0, 9, 9_999).entries == [entry(1), entry(2)]


@pytest.mark.parametrize("bad", [None, 7, "entry", [], {}, {"id": "../x"}, {**entry(1), "id": 5}])
def test_what_is_no_entry_is_refused_without_an_id(phone, store, bad):
    answer = phone.post(phone.body([bad, entry(2)])).get_json()
    assert [each["id"] for each in answer["strips"][STRIP]["refused"]] == [None]
    assert store.strips() == {STRIP: 1}


def test_an_entry_from_a_clock_that_is_a_year_off_is_kept(phone):
    year = 365 * 86_400_000
    assert phone.refusals([entry(1, at=AT_MS - year), entry(2, at=AT_MS + 5 * year)]) == []


def test_an_unknown_kind_is_kept_and_passed_on_untouched(app):
    one, two = Phone(app), Phone(app)
    later = {**entry(1), "kind": "colour_of_cable", "thing": 3, "values": [{"deep": [1.5, None, True, "ü"]}]}
    assert one.refusals([later]) == []
    two.sync()
    assert two.held == {later["id"]: later}


def test_a_long_log_comes_in_pages_by_count(phone, store, app):
    store.append(STRIP, [entry(n) for n in range(1_500)])
    store.append(OTHER_STRIP, [entry(n, OTHER_STRIP) for n in range(2_000, 2_700)])
    pages = []
    while not pages or pages[-1]["more"]:
        pages.append(phone.sync())
    assert [sum(len(each["entries"]) for each in page["strips"].values()) for page in pages] == [1_000, 1_000, 200]
    assert len(phone.held) == 2_200


def test_a_long_log_comes_in_pages_by_size(phone, store):
    store.append(STRIP, [entry(n, values={"note": "ü" * TEXT_CHARACTERS}) for n in range(400)])
    answers = []
    while not answers or answers[-1]["more"]:
        response = phone.post(phone.body())
        answers.append(response.get_json())
        assert len(json.dumps(answers[-1], ensure_ascii=False).encode()) < ANSWER_BYTES + 2 * ENTRY_BYTES
        phone.cursors[STRIP] = answers[-1]["strips"][STRIP]["cursor"]
    assert len(answers) == 2 and phone.cursors == {STRIP: 400}


def test_sending_and_reading_pages_at_once_loses_nothing(app, store):
    store.append(STRIP, [entry(n) for n in range(1_200)])
    phone = Phone(app)
    first = phone.sync([entry(5_000 + n) for n in range(300)])
    assert first["strips"][STRIP]["more"] is True
    second = phone.sync()
    assert second["more"] is False and second["strips"][STRIP]["entries"][-1] == entry(5_299)
    assert len(phone.held) == 1_500


def test_a_phone_that_is_ahead_of_the_pc_begins_anew(phone, store):
    store.append(STRIP, [entry(1)])
    phone.cursors = {STRIP: 7, OTHER_STRIP: 3}
    answer = phone.sync()
    assert answer["strips"][STRIP]["entries"] == [entry(1)]
    assert phone.cursors == {STRIP: 1, OTHER_STRIP: 0}


def test_more_entries_than_the_limit_are_refused_whole(phone, store):
    assert error(phone.post(phone.body([entry(n) for n in range(1_001)])), 413, "too_many_entries") == (
        "More than 1000 entries at once. Nothing was stored. Send fewer at a time.")
    assert store.strips() == {}
    phone.sync([entry(n) for n in range(1_000)])
    assert store.strips() == {STRIP: 1_000}


def test_the_limit_counts_all_strip_downs_together(phone, store):
    body = phone.body([entry(n) for n in range(600)])
    body["strips"][OTHER_STRIP] = {"cursor": 0, "entries": [entry(n, OTHER_STRIP) for n in range(600, 1_200)]}
    error(phone.post(body), 413, "too_many_entries")
    assert store.strips() == {}


def test_a_request_over_a_megabyte_is_refused_whole(phone, store):
    body = json.dumps(phone.body([entry(1)]))
    assert error(phone.post(body + " " * (1_000_001 - len(body))), 413, "request_too_big") == (
        "More than 1000000 bytes at once. Nothing was stored. Send less at a time.")
    assert store.strips() == {}
    assert phone.post(body + " " * (1_000_000 - len(body))).status_code == 200


@pytest.mark.parametrize("size", [1_000_001, 5_000_000])
def test_a_request_that_does_not_say_its_size_is_stopped_too(phone, size):
    response = phone.client.post(
        "/api/sync", input_stream=io.BytesIO(b" " * size), headers={"X-CSRFToken": phone.token},
        environ_overrides={"wsgi.input_terminated": True})
    assert "More than 1000000 bytes" in error(response, 413, "request_too_big")


def test_one_strip_down_more_than_the_pc_takes_is_refused_and_those_there_go_on(phone, monkeypatch):
    monkeypatch.setattr(sync, "STRIPS", 2)
    others = [new_id() for _ in range(2)]
    assert phone.refusals([entry(1)]) == phone.refusals([entry(2, others[0])], others[0]) == []
    [refused] = phone.refusals([entry(3, others[1])], others[1])
    assert (refused["code"], refused["id"]) == ("too_many_strips", entry(3)["id"])
    assert phone.refusals([entry(4)]) == phone.refusals([entry(5, others[0])], others[0]) == []


def test_a_full_strip_down_says_so(data_folder):
    from cotterbook import create_app

    store = TinyStore(data_folder, entries_a_strip=3)
    phone = Phone(create_app(data_folder, store))
    refused = phone.refusals([entry(n) for n in range(5)])
    assert [(each["id"], each["code"]) for each in refused] == [
        (entry(3)["id"], "strip_full"), (entry(4)["id"], "strip_full")]
    assert "holds 3 entries" in refused[0]["text"].format(**refused[0]["values"])
    store.close()


@pytest.mark.parametrize("text", [
    "", "{", "[1", '{"a": NaN}', '{"a": Infinity}', '{"a": -Infinity}', '{"a": 1e999}', '{"a": 1' + "0" * 400 + "}",
    '{"a": ' + "[" * 33 + "]" * 33 + "}", '{"a": ' + "[" * 50_000 + "]" * 50_000 + "}", b'{"a": "\xff"}',
    "{}".encode("utf-16"), '{"a": 1' + "0" * 9_000 + "}",
])
def test_what_is_no_json_is_refused(phone, text):
    assert "not proper JSON" in error(phone.post(text), 400, "bad_json")


@pytest.mark.parametrize("number", ["NaN", "Infinity", "1e999"])
def test_a_number_that_is_none_stops_the_request_whole(phone, store, number):
    body = json.dumps(phone.body([entry(1), entry(2, values={"aim_grams": 12345})])).replace("12345", number)
    error(phone.post(body), 400, "bad_json")
    assert store.strips() == {}


@pytest.mark.parametrize("change", [
    {"version": None}, {"version": 1}, {"version": "1.0"}, {"version": "0.1.0x"}, {"version": "٠.١.٠"},
    {"device": None}, {"device": 5}, {"device": "phone"}, {"strips": None}, {"strips": []}, {"strips": "x"},
    {"strips": {"x": {}}}, {"strips": {STRIP.upper(): {}}}, {"strips": {STRIP: []}},
    {"strips": {STRIP: {"cursor": -1}}}, {"strips": {STRIP: {"cursor": 1.5}}}, {"strips": {STRIP: {"cursor": True}}},
    {"strips": {STRIP: {"cursor": "1"}}}, {"strips": {STRIP: {"cursor": 2**60}}},
    {"strips": {STRIP: {"entries": {}}}}, {"strips": {STRIP: {"entries": "x"}}},
    {"strips": {STRIP: {"entries": [entry(1)]}, identifier(5): None}},
])
def test_a_request_of_the_wrong_form_is_refused_whole(phone, store, change):
    assert "could not make sense of" in error(phone.post({**phone.body(), **change}), 400, "bad_request")
    assert store.strips() == {}


def test_an_entry_that_is_too_deep_is_refused_alone(phone, store):
    """Of a kind to come: a phone that came to hold one must still be able to send all else."""
    deep = [1]
    for _ in range(14):
        deep = [deep]
    answer = phone.sync([entry(1), entry(2, kind="colour_note", shades=deep), entry(3)])
    assert [each["code"] for each in answer["strips"][STRIP]["refused"]] == ["too_deep"]
    assert len(store.read(STRIP, 0, 10, 10_000).entries) == 2


@pytest.mark.parametrize("text", ["[]", "7", "null", '"x"'])
def test_json_that_is_no_object_is_refused(phone, text):
    error(phone.post(text), 400, "bad_request")


def test_without_a_token_nothing_is_taken(phone, store):
    phone.token = ""
    assert "Nothing was lost" in error(phone.post(phone.body([entry(1)])), 400, "csrf")
    phone.token = "made up"
    error(phone.post(phone.body([entry(1)])), 400, "csrf")
    assert store.strips() == {}


def test_a_token_of_another_session_is_refused(app, phone):
    phone.token = Phone(app).token
    error(phone.post(phone.body([entry(1)])), 400, "csrf")


def test_a_full_disk_acknowledges_nothing(app, phone, store):
    phone.sync([entry(1)])
    with full_at(600):
        assert error(phone.post(phone.body([entry(2), entry(3)])), 507, "disk_full") == (
            "The PC's disk is full. Nothing was lost: your entries stay on this phone."
            " Make room on the PC, then send again.")
    assert store.strips() == {STRIP: 1}
    assert phone.refusals([entry(2), entry(3)]) == []
    other = Phone(app)
    other.sync()
    assert other.held == phone.held


def test_a_phone_of_another_store_is_told_before_anything_is_kept(phone, store):
    body = phone.body([entry(1)])
    for other in (identifier(77), 7, "", []):
        assert "sends all that it holds" in error(phone.post(body | {"store": other}), 409, "other_store")
    assert store.strips() == {}
    answer = phone.post(body | {"store": store.identity})
    assert (answer.status_code, answer.get_json()["store"], store.strips()) == (200, store.identity, {STRIP: 1})
