"""The page of trust stays open for others while somebody trickles bytes into as many connections as there may be."""

import contextlib
import html
import re
import socket
import sys
import time
import urllib.request

import pytest

from cotterbook.network import way_in as way_in_module
from cotterbook.network.way_in import MOST_OF_ONE_ADDRESS, WayIn
from cotterbook.trust.authority import Authority
from cotterbook.trust.origin import Origin

THERE, ELSEWHERE = "127.0.0.1", "127.0.0.2"
FAR_LONGER = 40


@pytest.fixture
def page(tmp_path, monkeypatch):
    monkeypatch.setattr(way_in_module, "SECONDS", 2)
    server = WayIn(0, Authority(tmp_path, "shop.local").root, Origin("shop.local", 8351))
    server.start()
    yield server.server_address[1]
    server.shutdown()
    server.server_close()


def begin(port, source=THERE):
    """A connection that has begun a request and is far from its end."""
    begun = socket.create_connection((THERE, port), timeout=5, source_address=(source, 0))
    begun.sendall(b"GET / HT")
    return begun


def ended(connection):
    """Whether the other side has hung up, by what a read says at once."""
    connection.setblocking(False)
    try:
        return connection.recv(1) == b""
    except BlockingIOError:
        return False
    except OSError:
        return True


def ended_soon(connection, send=b""):
    """Whether the other side hangs up, though `send` trickles in all the while."""
    until = time.monotonic() + FAR_LONGER
    while not ended(connection):
        if time.monotonic() > until:
            return False
        with contextlib.suppress(OSError):
            connection.send(send)
        time.sleep(0.1)
    return True


def status(port):
    with urllib.request.urlopen(f"http://{THERE}:{port}/", timeout=FAR_LONGER) as answer:
        return answer.status


def test_the_page_says_each_step_for_both_kinds_of_phone(page):
    """The ways through the settings are from memory of Android 11 and later and iOS 10.3 and later."""
    with urllib.request.urlopen(f"http://{THERE}:{page}/", timeout=FAR_LONGER) as answer:
        said = answer.read().decode()
    steps = [" ".join(html.unescape(re.sub("<[^>]+>", " ", part)).split()) for part in re.split("<h[23]>", said)]
    [android] = [step for step in steps if step.startswith("Android")]
    [ios] = [step for step in steps if step.startswith("iPhone and iPad")]
    headings = [step for step in steps if re.match(r"\d\. ", step)]
    assert [step[:3] for step in headings] == ["1. ", "2. ", "3. ", "4. "]
    for words in ("Settings", "“CA certificate”", "Install anyway", "cotterbook.crt", "Encryption and credentials"):
        assert words in android
    for words in ("Safari", "“Profile Downloaded”", "General, About, Certificate Trust Settings",
                  "switch it on for Cotterbook on shop.local"):
        assert words in ios


def test_a_connection_that_trickles_ends_and_gives_its_place_back(page):
    held = [begin(page) for _ in range(MOST_OF_ONE_ADDRESS)]
    assert all(ended_soon(each, b"x") for each in held)
    assert status(page) == 200
    for each in held:
        each.close()


@pytest.mark.skipif(sys.platform == "darwin", reason="macOS has one address of its own alone, 127.0.0.1")
def test_one_address_has_so_many_places_and_others_still_have_theirs(page, monkeypatch):
    monkeypatch.setattr(way_in_module, "SECONDS", 600)
    held = [begin(page, ELSEWHERE) for _ in range(MOST_OF_ONE_ADDRESS)]
    one_more = begin(page, ELSEWHERE)
    assert ended_soon(one_more)
    assert not any(ended(each) for each in held)
    assert status(page) == 200
    for each in (*held, one_more):
        each.close()
