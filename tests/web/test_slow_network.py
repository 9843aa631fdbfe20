"""A network that is slow and works: pictures get across, and what is too slow is said to be that.

The connection is held to a rate by the browser itself (Network.emulateNetworkConditions). So that nothing here takes
minutes, all goes ten times as fast: the network, and the limits of phone and PC.
"""

import base64
import hashlib
import io
import random
from itertools import accumulate

import pytest
from PIL import Image

from examples import photo_entry
from running import RunningServer
from web.sending import add

TIMES = 10
PROGRAM = f"""
import sys
from cotterbook import arriving, cli
arriving.BODY_SECONDS /= {TIMES}
arriving.LEAST_BYTES_A_SECOND *= {TIMES}
sys.exit(cli.main(sys.argv[1:]))
"""
HURRY = f"""
    const timeout = AbortSignal.timeout.bind(AbortSignal);
    AbortSignal.timeout = (ms) => timeout(ms / {TIMES});
    const now = performance.now.bind(performance);
    performance.now = () => now() * {TIMES};
"""


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    server = RunningServer(tmp_path_factory.mktemp("slow") / "data")
    server.program = ["-c", PROGRAM]
    yield server.start()
    server.stop()


def noise(seed, side=760):
    """A picture of 0.7 MB, as a phone keeps one of a machine."""
    file = io.BytesIO()
    Image.frombytes("RGB", (side, side), random.Random(seed).randbytes(side * side * 3)).save(file, "JPEG", quality=95)
    return file.getvalue()


def two_pictures(tab, seed):
    """Two that entries name and the PC lacks; how many bytes one has."""
    for number in (seed, seed + 1):
        data = noise(number)
        assert 650_000 < len(data) < 720_000
        tab.run("await m.log.addPhoto({...a, bytes: Uint8Array.from(atob(a.bytes), (c) => c.charCodeAt(0)).buffer})",
                {"sha256": hashlib.sha256(data).hexdigest(), "bytes": base64.b64encode(data).decode(),
                 "type": "image/jpeg", "width": 760, "height": 760})
        add(tab, {**photo_entry(number, data), "width": 760, "height": 760})


def slow_down(phone, tab, bytes_a_second):
    tab.run(HURRY)
    session = phone.context.new_cdp_session(tab.page)
    session.send("Network.enable")
    rate = bytes_a_second * TIMES
    session.send("Network.emulateNetworkConditions", {
        "offline": False, "latency": 2, "downloadThroughput": rate, "uploadThroughput": rate})


def unsent(tab):
    return tab.run("return m.log.counts()")["unsent_photos"]


def puts(phone):
    """The moments at which pictures were begun and ended, as +1 and -1."""
    moments = []
    for event, step in (("request", 1), ("requestfinished", -1), ("requestfailed", -1)):
        phone.context.on(event, lambda request, step=step: moments.append(step) if request.method == "PUT" else None)
    return moments


def test_two_pictures_get_across_at_30_kb_a_second(phone):
    tab = phone.tab()
    two_pictures(tab, 10)
    slow_down(phone, tab, 30_000)
    tab.run("await m.sync.sendNow()")
    assert unsent(tab) == 0 and tab.run("return m.sync.snapshot().phase") == "idle"


def test_where_two_at_once_are_too_much_they_go_one_by_one(phone):
    """At 8 kB/s two have half of the 8 that are waited for; one alone is across in 85 s of its 115."""
    tab = phone.tab()
    slow_down(phone, tab, 8_000)
    # Where the second began much later than the first, because this machine had other things to do, both get across.
    for seed in (20, 22, 24):
        two_pictures(tab, seed)
        tab.run("await m.sync.sendNow()")
        if unsent(tab):
            break
    shown = tab.run("return m.sync.snapshot()")
    assert unsent(tab) > 0 and shown["phase"] == "trouble"
    assert shown["message"]["text"].startswith("The network is too slow for this picture:")
    assert 110 <= shown["message"]["values"]["seconds"] <= 120
    moments = puts(phone)
    # Once is enough, unless this machine has other things to do just then.
    for _ in range(3):
        tab.run("await m.sync.sendNow()")
    assert unsent(tab) == 0 and max(accumulate(moments)) == 1


def test_entries_go_across_a_network_that_is_too_slow_for_pictures(phone):
    tab = phone.tab()
    two_pictures(tab, 30)
    slow_down(phone, tab, 4_000)
    tab.run("await m.sync.sendNow()")
    assert tab.run("return m.log.counts()") == {"unsent": 0, "refused": 0, "unsent_photos": 2}
