"""Several processes write to one PostgreSQL at once, are killed in the middle, and a reader misses nobody's entry."""

import json
import os
import random
import signal
import subprocess
import sys
import threading

import pytest

from cotterbook.store.postgres import PostgresStore
from examples import OTHER_STRIP, STRIP, entry

EVERYTHING = (1_000, 1_000_000)
PROCESSES = 4
BATCHES = 40
# Appends batches of changing length and prints, after each, what was accepted; waits for a line before it begins.
WRITE = """
import json, random, sys
sys.path.insert(0, sys.argv[1])
from cotterbook.store.postgres import PostgresStore
from examples import entry
url, number, batches, strips = sys.argv[2], int(sys.argv[3]), int(sys.argv[4]), sys.argv[5].split(",")
store, choice, made = PostgresStore(url), random.Random(number), 0
print("open", flush=True)
sys.stdin.readline()
for _ in range(batches):
    strip = choice.choice(strips)
    count = choice.choice([1, 1, 2, 30])
    batch = [entry(number * 1_000_000 + made + n, strip, values={"note": "x" * choice.choice([1, 2000])})
             for n in range(count)]
    made += count
    appended = store.append(strip, batch)
    assert not appended.refused, appended
    print(json.dumps([strip, appended.accepted]), flush=True)
store.close()
"""


class Writer:
    """A process that appends, and what it was told was kept: by strip-down, the number of each id."""

    def __init__(self, url, number, batches=BATCHES, strips=(STRIP, OTHER_STRIP)):
        self.process = subprocess.Popen(
            [sys.executable, "-c", WRITE, os.path.dirname(os.path.dirname(__file__)), url, str(number), str(batches),
             ",".join(strips)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        assert self.process.stdout.readline() == "open\n", self.process.stderr.read()
        self.kept = {STRIP: {}, OTHER_STRIP: {}}
        self.thread = threading.Thread(target=self._listen)

    def go(self):
        self.thread.start()
        self.process.stdin.write("\n")
        self.process.stdin.flush()

    def _listen(self):
        for said in self.process.stdout:
            if said.endswith("\n"):
                strip, accepted = json.loads(said)
                self.kept[strip].update(accepted)

    def wait(self):
        code = self.process.wait(timeout=120)
        self.thread.join()
        errors = self.process.stderr.read()
        for file in (self.process.stdin, self.process.stdout, self.process.stderr):
            file.close()
        return code, errors


@pytest.fixture
def url(postgres):
    return postgres.database()


def read_all(store, strip):
    found, cursor, more = [], 0, True
    while more:
        page = store.read(strip, cursor, *EVERYTHING)
        found += page.entries
        cursor, more = page.cursor, page.more
    return [each["id"] for each in found]


def test_a_reader_that_polls_all_the_while_sees_every_entry_of_four_processes_once(url):
    store = PostgresStore(url)
    writers = [Writer(url, number) for number in range(1, PROCESSES + 1)]
    for each in writers:
        each.go()
    seen, cursors, polls = {STRIP: [], OTHER_STRIP: []}, {STRIP: 0, OTHER_STRIP: 0}, 0
    while any(each.process.poll() is None for each in writers) or polls % 2:
        for strip in seen:
            page = store.read(strip, cursors[strip], 7, 1_000_000)
            assert page.cursor >= cursors[strip]
            seen[strip] += [each["id"] for each in page.entries]
            cursors[strip] = page.cursor
        polls += 1
    assert [each.wait() for each in writers] == [(0, "")] * PROCESSES
    assert polls > 20
    for strip in seen:
        more = True
        while more:
            page = store.read(strip, cursors[strip], *EVERYTHING)
            seen[strip] += [each["id"] for each in page.entries]
            cursors[strip], more = page.cursor, page.more
        numbers = {}
        for each in writers:
            numbers.update(each.kept[strip])
        assert len(numbers) == len(set(numbers.values())) == sum(len(each.kept[strip]) for each in writers)
        assert seen[strip] == sorted(numbers, key=numbers.get) == read_all(store, strip)
        assert store.strips()[strip] == max(numbers.values())
    store.close()


def test_processes_that_bring_the_same_entries_keep_each_once_in_one_strip_down(url):
    writers = [Writer(url, 1, 40, strips) for strips in ([STRIP], [STRIP], [STRIP, STRIP], [STRIP])]
    for each in writers:
        each.go()
    assert [each.wait() for each in writers] == [(0, "")] * 4
    store = PostgresStore(url)
    ids = read_all(store, STRIP)
    assert len(ids) == len(set(ids)) and set(ids) == set().union(*(each.kept[STRIP] for each in writers))
    for each in writers:
        assert all(ids[number - 1] == entry_id for entry_id, number in each.kept[STRIP].items())
    store.close()


def test_writers_killed_in_the_middle_lose_nothing_acknowledged_and_block_nobody(url):
    seed = os.environ.get("COTTERBOOK_SEED") or str(random.SystemRandom().getrandbits(32))
    print(f"COTTERBOOK_SEED={seed}")
    choice = random.Random(seed)
    store = PostgresStore(url)
    kept = {STRIP: {}, OTHER_STRIP: {}}
    for number in range(1, 9):
        writer = Writer(url, number, 100_000)
        writer.go()
        threading.Event().wait(choice.uniform(0.05, 0.4))
        writer.process.send_signal(signal.SIGKILL)
        assert writer.wait()[0] == -signal.SIGKILL
        for strip, accepted in writer.kept.items():
            kept[strip].update(accepted)
        # Whatever it held is free again.
        assert store.append(STRIP, [entry(number)]).refused == []
    for strip, numbers in kept.items():
        ids = read_all(store, strip)
        assert len(ids) == len(set(ids)) and set(numbers) <= set(ids)
        assert all(ids[number - 1] == entry_id for entry_id, number in numbers.items())
    store.close()
    assert sum(map(len, kept.values())) > 8
