"""Several servers over one PostgreSQL and one data folder, with phones that sync all the while."""

import contextlib
import hashlib
import http.client
import json
import re
import socket
import ssl
import threading
import urllib.request

import pytest

from examples import OTHER_STRIP, STRIP, entry, identifier, picture
from postgres import Postgres
from running import HttpClient, RunningServer, free_port, new_id

STRIPS = (STRIP, OTHER_STRIP)
ENTRIES_A_PHONE = 150


@pytest.fixture
def make_servers(tmp_path):
    """make_servers(count, url): so many servers on ports of their own, all with the same data folder."""
    started = []

    def make(count, url):
        for _ in range(count):
            started.append(RunningServer(tmp_path / "data", store=url).start())
        return started

    yield make
    for server in started:
        server.stop()


class Phone(threading.Thread):
    """One phone at one server: sends what was not acknowledged, and takes what its cursor lacks, until all is sent."""

    def __init__(self, server, number, over):
        super().__init__()
        self.server, self.number, self.over = server, number, over
        self.unsent = [entry(number * 10_000 + n, STRIPS[n % 2]) for n in range(ENTRIES_A_PHONE)]
        self.own = {each["id"] for each in self.unsent}
        self.cursors, self.seen, self.refusals, self.fault = dict.fromkeys(STRIPS, 0), [], [], None

    def run(self):
        try:
            with contextlib.closing(HttpClient(self.server.port)) as client:
                client.hello()
                while self.unsent or not self.over.is_set():
                    self.sync(client)
                while self.sync(client):
                    pass
        except BaseException as fault:
            self.fault = fault
            raise

    def sync(self, client):
        """One request; whether there is more to read."""
        batch = self.unsent[:5]
        strips = {strip: {"cursor": cursor, "entries": [each for each in batch if each["strip"] == strip]}
                  for strip, cursor in self.cursors.items()}
        status, answer = client.ask_json(
            "/api/sync", {"version": "0.1.0", "now": 0, "device": identifier(self.number), "strips": strips})
        if status != 200:
            self.refusals.append((status, answer["error"]["code"]))
            return True
        for strip, part in answer["strips"].items():
            assert part["refused"] == []
            self.cursors[strip] = part["cursor"]
            self.seen += [each["id"] for each in part["entries"]]
        self.unsent = self.unsent[len(batch):]
        return answer["more"]


def start_phones(servers, count):
    over = threading.Event()
    phones = [Phone(servers[number % len(servers)], number + 1, over) for number in range(count)]
    for phone in phones:
        phone.start()
    return phones, over


def await_sent(phones, left):
    """Wait until the phones have no more than so many entries left to send."""
    while sum(len(phone.unsent) for phone in phones) > left:
        assert not any(phone.fault for phone in phones)
        threading.Event().wait(0.01)


def finish(phones, over):
    await_sent(phones, 0)
    over.set()
    for phone in phones:
        phone.join()
        assert phone.fault is None
    everything = set().union(*(phone.own for phone in phones))
    for phone in phones:
        # A phone's own entries may come back to it when it sends them again after a break; others' come once.
        others = [each for each in phone.seen if each not in phone.own]
        assert len(others) == len(set(others)) and set(others) == everything - phone.own
    return everything


def held_in(postgres, url):
    return [str(row[0]) for row in postgres.execute("SELECT id FROM cotterbook.entries", url)]


def test_phones_at_three_servers_get_each_others_entries_once(postgres, make_servers):
    url = postgres.database()
    servers = make_servers(3, url)
    phones, over = start_phones(servers, 6)
    everything = finish(phones, over)
    assert sorted(held_in(postgres, url)) == sorted(everything)
    assert not any(phone.refusals for phone in phones)
    for server in servers:
        assert postgres.password not in server.said.decode() and "(data in database shop_" in server.said.decode()
        assert server.stop() == 0
        assert server.log.read_text() == ""


