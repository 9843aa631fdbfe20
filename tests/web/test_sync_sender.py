"""Sending: what goes across, in which order, in pages, and from several tabs and phones."""

from web.phone import entry
from web.sending import ALL_SENT, add, entries_in, ids_of, states, watch_requests


def test_decide_is_pure_and_puts_entries_before_photos(phone):
    tab = phone.tab()
    fine, wait = {"notBefore": 0}, {"notBefore": 15}
    calm = {
        "now": 10, "csrf": "x", "due": False, "unsent": 0, "unsent_photos": 0, "entries": fine, "photos": fine}
    for change, step in [
        ({}, {"step": "rest"}),
        ({"due": True}, {"step": "entries"}),
        ({"unsent": 1, "unsent_photos": 1}, {"step": "entries"}),
        ({"unsent_photos": 1}, {"step": "photos"}),
        ({"unsent": 1, "csrf": None}, {"step": "hello"}),
        ({"unsent": 1, "csrf": None, "entries": wait}, {"step": "wait", "ms": 5}),
        ({"entries": wait, "photos": wait}, {"step": "rest"}),
        # What fails for pictures holds up no entry, and pictures never go before entries.
        ({"unsent": 1, "unsent_photos": 1, "photos": wait}, {"step": "entries"}),
        ({"unsent_photos": 1, "photos": wait}, {"step": "wait", "ms": 5}),
        ({"unsent": 1, "unsent_photos": 1, "entries": wait}, {"step": "wait", "ms": 5}),
    ]:
        assert tab.run("return m.sync.decide(Object.freeze(a))", calm | change) == step


def test_two_phones_end_with_the_same_log(phone, second_phone):
    one, two = phone.tab(), second_phone.tab()
    add(one, entry(1), entry(2))
    add(two, entry(3), entry(4, strip=2))
    for tab in (one, two, one):
        tab.run("await m.sync.sendNow()")
    expected = [entry(n)["id"] for n in (1, 2, 3)]
    assert ids_of(one) == ids_of(two) == expected
    assert ids_of(one, 2) == ids_of(two, 2) == [entry(4)["id"]]
    assert set(states(one).values()) == {"sent"}
    assert one.run("return m.sync.snapshot().last_contact_ms") > 0


def test_a_save_is_sent_by_itself_and_another_tab_may_have_made_it(phone):
    sender, other = phone.tab(), phone.tab()
    sender.run("await m.sync.start()")
    add(sender, entry(1))
    sender.until(ALL_SENT)
    other.run("await m.sync.start()")
    add(other, entry(2))
    sender.until(ALL_SENT)
    assert set(states(sender).values()) == {"sent"} and len(states(sender)) == 2


# Between the sender's decision to rest and its being at rest, something is saved.
SAVE_AT_THE_LAST_MOMENT = """
    const request = navigator.locks.request.bind(navigator.locks);
    navigator.locks.request = async (name, ...rest) => {
        const goesOn = await request(name, ...rest);
        if (name === "cotterbook-sender" && goesOn === false && globalThis.late) {
            const entry = globalThis.late;
            globalThis.late = null;
            await m.log.addEntries([entry]);
        }
        return goesOn;
    };
    globalThis.setInterval = () => 0;
    await m.sync.start();
    globalThis.late = a;
    await m.sync.sendNow();
"""


def test_a_save_as_the_sender_comes_to_rest_is_sent_at_once(phone):
    tab = phone.tab()
    tab.run(SAVE_AT_THE_LAST_MOMENT, entry(1))
    tab.until(ALL_SENT)
    assert states(tab) == {entry(1)["id"]: "sent"}


def test_two_tabs_sending_at_once_take_turns_and_store_nothing_twice(phone, second_phone):
    tabs = [phone.tab(), phone.tab()]
    open_now, most = [], []

    def passing(route):
        open_now.append(route)
        most.append(len(open_now))
        response = route.fetch()
        open_now.remove(route)
        route.fulfill(response=response)

    phone.context.route("**/api/sync", passing)
    add(tabs[0], *(entry(n) for n in range(50)))
    for tab in tabs:
        tab.run("globalThis.sending = m.sync.sendNow()")
    for tab in tabs:
        tab.run("await sending")
    assert max(most) == 1
    reader = second_phone.tab()
    reader.run("await m.sync.sendNow()")
    assert len(ids_of(reader)) == len(set(ids_of(reader))) == 50


def test_2500_entries_go_in_pages_both_ways(phone, second_phone):
    bodies = watch_requests(phone)
    tab = phone.tab()
    add(tab, *(entry(n) for n in range(2500)))
    tab.run("await m.sync.sendNow()")
    sizes = [len(entries_in(body)) for body in bodies]
    assert sum(sizes) == 2500 and max(sizes) <= 1000
    reader = second_phone.tab()
    answers = []
    second_phone.context.on("response", lambda r: answers.append(r) if r.url.endswith("/api/sync") else None)
    reader.run("await m.sync.sendNow()")
    assert len(answers) >= 3
    assert ids_of(reader) == [entry(n)["id"] for n in range(2500)]


def test_a_request_stays_under_its_bytes_with_long_text_that_is_not_ascii(phone):
    bodies = watch_requests(phone)
    tab = phone.tab()
    add(tab, *(entry(n, values={"note": "é" * 2000}) for n in range(600)))
    tab.run("await m.sync.sendNow()")
    assert tab.run("return (await m.log.counts()).unsent") == 0
    assert max(map(len, bodies)) <= 1_000_000 and len(bodies) >= 3


def test_a_clock_that_is_put_back_while_the_sender_waits_costs_nothing(phone):
    tab = phone.tab()
    phone.context.route("**/api/**", lambda route: route.abort())
    tab.run("await m.sync.start()")
    assert tab.run("return m.sync.snapshot().phase") == "away"
    tab.run("const now = Date.now.bind(Date); Date.now = () => now() - 365 * 24 * 3_600_000")
    phone.context.unroute("**/api/**")
    add(tab, entry(1))
    # By itself, at the end of the wait that was begun before: no hand, no event and no half minute's turn.
    tab.until(ALL_SENT)
