"""The gate over HTTP: who gets what without a token, with another's, with a revoked one, and with each role."""

import base64
import hashlib
import json

import pytest

from cotterbook import create_app
from cotterbook.devices import HAND, LOOKER_ON, OWNER, DeviceBook
from cotterbook.devices.gate import OPEN
from cotterbook.devices.routes import now_ms
from cotterbook.errors import Problem
from cotterbook.store import TinyStore
from cotterbook.sync import receive
from examples import STRIP, entry, picture
from running import new_id

COOKIE = "cotterbook-device-8350"
HOST = "127.0.0.1:8350"


@pytest.fixture
def book(data_folder):
    return DeviceBook(data_folder)


@pytest.fixture
def app(data_folder, store, book):
    return create_app(data_folder, store, book)


class Caller:
    """One device's way to the application, with a fresh security token."""

    def __init__(self, app, token=None):
        self.client = app.test_client()
        if token:
            self.client.set_cookie(COOKIE, token, domain="127.0.0.1")
        self.hello = self.ask("GET", "/api/hello").json
        self.headers = {"X-CSRFToken": self.hello["csrf"]}

    def ask(self, method, path, body=None, headers=None, **more):
        return self.client.open(
            path, method=method, headers={"Host": HOST, **getattr(self, "headers", {}), **(headers or {})},
            json=body, **more)

    def sync(self, *entries):
        strips = {STRIP: {"cursor": 0, "entries": list(entries)}}
        return self.ask("POST", "/api/sync", {"version": "0.1.0", "device": new_id(), "strips": strips})

    def pair(self, code, device_id=None, name="A phone", address="10.0.0.9"):
        return self.ask("POST", "/api/pairing", {"code": code, "device": device_id or new_id(), "name": name},
                        environ_overrides={"REMOTE_ADDR": address})


@pytest.fixture
def caller(app, book):
    """caller(role) is a device of that role; caller() a stranger. `id` and `token` are a paired one's."""

    def make(role=None):
        if role is None:
            return Caller(app)
        token, device = book.pair(book.make_code(role, now_ms()), new_id(), f"A {role}", now_ms())
        made = Caller(app, token)
        made.id, made.token = device.id, token
        return made

    return make


def code(answer):
    return answer.status_code, answer.json["error"]["code"]


def every_call(app):
    """Each method and address of the application that is not open."""
    for rule in app.url_map.iter_rules():
        if rule.endpoint not in OPEN:
            path = rule.rule.replace("<sha256>", "0" * 64).replace("<device_id>", new_id())
            for method in sorted(rule.methods - {"HEAD", "OPTIONS"}):
                yield method, path


def test_nothing_of_the_shop_answers_without_a_token(app, caller, store):
    store.append(STRIP, [entry(1)])
    stranger = caller()
    calls = list(every_call(app))
    assert len(calls) >= 8
    for method, path in calls:
        assert code(stranger.ask(method, path, {})) == (401, "not_paired"), (method, path)
    assert code(stranger.ask("OPTIONS", "/api/sync")) == (401, "not_paired")
    assert code(stranger.ask("GET", "/api/nothing")) == (401, "not_paired")


def test_hello_tells_a_stranger_nothing_of_the_shop(caller, store):
    assert set(caller().hello) == {"program", "version", "now", "csrf", "paired", "revoked"}
    told = caller(HAND).hello
    assert (told["paired"], told["role"], told["name"], told["store"]) == (True, "hand", "A hand", store.identity)


@pytest.mark.parametrize("token", ["x", "0" * 43, "é", "a" * 3900, "' OR 1=1 --", "../devices.json"])
def test_a_guessed_token_opens_nothing(app, caller, token):
    caller(OWNER)
    stranger = Caller(app, token.encode().decode("latin-1"))
    assert stranger.hello["paired"] is False
    assert code(stranger.ask("GET", "/api/devices")) == (401, "not_paired")