def test_a_phone_may_go_on_at_another_server(postgres, make_servers):
    first, second = make_servers(2, postgres.database())
    data = picture(1)
    address = f"/api/photos/{hashlib.sha256(data).hexdigest()}"
    with contextlib.closing(HttpClient(first.port)) as here, contextlib.closing(HttpClient(second.port)) as there:
        store = here.hello()["store"]
        # A cookie has its port in its name; what it holds is good at both, by the folder that they share.
        there.headers = {**here.headers, "Cookie": here.headers["Cookie"].replace(str(first.port), str(second.port))}
        body = {"version": "0.1.0", "now": 0, "device": identifier(1), "store": store,
                "strips": {STRIP: {"cursor": 0, "entries": [entry(1)]}}}
        for client in (here, there):
            status, answer = client.ask_json("/api/sync", body)
            assert (status, answer["strips"][STRIP]["cursor"]) == (200, 1)
        assert here.ask("PUT", address, data)[0] == 200
        assert there.ask("GET", address)[2] == data


def test_postgresql_goes_and_comes_back_in_the_middle_and_nothing_acknowledged_is_missing(postgres, make_servers):
    with contextlib.closing(Postgres(postgres.programs).start()) as own:
        url = own.database()
        servers = make_servers(2, url)
        phones, over = start_phones(servers, 4)
        left = 4 * ENTRIES_A_PHONE
        for how in ("fast", "immediate", "kill"):
            left -= 120
            await_sent(phones, left)
            before = [len(phone.refusals) for phone in phones]
            own.kill() if how == "kill" else own.stop(how)
            while all(len(phone.refusals) == count for phone, count in zip(phones, before, strict=True)):
                assert not any(phone.fault for phone in phones)
                threading.Event().wait(0.01)
            own.start()
        everything = finish(phones, over)
        found = held_in(own, url)
        assert sorted(found) == sorted(everything)
        assert {each for phone in phones for each in phone.refusals} == {(503, "database_away")}
        for server in servers:
            assert server.process is not None and server.process.poll() is None
        log = servers[0].log.read_text()
        assert "PostgreSQL does not answer: database shop_1" in log
        assert own.password not in log and "Traceback" not in log


def test_serve_says_why_it_cannot_begin_and_does_not_begin(postgres, tmp_path):
    server = RunningServer(tmp_path / "data", store=postgres.url("not_there"))
    with pytest.raises(AssertionError) as caught:
        server.start()
    assert server.wait() == 1
    assert "PostgreSQL has no such database: database not_there at 127.0.0.1" in str(caught.value)
    assert postgres.password not in str(caught.value) and "Traceback" not in str(caught.value)


def test_the_password_comes_from_the_environment_and_is_in_no_answer(postgres, make_servers, monkeypatch):
    url = postgres.database().replace(f":{postgres.password}@", "@")
    monkeypatch.setenv("PGPASSWORD", postgres.password)
    server = make_servers(1, url)[0]
    with contextlib.closing(HttpClient(server.port)) as client:
        answers = [client.hello(), client.ask_json("/api/sync", {})]
        assert postgres.password not in json.dumps(answers)


class Line(http.client.HTTPSConnection):
    """HTTPS to a name that the shop's network would lead to this computer."""

    def connect(self):
        """Its certificate is held to that name."""
        plain = socket.create_connection(("127.0.0.1", self.port), timeout=30)
        self.sock = self._context.wrap_socket(plain, server_hostname=self.host)


