"""The server killed with SIGKILL in the middle of its work, again and again: what it acknowledged is there.

Several phones send without pause, each batch new entries and whatever was not
acknowledged before; now and then a picture. COTTERBOOK_SEED repeats a run's choices.
"""

import contextlib
import hashlib
import http.client
import os
import random
import threading

from cotterbook.core.entries import check
from examples import entry, identifier, picture
from running import HttpClient

KILLS = 30
SYNCS = 200
PHONES = 4
STRIPS = [identifier(0x50 + n) for n in range(3)]


class Shed:
    """What the phones know of the PC: whether it is up, how often they asked it, what it acknowledged."""

    def __init__(self, server):
        self.server = server
        self.changed = threading.Condition()
        self.up, self.over = False, False
        self.begun = self.answered = 0
        self.sent, self.acknowledged, self.pictures = {}, set(), {}
        self.faults = []

    def set(self, **changes):
        with self.changed:
            vars(self).update(changes)
            self.changed.notify_all()

    def await_begun(self, count):
        """Wait until so many more requests were begun."""
        with self.changed:
            end = self.begun + count
            assert self.changed.wait_for(lambda: self.begun >= end or self.faults, timeout=60)


class Phone(threading.Thread):
    """One phone that sends until the shed closes."""

    def __init__(self, shed, number, seed):
        super().__init__()
        self.shed, self.number, self.random = shed, number, random.Random(f"{seed} phone {number}")
        self.made, self.unsent, self.cursors = 0, [], dict.fromkeys(STRIPS, 0)

    def run(self):
        try:
            while self.wait_for_pc():
                client = HttpClient(self.shed.server.port)
                # When the PC is killed in the middle, what it did not acknowledge is sent again.
                with contextlib.closing(client), contextlib.suppress(OSError, http.client.HTTPException):
                    client.hello()
                    while not self.shed.over:
                        self.send(client)
        except BaseException as fault:
            self.shed.set(faults=[*self.shed.faults, fault])
            raise

    def wait_for_pc(self):
        with self.shed.changed:
            self.shed.changed.wait_for(lambda: self.shed.up or self.shed.over)
            return not self.shed.over

    def send(self, client):
        while len(self.unsent) < self.random.randint(1, 20):
            self.made += 1
            strip = self.random.choice(STRIPS)
            note = "é" * self.random.choice([1, 30, 1_000, 2_000])
            self.unsent.append(entry(self.number * 1_000_000 + self.made, strip, values={"note": note}))
        batch = self.unsent[:100]
        strips = {strip: {"cursor": cursor, "entries": []} for strip, cursor in self.cursors.items()}
        for each in batch:
            strips[each["strip"]]["entries"].append(each)
        with self.shed.changed:
            self.shed.sent |= {each["id"]: each for each in batch}
            self.shed.begun += 1
            self.shed.changed.notify_all()
        body = {"version": "0.1.0", "now": 0, "device": identifier(self.number), "strips": strips}
        status, answer = client.ask_json("/api/sync", body)
        assert status == 200, answer
        assert not any(part["refused"] for part in answer["strips"].values()), answer
        with self.shed.changed:
            self.shed.answered += 1
            self.shed.acknowledged |= {each["id"] for each in batch}
        self.unsent = self.unsent[len(batch):]
        self.cursors = {strip: part["cursor"] for strip, part in answer["strips"].items()}
        if self.random.random() < 0.2:
            self.send_picture(client)

    def send_picture(self, client):
        data = picture(self.random.getrandbits(32), side=self.random.choice([8, 200]))
        sha256 = hashlib.sha256(data).hexdigest()
        status, _, answer = client.ask("PUT", f"/api/photos/{sha256}", data)
        assert status == 200, answer
        with self.shed.changed:
            self.shed.pictures[sha256] = data


def kill_again_and_again(shed, choice):
    """Start the server, let it work for a while, kill it; at least KILLS times, and until enough was answered."""
    kills = 0
    while kills < KILLS or shed.answered < SYNCS:
        shed.server.start()
        shed.set(up=True)
        shed.await_begun(choice.randint(1, 24))
        # Not at the start of a request but somewhere in it.
        threading.Event().wait(choice.uniform(0, 0.012))
        shed.server.kill()
        shed.set(up=False)
        assert not shed.faults
        kills += 1
    return kills


def read_everything(port):
    """All entries of the PC, page by page, as they come, and how often each came."""
    client = HttpClient(port)
    client.hello()
    cursors, found, more = {}, [], True
    while more:
        strips = {strip: {"cursor": cursor} for strip, cursor in cursors.items()}
        status, answer = client.ask_json(
            "/api/sync", {"version": "0.1.0", "now": 0, "device": identifier(1), "strips": strips})
        assert status == 200
        for strip, part in answer["strips"].items():
            cursors[strip] = part["cursor"]
            found += part["entries"]
        more = answer["more"]
    client.close()
    return found


def test_every_acknowledged_entry_survives_the_kills_exactly_once(stopped_server, tmp_path):
    seed = os.environ.get("COTTERBOOK_SEED") or str(random.SystemRandom().getrandbits(32))
    print(f"COTTERBOOK_SEED={seed}")
    shed = Shed(stopped_server)
    phones = [Phone(shed, number, seed) for number in range(1, PHONES + 1)]
    for phone in phones:
        phone.start()
    try:
        kills = kill_again_and_again(shed, random.Random(seed))
    finally:
        shed.set(over=True)
        for phone in phones:
            phone.join()
    shed.server.start()
    found = read_everything(shed.server.port)
    by_id = {each["id"]: each for each in found}
    print(f"{kills} kills, {shed.begun} syncs begun, {shed.answered} answered, {len(shed.acknowledged)} entries "
          f"acknowledged, {len(found)} held, {len(shed.pictures)} pictures")
    assert len(by_id) == len(found)
    assert shed.acknowledged <= set(by_id)
    assert all(shed.sent[each] == by_id[each] for each in by_id)
    assert not any(check(each) for each in found)
    client = HttpClient(shed.server.port)
    for sha256, data in shed.pictures.items():
        assert client.ask("GET", f"/api/photos/{sha256}")[2] == data
    client.close()
    assert shed.server.stop() == 0
    assert "damaged" not in shed.server.log.read_text()
    assert not list((tmp_path / "data").rglob("*.tmp"))