def test_a_revoked_token_opens_nothing_from_the_next_request_on(app, book, caller):
    hand = caller(HAND)
    assert hand.sync(entry(1)).status_code == 200
    book.revoke(hand.id, now_ms())
    assert code(hand.sync(entry(2))) == (401, "revoked")
    again = Caller(app, hand.token)
    assert (again.hello["paired"], again.hello["revoked"]) == (False, True)
    assert "store" not in again.hello


def test_a_hand_writes_and_does_not_touch_the_list(app, caller):
    hand, data = caller(HAND), picture(1)
    sha256 = hashlib.sha256(data).hexdigest()
    assert hand.sync(entry(1)).status_code == 200
    put = hand.client.put(f"/api/photos/{sha256}", data=data, headers={"Host": HOST, **hand.headers})
    assert put.status_code == 200
    for method, path in every_call(app):
        if "/devices" in path:
            assert code(hand.ask(method, path, {})) == (403, "not_allowed"), path


def test_to_do_without_a_second_check_is_an_owner_s_decision(book, caller, store, data_folder, tmp_path):
    hand, owner = caller(HAND), caller(OWNER)
    decided = {"kind": "waive", "group": new_id(), "what": "second_check", "why": "A trim cover."}

    def by(number, device):
        own = entry(number, by=device)
        return {name: own[name] for name in ("id", "strip", "at", "by", "who")} | decided

    answer = hand.sync(entry(1), by(2, hand.id)).json["strips"][STRIP]
    assert [(each["id"], each["code"]) for each in answer["refused"]] == [(by(2, hand.id)["id"], "owner_decides")]
    # A hand's entry stays a hand's, whoever brings it; an owner's stays an owner's, also after that phone was let go.
    assert owner.sync(by(2, hand.id)).json["strips"][STRIP]["refused"]
    book.revoke(owner.id, now_ms())
    assert not hand.sync(by(3, owner.id)).json["strips"][STRIP]["refused"]
    # Who was an owner and is none now decides nothing more; what was taken before is taken again, as after a way back.
    former = caller(OWNER)
    assert not former.sync(by(5, former.id)).json["strips"][STRIP]["refused"]
    book.change(former.id, "Was an owner", HAND, now_ms())
    for each, place in ((DeviceBook(data_folder), "started_again"), (book, "as_it_is")):
        gone_back = TinyStore(tmp_path / place)
        altered = by(5, former.id) | {"why": "Another reason."}
        assert receive(gone_back, STRIP, [by(5, former.id)], each) == []
        assert [refused["code"] for refused in receive(gone_back, STRIP, [by(6, former.id), altered], each)] == [
            "owner_decides", "owner_decides"]
        assert gone_back.strips() == {STRIP: 1}
        gone_back.close()
    # What stands in a file that the owner takes in at the terminal comes from no device that asks.
    assert receive(store, STRIP, [by(4, hand.id)]) == []
    assert store.strips() == {STRIP: 4}
    # The PC holds it, so its phone's own copy is no new decision; anything else under its identifier would be.
    assert not hand.sync(by(4, hand.id)).json["strips"][STRIP]["refused"]
    [refused] = hand.sync(by(4, hand.id) | {"why": "Another reason."}).json["strips"][STRIP]["refused"]
    assert refused["code"] == "owner_decides" and store.strips() == {STRIP: 4}


def test_a_looker_on_reads_and_writes_nothing(caller, store):
    data = picture(2)
    sha256 = hashlib.sha256(data).hexdigest()
    store.append(STRIP, [entry(1)])
    onlooker = caller(LOOKER_ON)
    assert onlooker.sync().json["strips"][STRIP]["entries"] == [entry(1)]
    assert code(onlooker.sync(entry(2))) == (403, "only_looks_on")
    put = onlooker.client.put(f"/api/photos/{sha256}", data=data, headers={"Host": HOST, **onlooker.headers})
    assert code(put) == (403, "only_looks_on")
    assert store.missing_photos([sha256]) == [sha256] and store.strips() == {STRIP: 1}
    assert code(onlooker.ask("POST", "/api/devices/codes", {"role": "owner"})) == (403, "not_allowed")


