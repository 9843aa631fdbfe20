"""Requests that no phone would send, to the running program itself: each is answered or hung up on, no answer is a
fault, and of entries and pictures nothing changes.

Half of them go over raw sockets, as bytes that may be no HTTP at all; half by the standard library's client, right as
HTTP and wrong in the rest. COTTERBOOK_REQUESTS makes them more than the thousand of every run.
"""

import contextlib
import hashlib
import http.client
import json
import os
import re
import socket
from collections import Counter

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from anything import anything, scalars, strips_of
from examples import OTHER_STRIP, STRIP, entry, picture
from running import HttpClient, RunningServer, new_id

REQUESTS = int(os.environ.get("COTTERBOOK_REQUESTS", "1000"))
HALF = settings(max_examples=REQUESTS // 2, suppress_health_check=list(HealthCheck))
# What may change: who was here and what was asked. All else in the data folder is as it was, to the byte.
MAY_CHANGE = ("server.log", "audit.jsonl", "devices.json", "copies")
# Without one of these no entry is right, whatever else is made of it.
ENVELOPE = ("id", "strip", "kind", "at", "by", "who")
HELD, PICTURE = 5, picture(1)
STATUS = re.compile(rb"^HTTP/1\.[01] ([0-9]{3})", re.MULTILINE)
PATIENCE_SECONDS = 60


class Target:
    """The running program with two strip-downs and a picture, and a listed device that may write."""

    def __init__(self, server):
        self.server, self.hand = server, HttpClient(server.port, server.pair("hand"))
        self.hand.hello()
        assert self.send(STRIP, [entry(n) for n in range(HELD)]) == []
        assert self.send(OTHER_STRIP, [entry(1_000, strip=OTHER_STRIP, thing=OTHER_STRIP)]) == []
        self.name = hashlib.sha256(PICTURE).hexdigest()
        assert self.hand.ask("PUT", f"/api/photos/{self.name}", PICTURE)[0] == 200
        self.before, self.came, self.number = self.hashes(), Counter(), HELD

    def send(self, strip, entries):
        """What the program refuses of these entries."""
        body = {"version": "0.1.0", "device": new_id(), "strips": {strip: {"cursor": 0, "entries": entries}}}
        status, said = self.hand.ask_json("/api/sync", body)
        assert status == 200, said
        return said["strips"][strip]["refused"]

    def hashes(self):
        folder = self.server.folder
        files = [each for each in folder.rglob("*") if each.is_file()]
        return {str(each.relative_to(folder)): hashlib.sha256(each.read_bytes()).hexdigest() for each in files
                if not each.relative_to(folder).parts[0].startswith(MAY_CHANGE)}

    def judge(self, statuses):
        self.came.update(statuses)
        assert all(status < 500 for status in statuses), statuses
        assert self.hashes() == self.before

    def still_right(self):
        """It takes what is right as if nothing had been, and has noted no fault, answered or not."""
        print(f"answers {dict(sorted(self.came.items()))}")
        self.hand.close()
        self.number += 1
        assert self.send(STRIP, [entry(self.number)]) == []
        assert self.hashes() != self.before
        self.before = self.hashes()
        notes = (self.server.folder / "server.log").read_text(encoding="utf-8").splitlines()
        assert [note for note in map(json.loads, notes) if note.get("status", 0) >= 500] == []
        assert "Traceback" not in self.server.log.read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def target(tmp_path_factory):
    server = RunningServer(tmp_path_factory.mktemp("fuzzed") / "data").start()
    target = Target(server)
    try:
        yield target
    finally:
        target.hand.close()
        server.stop()


@st.composite
def wrong_entries(draw):
    """Of a held one's name with other content, or without a field that every entry needs."""
    wrong = dict(entry(draw(st.integers(0, HELD - 1))))
    for name in draw(st.lists(st.sampled_from([*sorted(set(wrong) - {"id"}), "surplus"]), min_size=1, max_size=3)):
        wrong[name] = draw(anything)
    if draw(st.booleans()):
        del wrong[draw(st.sampled_from(ENVELOPE))]
    return wrong


strips = strips_of(wrong_entries())
objects = anything | st.fixed_dictionaries(
    {"version": st.just("0.1.0") | scalars, "device": st.just(entry(1)["by"]) | scalars, "strips": strips | anything},
    optional={"store": st.none() | scalars, "unsent": anything, "hashes": anything, "code": scalars, "name": scalars})
# Right but for its entries.
one_strip = st.fixed_dictionaries({"cursor": st.integers(0, 9), "entries": st.lists(wrong_entries(), max_size=3)})
nearly = st.fixed_dictionaries({
    "version": st.just("0.1.0"), "device": st.just(entry(1)["by"]),
    "strips": st.fixed_dictionaries({STRIP: one_strip})})
contents = st.binary(max_size=300) | st.one_of(objects, nearly, nearly).map(
    lambda each: json.dumps(each).encode("utf-8", "surrogatepass"))

PATHS = ("/", "/api/hello", "/api/sync", "/api/photos/missing", "/api/pairing", "/api/devices", "/api/devices/codes",
         "/api/photos/" + "0" * 64, "/sw.js", "/precache.js", "/../secret_key", "/api/photos/..%2f")
METHODS = ("POST", "GET", "PUT", "DELETE", "HEAD", "OPTIONS", "PATCH", "TRACE")
ASKED = [("POST", "/api/sync")] * 6 + [
    ("POST", "/api/photos/missing"), ("PUT", "/api/photos/" + "0" * 64), ("POST", "/api/pairing"),
    ("GET", "/api/hello")]
asked = st.sampled_from(ASKED) | st.tuples(st.sampled_from(METHODS), st.sampled_from(PATHS))
VALUES = {
    "Content-Type": ["application/json", "text/plain", "multipart/form-data; boundary=x",
                     "application/x-www-form-urlencoded", "application/json; charset=utf-16", ""],
    "Content-Length": ["0", "5", "-1", "+3", "1e3", "99999999999999999999", "2000001", "0x10", ""],
    "Transfer-Encoding": ["chunked", "gzip, chunked", "identity", "chunked, chunked", "xchunked"],
    "Content-Encoding": ["gzip", "br", "x"], "Expect": ["100-continue", "x"], "Host": ["", "elsewhere.example", "[::1"],
    "Cookie": ["", ";;;", "a=" + "b" * 5_000, "cotterbook-device-1=x"], "X-CSRFToken": ["", "x", "x.y.z"],
    "Range": ["bytes=0-", "bytes=9-1", "x"], "If-None-Match": ["*", '"x', "W/"], "Accept": ["x", "*/*;q=9"],
    "If-Modified-Since": ["x", "Thu, 99 Jan 1970 00:00:00 GMT"], "Authorization": ["Basic !", "Bearer"],
    "Upgrade": ["websocket", "h2c"], "Connection": ["close", "upgrade", "x"], "Origin": ["null", "https://x.example"]}
headers = st.lists(st.sampled_from(sorted(VALUES)).flatmap(
    lambda name: st.tuples(st.just(name), st.sampled_from(VALUES[name]))), max_size=4)


SPOILS = ("dropped", "header", "bytes", "pieces", "method", "path", "version", "end", "cut", "changed")


@st.composite
def raw_requests(draw):
    """Bytes: a request that would be right, spoilt in up to three ways."""
    spoilt = draw(st.sets(st.sampled_from(SPOILS), max_size=3))
    content = draw(contents)
    lines = [(b"Host", b"HOST"), (b"Content-Type", b"application/json"), (b"Content-Length", b"%d" % len(content)),
             (b"Cookie", b"COOKIE"), (b"X-CSRFToken", b"TOKEN"), (b"Connection", b"close")]
    if "dropped" in spoilt:
        del lines[draw(st.integers(0, len(lines) - 1))]
    if "header" in spoilt:
        lines += [(name.encode(), value.encode()) for name, value in draw(headers)]
    if "bytes" in spoilt:
        lines.append((draw(st.binary(max_size=12)), draw(st.binary(max_size=40))))
    if "pieces" in spoilt:
        lines = [line for line in lines if line[0] != b"Content-Length"] + [(b"Transfer-Encoding", b"chunked")]
        right = b"%x" % len(content)
        size = draw(st.sampled_from([right, right, right + b"1", b"-1", b"ffffffffffffffffff", b""]))
        content = size + b"\r\n" + content + draw(st.sampled_from([b"\r\n0\r\n\r\n", b"", b"\r\n"]))
    method, path, version = *map(str.encode, draw(asked)), b"HTTP/1.1"
    if "method" in spoilt:
        method = draw(st.binary(max_size=8))
    if "path" in spoilt:
        path = draw(st.binary(max_size=40))
    if "version" in spoilt:
        version = draw(st.sampled_from([b"HTTP/1.0", b"HTTP/9.9", b"", b"HTTP/2.0"]))
    end = draw(st.sampled_from([b"\n", b"\r"])) if "end" in spoilt else b"\r\n"
    line = b" ".join([method, path, version])
    whole = end.join([line, *(name + b": " + value for name, value in lines), b"", content])
    if "changed" in spoilt:
        at = draw(st.integers(0, len(whole) - 1))
        whole = whole[:at] + draw(st.binary(max_size=3)) + whole[at + 1:]
    return whole[: draw(st.integers(0, len(whole)))] if "cut" in spoilt else whole


def throw(target, data):
    """What comes back for these bytes; the statuses of the answers."""
    hand, port = target.hand, target.server.port
    for name, value in ((b"HOST", f"127.0.0.1:{port}"), (b"COOKIE", hand.headers["Cookie"]),
                        (b"TOKEN", hand.headers["X-CSRFToken"])):
        data = data.replace(name, value.encode(), 1)
    came = b""
    with socket.create_connection(("127.0.0.1", port), timeout=PATIENCE_SECONDS) as connection:
        with contextlib.suppress(ConnectionError):  # it may hang up before all has been sent
            connection.sendall(data)
            connection.settimeout(0.1)
            with contextlib.suppress(TimeoutError):
                came = connection.recv(65536)
            connection.settimeout(PATIENCE_SECONDS)
            # What waits for more learns now that none comes, and has to end.
            with contextlib.suppress(OSError):  # it has hung up already, and still has said what it said
                connection.shutdown(socket.SHUT_WR)
            while more := connection.recv(65536):
                came += more
    return [int(each) for each in STATUS.findall(came)]


def test_bytes_that_are_hardly_a_request(target):
    @HALF
    @given(data=raw_requests())
    def each(data):
        statuses = throw(target, data)
        target.judge(statuses or [0])

    each()
    target.still_right()


def test_requests_that_are_right_as_http_and_wrong_in_the_rest(target):
    @HALF
    @given(asked=asked, given_headers=headers, content=contents)
    def each(asked, given_headers, content):
        dropped = ("Content-Length", "Transfer-Encoding", "Expect", "Upgrade", "Connection")
        extra = {name: value for name, value in given_headers if name not in dropped}
        try:
            status, _, _ = target.hand.ask(*asked, content, {"Content-Type": "application/json", **extra})
        except (OSError, http.client.HTTPException):
            status = 0  # hung up on
            target.hand.close()
        target.judge([status])

    each()
    target.still_right()
