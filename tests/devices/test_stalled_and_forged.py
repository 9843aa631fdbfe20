"""What hostile or unlucky connections do to the running program: stalled, slow, forged and ill-formed requests.

The program is the real one, with two seconds instead of thirty for a request to arrive.
"""

import contextlib
import hashlib
import json
import re
import select
import socket
import time

import pytest

from cotterbook import resources
from cotterbook.devices.limits import SENDING_AT_ONCE
from cotterbook.settings import BODY_SECONDS, LEAST_BYTES_A_SECOND
from examples import STRIP, entry, picture
from running import HttpClient, RunningServer, new_id

STALLED = 64
IN_TWO_SECONDS = """
import sys
from cotterbook import arriving, cli
arriving.BODY_SECONDS = 2
sys.exit(cli.main(sys.argv[1:]))
"""


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    server = RunningServer(tmp_path_factory.mktemp("hostile") / "data")
    server.program = ["-c", IN_TWO_SECONDS]
    yield server.start()
    server.stop()


@pytest.fixture
def device(server):
    """device(role) is a listed device's way in; device(None) a stranger's. Each has a security token."""
    made = []

    def make(role="hand"):
        made.append(HttpClient(server.port, server.pair(role) if role else {}))
        made[-1].hello()
        return made[-1]

    yield make
    for each in made:
        each.close()


def body(*entries):
    return json.dumps({"version": "0.1.0", "device": new_id(),
                       "strips": {STRIP: {"cursor": 0, "entries": list(entries)}}}).encode()


def request(client, length, path="/api/sync", method="POST", **headers):
    """The head of a request, as bytes."""
    lines = {"Host": f"127.0.0.1:{client.connection.port}", "Content-Type": "application/json",
             "Content-Length": str(length), **client.headers, **headers}
    return "\r\n".join([f"{method} {path} HTTP/1.1", *(f"{name}: {value}" for name, value in lines.items() if value),
                        "", ""]).encode()


@contextlib.contextmanager
def connections(port, count=1):
    with contextlib.ExitStack() as stack:
        yield [stack.enter_context(socket.create_connection(("127.0.0.1", port), timeout=30)) for _ in range(count)]


def answer(connection):
    """Status and code of the error that comes back."""
    data = b""
    while b"\r\n\r\n" not in data or not data.rstrip().endswith(b"}"):
        more = connection.recv(65536)
        if not more:
            break
        data += more
    head, _, content = data.partition(b"\r\n\r\n")
    return int(head.split()[1]), json.loads(content)["error"]["code"] if content.startswith(b'{"error"') else content


def sends(client, number):
    status, said = client.ask_json("/api/sync", json.loads(body(entry(number))))
    return status, said["strips"][STRIP]["refused"] if status == 200 else said


def test_64_stalled_in_the_middle_of_sending_hold_up_only_their_own_device(server, device):
    stuck, honest = device(), device()
    with connections(server.port, STALLED) as stalled:
        for each in stalled:
            each.sendall(request(stuck, 900) + body(entry(1))[:100])
        assert sends(honest, 2) == (200, [])
        answers = [answer(each) for each in stalled]
    # Each is told: too much at once at once, and the others when their time was over.
    assert answers.count((408, "came_too_slowly")) == SENDING_AT_ONCE
    assert answers.count((429, "too_much_at_once")) == STALLED - SENDING_AT_ONCE
    assert sends(stuck, 1) == (200, [])


def test_more_stalled_devices_than_there_are_threads_hold_up_the_rest_no_longer_than_a_request_may_take(server, device):
    stuck, honest = [device() for _ in range(9)], device()
    with connections(server.port, 9 * SENDING_AT_ONCE) as stalled:
        for place, each in enumerate(stalled):
            each.sendall(request(stuck[place % 9], 900) + b"{")
        assert sends(honest, 3) == (200, [])
        assert {answer(each) for each in stalled} == {(408, "came_too_slowly")}


def test_an_honest_phone_is_answered_while_64_connections_stall(tmp_path):
    """With a limit that never comes: in the middle of a body, as many as leave threads free, and of a head."""
    server = RunningServer(tmp_path / "data")
    server.program = ["-c", IN_TWO_SECONDS.replace("= 2", "= 6_000")]
    server.start()
    try:
        clients = [HttpClient(server.port, server.pair("hand")) for _ in range(8)]
        for each in clients:
            each.hello()
        *stuck, honest = clients
        with connections(server.port, STALLED) as stalled:
            in_body = SENDING_AT_ONCE * len(stuck)
            for place, each in enumerate(stalled):
                whole = request(stuck[place % len(stuck)], 900) + body(entry(1))[:100]
                each.sendall(whole if place < in_body else whole[:60])
            assert 0 < in_body < STALLED
            assert sends(honest, 5) == (200, [])
            for each in stalled:
                each.setblocking(False)
                with pytest.raises(BlockingIOError):  # neither answered nor hung up
                    each.recv(1)
            assert sends(honest, 6) == (200, [])
        for each in clients:
            each.close()
    finally:
        server.stop()