def test_only_who_may_write_has_every_phone_begin_anew(caller, store):
    """The others read anew, each for itself."""
    store.append(STRIP, [entry(1)])
    identity = store.identity
    strips = {STRIP: {"cursor": 0, "last": {"number": 7, "id": entry(7)["id"]}}}
    for role, kept in ((LOOKER_ON, True), (HAND, False)):
        body = {"version": "0.1.0", "device": new_id(), "store": identity, "strips": strips}
        answer = caller(role).ask("POST", "/api/sync", body)
        assert code(answer) == (409, "other_store")
        assert answer.json["error"]["values"]["store"] == store.identity and (store.identity == identity) == kept


def test_an_owner_lets_in_changes_and_lets_go(app, caller):
    owner = caller(OWNER)
    made = owner.ask("POST", "/api/devices/codes", {"role": "hand"}).json
    assert made["url"] == f"http://{HOST}/#/pair/{made['code']}" and made["trust"] is None
    stranger = caller()
    paired = stranger.pair(made["code"], name="Phone at the lift")
    assert paired.json == {"role": "hand", "name": "Phone at the lift"}
    cookie = paired.headers["Set-Cookie"]
    assert "HttpOnly" in cookie and "SameSite=Strict" in cookie and "Path=/" in cookie
    assert stranger.sync(entry(1)).status_code == 200
    [row] = [each for each in owner.ask("GET", "/api/devices").json["devices"] if not each["here"]]
    assert row["name"] == "Phone at the lift" and "token_sha256" not in row
    owner.ask("POST", f"/api/devices/{row['id']}", {"name": "Tablet", "role": "looker_on"})
    assert code(stranger.sync(entry(2))) == (403, "only_looks_on")
    gone = owner.ask("POST", f"/api/devices/{row['id']}/revoke", {}).json["devices"]
    assert [each["revoked_ms"] is None for each in gone if each["id"] == row["id"]] == [False]
    assert code(stranger.sync()) == (401, "revoked")


def test_a_code_is_good_once_also_when_it_is_sent_again(caller, book):
    made = book.make_code(HAND, now_ms())
    first, second = caller(), caller()
    assert first.pair(made).status_code == 200
    assert code(second.pair(made)) == (403, "wrong_code")
    assert code(first.pair(made)) == (403, "wrong_code")


def test_guessing_is_stopped_for_one_address_and_for_all_together(caller, book):
    good = book.make_code(OWNER, now_ms())
    stranger = caller()
    tries = [code(stranger.pair(f"{n:08}", address="10.0.0.1")) for n in range(12)]
    assert tries == [(403, "wrong_code")] * 10 + [(429, "too_often")] * 2
    # Another address is not stopped by it, until all together have tried too often.
    tries = [code(stranger.pair(f"{n:08}", address=f"10.0.1.{n}"))[0] for n in range(42)]
    assert tries == [403] * 40 + [429] * 2
    assert code(stranger.pair(good, address="10.0.2.1")) == (429, "too_often")


def test_a_stranger_that_asks_on_and_on_is_turned_away_and_devices_are_not(caller):
    hand, stranger = caller(HAND), caller()
    answers = [stranger.ask("GET", "/api/devices").status_code for _ in range(125)]
    assert answers == [401] * 120 + [429] * 5
    assert hand.sync(entry(1)).status_code == 200


def test_guessing_and_strangers_stand_in_the_record_without_what_they_guessed(caller, book, data_folder):
    caller().pair("12345678", address="10.0.0.7")
    lines = [json.loads(line) for line in (data_folder / "audit.jsonl").read_text().splitlines()]
    assert [(each["event"], each.get("why"), each.get("address")) for each in lines] == [
        ("refused", "wrong_code", "10.0.0.7")]
    assert "12345678" not in (data_folder / "audit.jsonl").read_text()


def test_no_request_changes_anything_without_the_pages_security_token(app, caller, book):
    owner = caller(OWNER)
    owner.headers = {}
    before = book.devices()
    for method, path in every_call(app):
        if method != "GET":
            assert code(owner.ask(method, path, {"role": "owner"})) == (400, "csrf"), path
    made = book.make_code(OWNER, now_ms())
    assert code(owner.pair(made)) == (400, "csrf")
    assert book.devices() == before


