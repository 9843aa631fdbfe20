"""Five phones, ten thousand entries and a hundred pictures, and nearly all goes wrong: at the end all are equal.

Requests are lost before the PC sees them, answered and the answer lost, sent twice, delayed, and arrive after the ones
that were made later; answers are cut off, and so are requests, their connection closed in the middle of the body;
clocks jump a year ahead or back, in living pages and over reloads; the PC is killed with SIGKILL and started again.
What the phones ask of the PC is real all the while: only what the network does to it is played, from a seed, in the
page's own `fetch` and in the proxy that cuts requests.

COTTERBOOK_SEED repeats a run's choices; COTTERBOOK_ROUNDS makes it longer (20 rounds are the ten thousand entries).
"""

import hashlib
import os
import random
import time

import pytest

from cotterbook.store.folder import FolderReader
from cutting import cutting_proxy
from examples import picture
from running import COOKIES
from web.phone import Phone, entry, uuid
from web.sending import add

PHONES, STRIPS = 5, 3
STRIP_IDS = [uuid(1 + number) for number in range(STRIPS)]
ENTRIES_A_ROUND = 100
ROUNDS = int(os.environ.get("COTTERBOOK_ROUNDS", "20"))
DAY_MS = 24 * 3_600_000
YEAR_MS = 365 * DAY_MS
SETTLED_SECONDS = 300
# What the network does to one request in three, and where the page's clock stands. sessionStorage outlives a reload.
WEATHER = """(() => {
  const stored = (name, otherwise) => Number(sessionStorage.getItem(name) ?? otherwise);
  const now = Date.now.bind(Date);
  globalThis.Date = class extends Date {
    constructor(...given) { super(...(given.length ? given : [Date.now()])); }
    static now() { return now() + stored('clock', 0); }
  };
  let state = stored('seed', SEED);
  const chance = () => {  // a linear congruential generator, with the constants of Numerical Recipes
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    sessionStorage.setItem('seed', state);
    return state / 2 ** 32;
  };
  const ask = globalThis.fetch.bind(globalThis);
  const count = (what) => { const all = JSON.parse(sessionStorage.getItem('weather') ?? '{}');
    all[what] = (all[what] ?? 0) + 1; sessionStorage.setItem('weather', JSON.stringify(all)); };
  const lost = (what) => { count(what); throw new TypeError('Failed to fetch'); };
  globalThis.fetch = async (address, options) => {
    if (!String(address).startsWith('/api/') || sessionStorage.getItem('fair')) return ask(address, options);
    const roll = chance();
    if (roll < 0.07) lost('lost on the way out');
    if (roll < 0.14) { await ask(address, options); lost('answer lost'); }
    if (roll < 0.21) { count('twice'); const first = ask(address, options).catch(() => null);
      const second = await ask(address, options); await first; return second; }
    if (roll < 0.26) { const answer = await ask(address, options); const text = await answer.text(); count('cut off');
      return new Response(text.slice(0, Math.floor(text.length * chance())), answer); }
    if (roll < 0.31) {
      setTimeout(() => ask(address, { ...options, signal: undefined }).catch(() => null), 3000 * chance());
      lost('late');
    }
    if (roll < 0.36 && options?.body) {
      count('request cut');
      return ask(address, { ...options, headers: { ...options.headers, 'X-Cut': chance() } });
    }
    if (roll < 0.42) { count('delayed'); await new Promise((on) => setTimeout(on, 600 * chance())); }
    return ask(address, options);
  };
})()"""