def test_strangers_that_stall_are_answered_before_they_have_sent_anything(server, device):
    stranger, honest = device(None), device()
    with connections(server.port, STALLED) as stalled:
        for each in stalled:
            each.sendall(request(stranger, 900) + b"{")
        assert {answer(each)[0] for each in stalled} <= {401, 429}
        assert sends(honest, 4) == (200, [])


def test_a_body_that_trickles_in_is_given_up_whole(server, device):
    hand = device()
    whole = body(entry(50))
    with connections(server.port) as [slow]:
        slow.sendall(request(hand, len(whole)))
        with contextlib.suppress(OSError):  # the program may close before all of it has been sent
            for byte in whole:
                slow.sendall(bytes([byte]))
                time.sleep(0.02)
        assert answer(slow) == (408, "came_too_slowly")
    status, said = hand.ask_json("/api/sync", json.loads(body()))
    assert entry(50)["id"] not in {each["id"] for each in said["strips"][STRIP]["entries"]}


def of_the_phone(name):
    """A number that requests.js goes by."""
    text = (resources.folder("webui") / "requests.js").read_text(encoding="utf-8")
    return int(re.search(rf"^const {name} = ([\d_]+);", text, re.MULTILINE)[1].replace("_", ""))


def phone_seconds(seconds, length):
    """How long a phone waits for so many bytes to get across, where it waits so long for none."""
    return seconds + length / of_the_phone("LEAST_BYTES_A_MS") / 1_000


def test_no_phone_waits_longer_for_a_body_than_the_pc():
    assert of_the_phone("LIMIT_MS") == BODY_SECONDS * 1_000
    assert of_the_phone("LEAST_BYTES_A_MS") * 1_000 >= LEAST_BYTES_A_SECOND


def send_slowly(connection, data, bytes_a_second):
    """At this rate, ten times a second, until all is sent or an answer is there."""
    begun, sent = time.monotonic(), 0
    while sent < len(data) and not select.select([connection], [], [], 0.1)[0]:
        due = min(len(data), int((time.monotonic() - begun) * bytes_a_second))
        connection.sendall(data[sent:due])
        sent = due
    return time.monotonic() - begun


def test_a_picture_that_comes_slowly_is_taken_and_one_that_hardly_moves_is_given_up(server, device):
    """The network of a far corner carries 15 kB/s: it takes four seconds, where nothing at all is waited for two.

    What hardly moves a phone has given up before the PC does.
    """
    hand, data = device(), picture(7, 330)
    assert 50_000 < len(data) < 90_000
    way = {"path": f"/api/photos/{hashlib.sha256(data).hexdigest()}", "method": "PUT", "Content-Type": "image/jpeg"}
    waited, length = [], 24_000
    while len(waited) < 3 and max(waited, default=0) < phone_seconds(2, length):  # unless this machine paused so long
        with connections(server.port) as [stuck]:
            stuck.sendall(request(hand, length, **way))
            waited.append(send_slowly(stuck, data[:length], LEAST_BYTES_A_SECOND / 8))
            assert answer(stuck) == (408, "came_too_slowly")
    assert max(waited) >= phone_seconds(2, length)
    with connections(server.port) as [slow]:
        slow.sendall(request(hand, len(data), **way))
        assert send_slowly(slow, data, 15_000) > 3
        assert answer(slow)[0] == 200
    assert (server.folder / "photos" / f"{way['path'][-64:]}.jpg").read_bytes() == data


