"""The sender's place is taken from a tab in the middle of a step: nothing is lost, sent twice or left hanging."""

import pytest

from cotterbook.store.folder import FolderReader
from web.phone import entry, uuid
from web.sending import ALL_SENT, add, entries_in, states, watch_requests

# No turn of the half minute and no end of a wait: what is sent, the tab sends by itself.
START = "globalThis.setTimeout = globalThis.setInterval = () => 0; await m.sync.start()"
STEAL = """
    await new Promise((stolen) => {
        navigator.locks.request("cotterbook-sender", {steal: true}, () => {
            stolen();
            return new Promise((free) => { globalThis.free = free; });
        }).catch((error) => { globalThis.robbed = error.name; });
    });
"""
IN_LINE = "(await navigator.locks.query()).pending.length > 0"
# A tab waits minutes for another's step, longer than for any request, before
# it takes that one for asleep; here it hardly waits.
IMPATIENT = """
    const timeout = AbortSignal.timeout.bind(AbortSignal);
    AbortSignal.timeout = (ms) => timeout(ms > 400_000 ? 50 : ms);
"""


def hold(phone):
    """The next request for sync, held on its way: `held(tab)` waits for it and gives it back, to let it go on."""
    requests = []
    phone.context.route("**/api/sync", lambda route: requests.append(route), times=1)

    def held(tab):
        while not requests:
            tab.run("return null")
        return requests[0]

    return held


def kept(server):
    return [each["id"] for each in FolderReader(server.folder).read(uuid(1), 0, 10**6, 10**9).entries]


@pytest.mark.parametrize("end", ["free", "closed"])
def test_a_robbed_tab_ends_its_step_gets_in_line_and_sends_the_rest(phone, server, end):
    tab, thief = phone.tab(), phone.tab()
    tab.run(START)
    bodies = watch_requests(phone)
    held = hold(phone)
    add(tab, *(entry(n) for n in range(1500)))
    request = held(tab)
    thief.run(STEAL)
    request.continue_()
    # The step that had begun is acknowledged as ever; for the next it waits its turn, and what is saved is saved.
    tab.until(IN_LINE)
    assert tab.run("return (await m.log.counts()).unsent") == 500
    add(tab, entry(1500))
    assert len(bodies) == 1 and tab.run("return m.sync.snapshot().message") is None
    if end == "free":
        thief.run("free()")
    else:
        thief.page.close()
    tab.until(ALL_SENT)
    expected = [entry(n)["id"] for n in range(1501)]
    assert sorted(each["id"] for body in bodies for each in entries_in(body)) == expected
    assert states(tab) == dict.fromkeys(expected, "sent") and sorted(kept(server)) == expected


def test_a_request_that_is_lost_while_the_place_is_another_s_is_made_again(phone, server):
    tab, thief = phone.tab(), phone.tab()
    tab.run(START)
    held = hold(phone)
    add(tab, entry(1))
    request = held(tab)
    thief.run(STEAL)
    request.abort()
    tab.until(IN_LINE)
    assert states(tab) == {entry(1)["id"]: "unsent"}
    thief.run("free()")
    # Its request failed, so it waits as after any failure, until a person says otherwise.
    tab.until("m.sync.snapshot().phase === 'away'")
    tab.run("await m.sync.sendNow()")
    assert states(tab) == {entry(1)["id"]: "sent"} and kept(server) == [entry(1)["id"]]


def test_a_tab_that_took_a_sleeper_s_place_may_be_robbed_of_it_itself(phone, server):
    sleeper, tab, thief = phone.tab(), phone.tab(), phone.tab()
    sleeper.run(STEAL)
    tab.run(IMPATIENT)
    held = hold(phone)
    add(tab, *(entry(n) for n in range(1500)))
    tab.run("globalThis.sending = m.sync.sendNow()")
    request = held(tab)
    assert sleeper.run("return robbed") == "AbortError"
    thief.run(STEAL)
    request.continue_()
    tab.run("await sending")
    assert tab.run("return m.sync.snapshot().message") is None
    expected = [entry(n)["id"] for n in range(1500)]
    assert states(tab) == dict.fromkeys(expected, "sent") and sorted(kept(server)) == expected
