"""While many pictures go across the screen stays on, and no longer (W3C Screen Wake Lock API)."""

import pytest

from examples import photo_entry, picture

# The browser's own lock, asked for and given back; it is only noted here when.
WATCH = """() => {
    globalThis.locks = [];
    const request = navigator.wakeLock.request.bind(navigator.wakeLock);
    navigator.wakeLock.request = async (kind) => {
        const lock = await request(kind);
        locks.push(lock);
        return lock;
    };
}"""
HELD = "locks.filter((lock) => !lock.released).length"


@pytest.fixture
def tab(phone):
    tab = phone.tab()
    tab.page.evaluate(WATCH)
    tab.run("(await import('/wake.js')).stayAwakeWhileSending(m.sync.subscribe)")
    return tab


def keep(tab, count):
    for number in range(count):
        data = picture(number, 16)
        tab.run(
            """await m.log.addPhoto({sha256: a[0].sha256, bytes: Uint8Array.from(a[1]).buffer, type: 'image/jpeg',
                                     width: 16, height: 16});
            await m.log.addEntries([a[0]]);""", [photo_entry(number, data), list(data)])


def test_from_ten_pictures_on_it_stays_on_until_all_are_across(tab):
    keep(tab, 12)
    tab.run("await m.sync.sendNow()")
    tab.until("m.sync.snapshot().phase === 'idle' && m.sync.snapshot().unsent_photos === 0")
    assert tab.run("return locks.length") == 1, "one lock for all of them"
    tab.until(f"{HELD} === 0")


def test_a_few_pictures_are_not_worth_it(tab):
    keep(tab, 9)
    tab.run("await m.sync.sendNow()")
    tab.until("m.sync.snapshot().phase === 'idle' && m.sync.snapshot().unsent_photos === 0")
    assert tab.run("return locks.length") == 0


def test_when_sending_fails_the_phone_may_sleep(phone, tab):
    keep(tab, 12)
    phone.context.route("**/api/photos/*", lambda route: route.abort())
    tab.run("await m.sync.sendNow()")
    tab.until("m.sync.snapshot().phase === 'away'")
    assert tab.run("return locks.length") >= 1
    tab.until(f"{HELD} === 0")


def test_it_is_asked_for_again_when_the_page_comes_back(tab):
    tab.run("await (await import('/wake.js')).stayAwake('test', true)")
    assert tab.run(f"return {HELD}") == 1
    # As the browser does when the page is out of sight.
    tab.run("await locks[0].release()")
    tab.run("document.dispatchEvent(new Event('visibilitychange'))")
    tab.until("locks.length === 2")
    tab.run("await (await import('/wake.js')).stayAwake('test', false)")
    tab.until(f"{HELD} === 0")


@pytest.mark.parametrize("answer", [
    "undefined", "{ request: () => Promise.reject(new DOMException('low', 'NotAllowedError')) }"])
def test_a_browser_that_says_no_or_has_none_sends_all_the_same(phone, answer):
    tab = phone.tab()
    tab.run(f"Object.defineProperty(navigator, 'wakeLock', {{ value: {answer}, configurable: true }})")
    tab.run("(await import('/wake.js')).stayAwakeWhileSending(m.sync.subscribe)")
    keep(tab, 12)
    tab.run("await m.sync.sendNow()")
    tab.until("m.sync.snapshot().phase === 'idle' && m.sync.snapshot().unsent_photos === 0")