class OnTheNetwork:
    """`serve --lan` with ports of its own, and a phone that takes its certificate and is paired there by a code."""

    def __init__(self, folder, host, url):
        self.host, self.lan_port, self.trust_port = host, free_port(), free_port()
        self.server = RunningServer(folder, store=url, paired=False, options=(
            "--lan", "--host", host, "--lan-port", str(self.lan_port), "--trust-port", str(self.trust_port)))

    def phone(self, number):
        with urllib.request.urlopen(f"http://127.0.0.1:{self.trust_port}/cotterbook.crt", timeout=30) as answer:
            context = ssl.create_default_context(cadata=answer.read())
        phone = HttpClient(self.server.port, cookie={})
        phone.connection = Line(self.host, self.lan_port, context=context)
        phone.headers["Referer"] = f"https://{self.host}:{self.lan_port}/"
        phone.hello()
        asked = {"code": self.server.code("hand"), "device": new_id(), "name": f"Phone {number}"}
        status, headers, body = phone.ask(
            "POST", "/api/pairing", json.dumps(asked).encode(), {"Content-Type": "application/json"})
        assert status == 200, body
        phone.device = re.findall(r"[\w-]*cotterbook-device[^;]*", headers["set-cookie"])
        phone.headers["Cookie"] += "; " + phone.device[0]
        return phone


def test_two_on_the_network_with_folders_of_their_own_serve_one_database(postgres, tmp_path):
    url = postgres.database()
    shops = [OnTheNetwork(tmp_path / name, f"{name}.local", url) for name in ("front", "back")]
    try:
        for shop in shops:
            shop.server.start()
        phones = [shop.phone(number) for number, shop in enumerate(shops)]
        assert len({json.loads(phone.ask("GET", "/api/hello")[2])["store"] for phone in phones}) == 1
        sent = [entry(1), entry(2)]
        for number, phone in enumerate(phones):
            status, answer = phone.ask_json("/api/sync", {
                "version": "0.1.0", "now": 0, "device": identifier(number),
                "strips": {STRIP: {"cursor": 0, "entries": [sent[number]]}}})
            assert (status, answer["strips"][STRIP]["refused"]) == (200, [])
        for phone in phones:
            _, answer = phone.ask_json("/api/sync", {"version": "0.1.0", "now": 0, "device": identifier(9),
                                                     "strips": {STRIP: {"cursor": 0, "entries": []}}})
            assert answer["strips"][STRIP]["entries"] == sent
        # Each has its own list, certificate and address: who was let in at one is nobody at the other.
        name, _, token = phones[0].device[0].partition("=")
        elsewhere = HttpClient(shops[1].server.port, cookie={
            "name": name.replace(str(shops[0].lan_port), str(shops[1].lan_port)), "value": token})
        elsewhere.connection = Line(shops[1].host, shops[1].lan_port, context=phones[1].connection._context)
        assert elsewhere.ask("GET", "/api/photos/" + "0" * 64)[0] == 401
        wrong = Line(shops[1].host, shops[1].lan_port, context=phones[0].connection._context)
        with pytest.raises(ssl.SSLCertVerificationError):
            wrong.request("GET", "/api/hello")
        for each in (*phones, elsewhere):
            each.close()
    finally:
        codes = [shop.server.stop() for shop in shops]
    assert codes == [0, 0]


def test_a_second_on_the_network_with_the_same_folder_is_refused_with_its_reason(postgres, tmp_path):
    """What a phone keeps belongs to one address, which is chosen once for a folder; nobody takes it from who serves."""
    url = postgres.database()
    first = OnTheNetwork(tmp_path / "data", "front.local", url)
    try:
        first.server.start()
        kept = {path: path.read_bytes() for path in first.server.folder.rglob("*.*") if "log" not in path.name}
        for host, more in (("front.local", ()), ("back.local", ("--new-origin",))):
            second = OnTheNetwork(tmp_path / "data", host, url)
            second.server.options += more
            second.server.paired = False
            with pytest.raises(AssertionError, match="is in use by another Cotterbook"):
                second.server.start()
            assert second.server.wait() == 1
        assert kept == {path: path.read_bytes() for path in kept}
        with contextlib.closing(first.phone(1)) as phone:
            assert phone.ask("GET", "/api/photos/" + "0" * 64)[0] == 404
    finally:
        assert first.server.stop() == 0
