"""What cuts a wait short: the network is back, or the page is in sight again. The browser itself says both.

The page's own timers are dead in these tests, so that neither the end of the wait nor the half minute's turn sends.
"""

import pytest

from web.phone import entry
from web.sending import ALL_SENT, add, states
from web.tabs_in_turn import TabsInTurn

# The waits that were begun, which never end, and the events of the browser's own making.
NO_TIMERS = """
    globalThis.waits = [];
    globalThis.heard = [];
    globalThis.setTimeout = (_, ms) => waits.push(ms);
    globalThis.setInterval = () => 0;
    const note = ({ type, isTrusted }) => isTrusted && heard.push(type === "online" ? type : document.visibilityState);
    addEventListener("online", note);
    document.addEventListener("visibilitychange", note);
    await m.sync.start();
"""
WAITING = "m.sync.snapshot().phase === 'away' && waits.at(-1) > 0"


@pytest.fixture
def tabs(chromium, server):
    tabs = TabsInTurn(chromium.unpaired, server.url, server.cookie)
    yield tabs
    tabs.close()


def test_it_sends_as_soon_as_the_browser_says_that_the_network_is_back(phone):
    tab = phone.tab()
    tab.run(NO_TIMERS)
    phone.context.set_offline(True)
    add(tab, entry(1))
    tab.until(WAITING)
    assert states(tab) == {entry(1)["id"]: "unsent"} and tab.run("return heard") == []
    phone.context.set_offline(False)
    tab.until(ALL_SENT)
    assert states(tab) == {entry(1)["id"]: "sent"} and tab.run("return heard") == ["online"]


def test_it_sends_as_soon_as_the_page_is_in_sight_again(tabs, server):
    tab = tabs.tab()
    tab.run(NO_TIMERS)
    server.kill()
    add(tab, entry(1))
    tab.until(WAITING)
    server.start()
    tabs.tab()
    tab.until("heard.includes('hidden')")
    # Out of sight it stays quiet: the PC is there, and nobody looks.
    assert tab.run("return [m.sync.snapshot().phase, waits.at(-1) > 0]") == ["away", True]
    assert states(tab) == {entry(1)["id"]: "unsent"}
    tabs.bring(tab)
    tab.until(ALL_SENT)
    assert states(tab) == {entry(1)["id"]: "sent"} and tab.run("return heard") == ["hidden", "visible"]