@pytest.mark.parametrize("body", [
    {}, {"code": 1, "device": "x", "name": "y"}, {"code": "1", "device": None, "name": []}])
def test_a_pairing_that_makes_no_sense_is_refused(caller, body):
    assert code(caller().ask("POST", "/api/pairing", body))[0] in (400, 403)


def test_what_a_device_says_it_has_not_sent_is_listed_and_never_a_reason_to_refuse(caller):
    owner, hand = caller(OWNER), caller(HAND)
    body = {"version": "0.1.0", "device": new_id(), "strips": {}, "unsent": 7, "unsent_photos": 2}
    assert hand.ask("POST", "/api/sync", body).status_code == 200
    [row] = [each for each in owner.ask("GET", "/api/devices").json["devices"] if each["id"] == hand.id]
    assert (row["unsent"], row["unsent_photos"]) == (7, 2) and row["seen_ms"]
    for nonsense in (-1, True, "7", 2**60, None, [], 1.5):
        assert hand.ask("POST", "/api/sync", {**body, "unsent": nonsense}).status_code == 200


def test_over_https_the_cookies_are_bound_to_the_host(app, book):
    client = app.test_client()
    base = "https://127.0.0.1:8350"
    hello = client.get("/api/hello", base_url=base)
    assert hello.headers["Set-Cookie"].startswith("__Host-cotterbook-session-8350=")
    assert "Secure" in hello.headers["Set-Cookie"]
    paired = client.post(
        "/api/pairing", base_url=base, headers={"X-CSRFToken": hello.json["csrf"], "Referer": base + "/"},
        json={"code": book.make_code(HAND, now_ms()), "device": new_id(), "name": "x"})
    [cookie] = [each for each in paired.headers.getlist("Set-Cookie") if "device" in each]
    assert cookie.startswith("__Host-cotterbook-device-8350=")
    assert {"Secure", "HttpOnly", "SameSite=Strict", "Path=/"} <= set(cookie.split("; ")) and "Domain" not in cookie


def test_a_fault_tells_where_things_are_to_owners_alone(app, caller, store, data_folder, monkeypatch):
    owner, hand, stranger = caller(OWNER), caller(HAND), caller()
    owner.sync(entry(1))

    def broken(*_):
        raise Problem("disk_trouble", what="/somewhere/inside")

    with monkeypatch.context() as patched:
        patched.setattr(store, "read", broken)
        told = owner.sync(), hand.sync()
    assert [code(each) for each in told] == [(500, "disk_trouble"), (500, "pc_trouble")]
    assert ["/somewhere/inside" in each.text for each in told] == [True, False]
    (data_folder / "devices.json").write_text("{")
    stranger.client.set_cookie(COOKIE, "any", domain="127.0.0.1")
    for each in (stranger, owner):
        answer = each.ask("GET", "/api/hello")
        assert code(answer) == (500, "pc_trouble") and str(data_folder) not in answer.text


def test_what_is_signed_is_signed_with_sha_256_and_each_kind_is_taken_for_itself_alone(caller):
    stranger = caller()
    session = stranger.client.get_cookie("cotterbook-session-8350", domain="127.0.0.1").value
    for signed in (session, stranger.headers["X-CSRFToken"]):
        assert len(base64.urlsafe_b64decode(signed.rpartition(".")[2] + "=")) == 32
    stranger.headers = {"X-CSRFToken": session}
    assert code(stranger.pair("12345678")) == (400, "csrf")
    altered = session[:-20] + ("A" if session[-20] != "A" else "B") + session[-19:]
    for other in (altered, session + "A", ".".join(session.split(".")[:2]) + ".", "e30.." + session[-43:]):
        stranger.client.set_cookie("cotterbook-session-8350", other, domain="127.0.0.1")
        assert code(stranger.pair("12345678")) == (400, "csrf")