@pytest.mark.parametrize("kind", [
    "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "application/octet-stream", ""])
@pytest.mark.parametrize(("method", "path"), [("POST", "/api/sync"), ("PUT", "/api/photos/" + "0" * 64)])
def test_a_body_of_any_kind_that_does_not_come_is_given_up_with_its_reason(server, device, kind, method, path):
    with connections(server.port) as [slow]:
        slow.sendall(request(device(), 900, path, method, **{"Content-Type": kind}) + b"--x\r\n")
        assert answer(slow) == (408, "came_too_slowly")


def test_a_body_in_pieces_without_its_length_is_read_whole(server, device):
    hand, whole = device(), body(entry(60))
    with connections(server.port) as [each]:
        each.sendall(request(hand, "", **{"Transfer-Encoding": "chunked"}))
        for at in range(0, len(whole), 50):
            piece = whole[at:at + 50]
            each.sendall(b"%x\r\n%s\r\n" % (len(piece), piece))
        each.sendall(b"0\r\n\r\n")
        status, said = answer(each)
    assert status == 200 and json.loads(said)["strips"][STRIP]["refused"] == []


def all_that_comes(connection):
    """What is sent back until nothing more comes for three seconds."""
    connection.settimeout(3)
    came = b""
    with contextlib.suppress(OSError):
        while more := connection.recv(65536):
            came += more
    return came


def test_two_clear_requests_in_a_row_are_both_answered(server, device):
    """So that the next test would see the hidden one answered."""
    owner = device("owner")
    with connections(server.port) as [each]:
        each.sendall(request(owner, 0, "/api/hello", "GET") + request(owner, 0, "/api/devices", "GET"))
        came = all_that_comes(each)
    assert came.count(b"HTTP/1.1 200") == 2 and b'"devices"' in came


@pytest.mark.parametrize("headers", [
    {"Transfer-Encoding": "chunked"},                                  # both a length and pieces (RFC 9112, 6.1)
    {"Transfer-Encoding": "identity, chunked", "Content-Length": "4"},
    {"Content-Length": "4\r\nContent-Length: 60"},                     # two lengths (RFC 9112, 6.3)
    {"Content-Length": "-1"}, {"Content-Length": "+5"},
    {"Transfer-Encoding": "xchunked", "Content-Length": ""},
])
def test_what_does_not_say_clearly_where_it_ends_smuggles_nothing_in(server, device, headers):
    """A second request hidden in the first one's body is never answered as one of its own."""
    owner = device("owner")
    hidden = request(owner, 0, "/api/devices", "GET")
    with connections(server.port) as [each]:
        each.sendall(request(owner, len(hidden) + 5, "/api/hello", "GET", **headers) + b"0\r\n\r\n" + hidden)
        came = all_that_comes(each)
    assert b'"devices"' not in came


def test_trace_and_other_sites_get_nothing(server, device):
    owner = device("owner")
    status, headers, data = owner.ask("TRACE", "/api/hello")
    assert status == 405 and owner.headers["Cookie"].encode() not in data
    for method, asks in (("OPTIONS", {"Access-Control-Request-Method": "POST"}), ("GET", {}), ("POST", {})):
        _, headers, _ = owner.ask(method, "/api/devices", b"{}" if method == "POST" else None,
                                  {"Origin": "https://elsewhere.example", **asks})
        assert not [name for name in headers if name.startswith("access-control-")]


def test_nobody_gives_himself_another_address(server, device):
    """What proxies would say of where a request came from is believed nobody: the tries count for the connection."""
    stranger = device(None)
    forged = {"X-Forwarded-For": "10.9.9.9", "Forwarded": "for=10.9.9.9", "X-Real-IP": "10.9.9.9",
              "X-Forwarded-Host": "elsewhere.example", "X-Forwarded-Proto": "https", "Content-Type": "application/json"}
    for number in range(11):
        guess = json.dumps({"code": f"{number:08}", "device": new_id(), "name": "x"}).encode()
        status, _, _ = stranger.ask("POST", "/api/pairing", guess, forged)
        assert status == (403 if number < 10 else 429)
    lines = [json.loads(line) for line in (server.folder / "audit.jsonl").read_text().splitlines()]
    assert {each["address"] for each in lines if each["event"] == "refused"} == {"127.0.0.1"}


@pytest.mark.parametrize("target", [
    b"/api/hello?\xc3\xa9", b"/api/hello?\xff\xfe", b"/\xff", b"/api/photos/\xc3\xa9", b"/api/hello?%00%ff", b"//",
    b"/%00",
    b"/api/hello?" + b"a" * 20_000, b"/\xed\xa0\x80", b"*", b"http://elsewhere.example/api/hello"])
def test_whatever_stands_in_an_address_is_answered_in_our_shape(server, device, target):
    owner = device("owner")
    with connections(server.port) as [each]:
        head = request(owner, 0, "TARGET", "GET").replace(b"TARGET", target)
        each.sendall(head)
        came = all_that_comes(each)
    status = int(came.split()[1]) if came else 400
    assert status < 500, came[:300]
    # What is no HTTP at all the server underneath refuses by itself.
    assert status in (400, 414, 431) or b"nosniff" in came


@pytest.mark.parametrize("code", ["\ud800", "1234567", "123456789", "١٢٣٤٥٦٧٨", "", "12345678\n"])
def test_what_is_no_code_is_refused_as_one(server, device, code):
    status, said = device(None).ask_json("/api/pairing", {"code": code, "device": new_id(), "name": "x"})
    assert (status, said["error"]["code"]) in ((403, "wrong_code"), (429, "too_often"))
