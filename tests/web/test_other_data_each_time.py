"""A PC whose data are others at each answer, as where two answer at one address: no phone goes round and round."""

import json
from itertools import count, pairwise

import pytest

from web.phone import entry, uuid
from web.sending import ALL_SENT, add, states

OTHERS = "The PC says each time that its data are others than before."


class Changing:
    """What answers in the PC's place: /api/sync with another identity each time, or each time but every so many."""

    def __init__(self, phone, tab, page_after=0):
        self._tab, self._page_after, self._names, self.anew = tab, page_after, count(1000), []
        self.answers = 0
        phone.context.route("**/api/sync", self._answer)

    def _answer(self, route):
        self.answers += 1
        if self._page_after and self.answers % (self._page_after + 1) == 0:
            asked = json.loads(route.request.post_data)
            strips = {strip: {"entries": [], "cursor": each["cursor"], "more": False, "refused": [], "last": None}
                      for strip, each in asked["strips"].items()}
            route.fulfill(json={"version": "0.1.0", "now": 0, "store": asked["store"], "role": "owner", "more": False,
                                "strips": strips, "concerns": [], "wanted_photos": []})
            return
        self.anew.append(self._tab.page.evaluate("performance.now()"))
        values = {"store": uuid(next(self._names))}
        route.fulfill(status=409, json={"error": {"code": "other_store", "text": "Others.", "values": values}})


def go_on(tab, seconds):
    """So many seconds of the page's clock, which stands still while an answer is on its way on a slow machine."""
    asked = set()
    told = {
        "request": lambda request: asked.add(request), "requestfinished": lambda request: asked.discard(request),
        "requestfailed": lambda request: asked.discard(request),
    }
    for name, hear in told.items():
        tab.page.on(name, hear)
    for _ in range(seconds):
        tab.page.clock.run_for(1_000)
        tab.page.wait_for_timeout(20)
        for _ in range(500):
            if not asked:
                break
            tab.page.wait_for_timeout(10)
    for name, hear in told.items():
        tab.page.remove_listener(name, hear)


def in_trouble(tab):
    """What the sender tells once the answers that are on their way have come: an answer may lead to one more asking."""
    for _ in range(500):
        shown = tab.run("return m.sync.snapshot()")
        if shown["phase"] == "trouble":
            break
        tab.page.wait_for_timeout(10)
    return shown


@pytest.mark.parametrize("page_after", [0, 1])
def test_it_is_asked_ever_more_seldom_and_the_person_hears_why(phone, page_after):
    """1, 2, 4 ... 60 s apart, each between half of it and all of it; also where every second answer takes entries."""
    tab = phone.tab(before=lambda page: page.clock.install())
    add(tab, *(entry(n) for n in range(2_500)))
    pc = Changing(phone, tab, page_after)
    tab.run("await m.sync.start()")
    go_on(tab, 150)
    gaps = [later - before for before, later in pairwise(pc.anew)][1:]  # it begins anew at once the first time
    assert 6 <= len(pc.anew) <= 14, pc.anew
    assert all(gap >= 500 * 2**n for n, gap in enumerate(gaps[:5])) and max(gaps) <= 64_000
    shown = in_trouble(tab)
    assert (shown["phase"], shown["message"]["text"][:len(OTHERS)]) == ("trouble", OTHERS)
    assert "Everything is kept on this phone" in shown["message"]["text"]
    phone.context.unroute("**/api/sync")
    # The PC itself is another than the last of those, and then stays what it is.
    tab.run("await m.sync.sendNow()")
    go_on(tab, 61)
    tab.until(ALL_SENT)
    assert set(states(tab).values()) == {"sent"}
    shown = tab.run("return m.sync.snapshot()")
    # Of the page's clock, which ran ahead, and of nothing else.
    assert shown["phase"] == "idle" and shown["message"]["text"].startswith("This phone's clock is {span} ahead")


def test_a_pc_that_was_set_up_anew_twice_is_no_such_pc(phone):
    """Between the two all went across, so each time it begins anew at once."""
    tab = phone.tab()
    add(tab, entry(1))
    for _ in range(2):
        tab.run("await m.sync.sendNow()")
        tab.run("await m.log.putSetting('store', a)", uuid(77))
        tab.run("await m.sync.sendNow()")
        assert set(states(tab).values()) == {"sent"} and tab.run("return m.sync.snapshot().message") is None