class Storm:
    """Five phones and a PC in bad weather, and what was made on each phone."""

    def __init__(self, chromium, server, proxy, seed):
        self.random, self.server, self.proxy = random.Random(seed), server, proxy
        self.phones, self.tabs, self.made, self.photos = [], [], [], {}
        self.reloads = self.jumps = self.kills = self.pictures_looked_for = 0
        for number in range(PHONES):
            phone = Phone(chromium, f"http://127.0.0.1:{proxy.port}")
            script = WEATHER.replace("SEED", str(self.random.randrange(2**32)))
            self.phones.append(phone)
            self.tabs.append(phone.tab(before=lambda page, script=script: page.add_init_script(script)))
            self.tabs[number].run("m.sync.start()")

    def round(self, number):
        """Each phone writes; some are reloaded; the PC is killed now and then."""
        for at, tab in enumerate(self.tabs):
            batch = [self.entry(at, number, each) for each in range(ENTRIES_A_ROUND - 1)]
            add(tab, *batch, self.photo(tab, at, number))
            tab.run("m.sync.sendNow()")
        self.reload(self.random.choice(self.tabs))
        self.jump(self.random.choice(self.tabs))
        if self.random.random() < 0.5:
            self.kill()
        for tab in self.tabs:
            tab.run("m.sync.sendNow()")

    def kill(self):
        """The PC dies in the middle; what any phone holds as sent must be on its disk at that moment."""
        self.kills += 1
        self.server.kill()
        sent = {each for tab in self.tabs for each in tab.run(
            "return (await Promise.all(a.map((strip) => m.log.entriesOf(strip)))).flat()"
            ".filter((row) => row.state === 'sent').map((row) => row.id)", STRIP_IDS)}
        held, pictures, reports = kept(self.server.folder)
        assert sent <= {each["id"] for each in held}
        acknowledged = {each for tab in self.tabs for each in tab.run("return m.log.sentPhotos()")}
        assert {sha256: pictures.get(sha256) for sha256 in acknowledged} == {
            sha256: self.photos[sha256] for sha256 in acknowledged}
        self.pictures_looked_for += len(acknowledged)
        assert all("the last write was cut short" in report["text"] for report in reports)
        self.server.start()

    def number(self, phone, round_, each):
        return (phone * ROUNDS + round_) * ENTRIES_A_ROUND + each

    def entry(self, phone, round_, each):
        number = self.number(phone, round_, each)
        made = entry(number, 1 + self.random.randrange(STRIPS), by=uuid(90 + phone))
        self.made.append(made)
        return made

    def photo(self, tab, phone, round_):
        """A picture on the phone, and the entry that names it."""
        data = picture(self.number(phone, round_, 0))
        sha256 = hashlib.sha256(data).hexdigest()
        self.photos[sha256] = data
        tab.run("await m.log.addPhoto({...a, bytes: new Uint8Array(a.bytes).buffer})", {
            "sha256": sha256, "bytes": list(data), "type": "image/jpeg", "width": 24, "height": 24})
        number = self.number(phone, round_, ENTRIES_A_ROUND - 1)
        fields = {name: value for name, value in entry(number, 1).items() if name not in ("type", "values")}
        made = {**fields, "kind": "photo", "sha256": sha256, "media_type": "image/jpeg", "bytes": len(data),
                "width": 24, "height": 24}
        self.made.append(made)
        return made

    def reload(self, tab):
        """As an app that is closed in the middle and opened a year later, or earlier."""
        self.reloads += 1
        self.set_clock(tab)
        tab.reload()
        tab.run("m.sync.start()")

    def jump(self, tab):
        """The clock is set in the middle of whatever the page is doing."""
        self.jumps += 1
        self.set_clock(tab)

    def set_clock(self, tab):
        before = tab.run("return Number(sessionStorage.getItem('clock'))")
        clock = self.random.choice([each for each in (-YEAR_MS, 0, YEAR_MS) if each != before])
        tab.run("sessionStorage.setItem('clock', a)", clock)
        assert abs(tab.run("return new Date() - a", time.time() * 1000 + clock)) < DAY_MS

    def clear_up(self):
        """The weather is fair from now on; wait until every phone has sent all and has all."""
        for tab in self.tabs:
            tab.run("sessionStorage.setItem('fair', 1)")
        end = time.monotonic() + SETTLED_SECONDS
        waiting = list(self.tabs)
        while waiting:
            assert time.monotonic() < end, [tab.run("return m.sync.snapshot()") for tab in waiting]
            for tab in waiting:
                tab.run("await m.sync.sendNow()")
            waiting = [tab for tab in waiting if not self.settled(tab)]

    def settled(self, tab):
        """Nothing of this phone waits, and it has as many entries as were made."""
        unsent, held = tab.run("""const { unsent, unsent_photos } = await m.log.counts();
            return [unsent + unsent_photos, await Promise.all(a.map((strip) => m.log.countOf(strip)))]""", STRIP_IDS)
        return not unsent and sum(held) == len(self.made)

    def rows(self, tab):
        return [row for strip in STRIP_IDS for row in tab.run("return m.log.entriesOf(a)", strip)]

    def weather(self):
        """What happened to how many requests."""
        sums = {}
        for tab in self.tabs:
            for what, count in tab.run("return JSON.parse(sessionStorage.getItem('weather') ?? '{}')").items():
                sums[what] = sums.get(what, 0) + count
        return sums


@pytest.fixture
def storm(chromium, stopped_server):
    seed = os.environ.get("COTTERBOOK_SEED") or str(random.randrange(2**32) if not os.environ.get("CI") else 1)
    print(f"COTTERBOOK_SEED={seed}")
    server = stopped_server.start()
    with cutting_proxy(server.port) as proxy:
        port = proxy.port
        # The same device, at the address by which its phones come.
        COOKIES[port] = {"name": f"cotterbook-device-{port}", "value": server.cookie["value"]}
        storm = Storm(chromium, server, proxy, seed)
        del COOKIES[port]
        yield storm
        for phone in storm.phones:
            phone.close()


def kept(folder):
    """The entries and pictures on the PC's disk, and what its reader has to report."""
    reader = FolderReader(folder)
    entries = [each for strip in reader.strips() for each in reader.read(strip, 0, 10**6, 10**9).entries]
    return entries, {sha256: reader.get_photo(sha256) for sha256 in reader.photos()}, reader.reports


def in_order(entries):
    return sorted(entries, key=lambda each: each["id"])


def test_all_are_equal_after_the_storm(storm):
    for number in range(ROUNDS):
        storm.round(number)
    storm.clear_up()
    made = in_order(storm.made)
    assert len({each["id"] for each in made}) == len(made) == PHONES * ROUNDS * ENTRIES_A_ROUND
    for tab in storm.tabs:
        assert tab.run("return [await m.log.refused(), await m.log.refusedPhotos()]") == [[], []]
        rows = storm.rows(tab)
        assert {row["state"] for row in rows} == {"sent"}
        assert in_order(row["entry"] for row in rows) == made
    weather = storm.weather()
    print(f"entries {len(made)}, pictures {len(storm.photos)}, reloads {storm.reloads}, clock jumps {storm.jumps},"
          f" kills {storm.kills}, acknowledged pictures found {storm.pictures_looked_for}, {weather}")
    assert set(weather) == {"lost on the way out", "answer lost", "twice", "cut off", "request cut", "late", "delayed"}
    assert storm.kills and storm.reloads and storm.jumps and storm.pictures_looked_for and storm.proxy.cuts
    storm.server.stop()
    held, pictures, _ = kept(storm.server.folder)
    assert in_order(held) == made and pictures == storm.photos
