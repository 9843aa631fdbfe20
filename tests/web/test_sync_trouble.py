"""Sending when something fails on the way: what stays, what is told, and that nothing is lost."""

import json
import re
import shutil
from itertools import pairwise
from random import Random

import pytest

from web.phone import entry, uuid
from web.sending import ALL_SENT, add, entries_in, ids_of, refuse, states, watch_requests


def test_the_pc_away_and_back(phone):
    tab = phone.tab()
    phone.context.set_offline(True)
    add(tab, entry(1))
    tab.run("await m.sync.sendNow()")
    shown = tab.run("return m.sync.snapshot()")
    assert shown["phase"] == "away" and shown["unsent"] == 1
    assert "kept on this phone" in shown["message"]["text"]
    tab.run("await m.sync.start()")
    assert states(tab) == {entry(1)["id"]: "unsent"}
    phone.context.set_offline(False)
    tab.until(ALL_SENT)
    assert tab.run("return m.sync.snapshot().message") is None


def test_after_a_failure_it_waits_longer_each_time_and_then_sends_by_itself(phone):
    tab = phone.tab(before=lambda page: page.clock.install())
    tries = []
    phone.context.route("**/api/hello", lambda route: (tries.append(1), route.abort()))
    add(tab, entry(1))
    tab.run("await m.sync.start()")
    assert len(tries) == 1
    # 1 s at most, then 2 s at most, and at least half of that: 0.4 s is too early, 1 s is not.
    tab.page.clock.run_for(400)
    assert len(tries) == 1
    with tab.page.expect_request("**/api/hello"):
        tab.page.clock.run_for(700)
    tab.until("m.sync.snapshot().phase === 'away'")
    phone.context.unroute("**/api/hello")
    tab.page.clock.run_for(2_100)
    tab.until(ALL_SENT)


@pytest.mark.parametrize(("path", "status"), [("/api/sync", 503), ("/api/sync", 507), ("/api/photos/*", 507)])
def test_a_greeting_that_succeeds_shortens_no_wait(phone, path, status):
    """The PC greets, and refuses what comes after: 1, 2, 4 ... 60 s apart, each between half of it and all of it."""
    tab = phone.tab(before=lambda page: page.clock.install())
    tries = []

    def refuse_it(route):
        if route.request.url.endswith("/missing"):
            route.continue_()
            return
        tries.append(tab.page.evaluate("performance.now()"))
        route.fulfill(status=status, json={"error": {"code": "disk_full", "text": "No room.", "values": {}}})

    phone.context.route("**" + path, refuse_it)
    add(tab, entry(1))
    if "photos" in path:
        tab.run("await m.log.addPhoto({sha256: 'a'.repeat(64), bytes: new ArrayBuffer(9), type: 'image/jpeg'})")
        tab.run("await m.database.write(['settings'], (tr) =>"
                " tr.objectStore('settings').delete('held/' + 'a'.repeat(64)))")
    tab.run("await m.sync.start()")
    for _ in range(150):
        tab.page.clock.run_for(1_000)
        tab.page.wait_for_timeout(20)
    gaps = [later - before for before, later in pairwise(tries)]
    # In 150 s: after about 0.75, 1.5, 3, 6, 12, 24, 45 and 45 s more.
    assert 6 <= len(tries) <= 11, tries
    assert all(gap >= 500 * 2**n for n, gap in enumerate(gaps[:6])) and max(gaps) <= 64_000
    assert len({round(gap / 2**n) for n, gap in enumerate(gaps[:6])}) > 1, "jitter"
    assert tab.run("return m.sync.snapshot().message.text") == "No room."
    assert tab.run("return (await m.log.counts()).unsent") == (0 if "photos" in path else 1)


def test_a_pc_that_never_answers_is_given_up_after_half_a_minute(phone):
    tab = phone.tab()
    phone.context.route("**/api/hello", lambda route: None)
    add(tab, entry(1))
    before = tab.run("window.done = m.sync.sendNow(); return performance.now()")
    tab.run("await window.done")
    assert 25_000 <= tab.run("return performance.now()") - before <= 90_000
    assert tab.run("return m.sync.snapshot().phase") == "away" and set(states(tab).values()) == {"unsent"}


def test_an_entry_goes_between_two_pictures(phone, server):
    """Four pictures are on their way, slowly, two at a time: an entry waits for the two that have begun."""
    tab, held, order = phone.tab(), [], []
    add(tab, entry(1))
    tab.run("await m.sync.sendNow()")
    for letter in "abcd":
        tab.run(
            """await m.log.addPhoto({sha256: a, bytes: new ArrayBuffer(9), type: 'image/jpeg'});
            await m.database.write(["settings"], (tr) => tr.objectStore("settings").delete("held/" + a));""",
            letter * 64)

    def hold(route):
        if route.request.method == "PUT":
            order.append("picture")
            held.append(route)
        else:
            route.continue_()

    phone.context.route("**/api/photos/*", hold)
    phone.context.on("request", lambda r: order.append("entries") if r.url.endswith("/api/sync") else None)
    tab.run("window.done = m.sync.sendNow(); return null")
    until(tab, lambda: len(held) == 2)
    order.clear()
    add(tab, entry(2))
    for route in held[:2]:
        route.fulfill(status=415, json={"error": {"code": "not_a_picture", "text": "No.", "values": {}}})
    until(tab, lambda: order)
    assert order[0] == "entries"
    until(tab, lambda: states(tab)[entry(2)["id"]] == "sent")


def until(tab, so):
    for _ in range(1500):
        if so():
            return
        tab.page.wait_for_timeout(20)
    raise AssertionError("not within 30 s")


def test_an_answer_lost_after_the_pc_stored_it_does_no_harm(phone, second_phone):
    tab = phone.tab()
    lost = []

    def lose_once(route):
        response = route.fetch()
        if lost:
            route.fulfill(response=response)
        else:
            lost.append(response.status)
            route.abort()

    phone.context.route("**/api/sync", lose_once)
    add(tab, entry(1), entry(2))
    tab.run("await m.sync.sendNow()")
    assert lost == [200] and tab.run("return m.sync.snapshot().phase") == "away"
    assert set(states(tab).values()) == {"unsent"}
    tab.run("await m.sync.sendNow()")
    assert set(states(tab).values()) == {"sent"}
    reader = second_phone.tab()
    reader.run("await m.sync.sendNow()")
    assert ids_of(reader) == [entry(1)["id"], entry(2)["id"]]


def test_a_refused_entry_stays_marked_and_the_others_go(phone, second_phone):
    first = second_phone.tab()
    add(first, entry(1))
    first.run("await m.sync.sendNow()")
    tab = phone.tab()
    # The same id with other content, which the PC must refuse.
    add(tab, entry(1, values={"note": "something else"}), entry(2))
    bodies = watch_requests(phone)
    tab.run("await m.sync.sendNow()")
    shown = tab.run("return m.sync.snapshot()")
    assert states(tab) == {entry(1)["id"]: "refused", entry(2)["id"]: "sent"}
    assert [each["id"] for each in shown["refused"]] == [entry(1)["id"]]
    assert shown["refused"][0]["problem"]["code"] == "id_used_twice" and shown["phase"] == "idle"
    sent_before = len(bodies)
    tab.run("await m.sync.sendNow()")
    assert len(bodies) > sent_before
    assert [entries_in(body) for body in bodies[sent_before:]] == [[]], "a refused entry must not go out by itself"
    tab.run("await m.log.forget(a)", entry(1)["id"])
    assert tab.run("return m.log.refused()") == []


@pytest.mark.parametrize(
    ("status", "code", "text"),
    [
        (507, "disk_full", "The PC's disk is full. Nothing was lost: your entries stay on this phone."),
        (413, "request_too_big", "The request is larger than {limit} bytes."),
    ],
)
def test_what_the_pc_says_reaches_the_person_and_nothing_is_acknowledged(phone, status, code, text):
    tab = phone.tab()
    add(tab, entry(1))
    refuse(phone, "/api/sync", status, code, text, limit=5)
    tab.run("await m.sync.sendNow()")
    shown = tab.run("return m.sync.snapshot()")
    assert shown["phase"] == "trouble" and shown["unsent"] == 1
    assert shown["message"] == {"text": text, "values": {"limit": 5}}
    phone.context.unroute("**/api/sync")
    tab.run("await m.sync.sendNow()")
    assert tab.run("return m.sync.snapshot().phase") == "idle"


def test_something_else_at_the_address_is_not_taken_for_the_pc(phone):
    tab = phone.tab()
    add(tab, entry(1))
    phone.context.route("**/api/*", lambda route: route.fulfill(status=200, content_type="text/html", body="<p>Log in"))
    tab.run("await m.sync.sendNow()")
    shown = tab.run("return m.sync.snapshot()")
    assert shown["phase"] == "away" and "Something else" in shown["message"]["text"]
    assert states(tab) == {entry(1)["id"]: "unsent"}


def test_an_expired_token_is_fetched_again_once_and_no_more(phone):
    tab = phone.tab()
    hellos = []
    phone.context.on("request", lambda r: hellos.append(1) if r.url.endswith("/api/hello") else None)
    tab.run("await m.sync.sendNow()")
    assert len(hellos) == 1
    # Without its session the token is worth nothing, as after a restart of the PC.
    phone.context.clear_cookies(name=re.compile("session"))
    add(tab, entry(1))
    tab.run("await m.sync.sendNow()")
    assert len(hellos) == 2 and set(states(tab).values()) == {"sent"}
    refuse(phone, "/api/sync", 400, "csrf", "The token is not right.")
    add(tab, entry(2))
    tab.run("await m.sync.sendNow()")
    assert len(hellos) == 3
    assert tab.run("return m.sync.snapshot().phase") == "trouble"


@pytest.mark.parametrize(("days", "word"), [(365, "ahead"), (-365, "behind")])
def test_a_clock_a_year_off_is_told_and_loses_nothing(phone, days, word):
    def wrong_clock(page):
        page.add_init_script(f"const real = Date.now; Date.now = () => real() + {days} * 86400000;")

    tab = phone.tab(before=wrong_clock)
    add(tab, entry(1))
    tab.run("await m.sync.sendNow()")
    shown = tab.run("return m.sync.snapshot()")
    assert states(tab) == {entry(1)["id"]: "sent"} and shown["phase"] == "idle"
    assert abs(shown["clock_off_ms"] - days * 86_400_000) < 60_000
    assert word in shown["message"]["text"]
    assert shown["message"]["values"]["span"] == {"text": "{n} days", "values": {"n": abs(days)}}


def test_a_right_clock_gives_no_message(phone):
    tab = phone.tab()
    tab.run("await m.sync.sendNow()")
    assert tab.run("return m.sync.snapshot().message") is None


def test_a_pc_that_says_more_for_ever_is_asked_no_more(phone):
    tab = phone.tab()
    asked = []

    def more(route):
        asked.append(1)
        answer = {"version": "0.1.0", "now": 1_760_000_000_000, "strips": {}, "more": True}
        route.fulfill(status=200, content_type="application/json", body=json.dumps(answer))

    phone.context.route("**/api/sync", more)
    tab.run("await m.sync.sendNow()")
    assert len(asked) == 1


def test_a_pc_that_went_back_to_an_older_copy_gets_everything_again(phone, server):
    tab = phone.tab()
    add(tab, entry(1), entry(2))
    tab.run("await m.sync.sendNow()")
    server.stop()
    shutil.rmtree(server.folder)
    server.start()
    bodies = watch_requests(phone)
    tab.run("await m.sync.sendNow()")
    assert [each["id"] for each in entries_in(bodies[-1])] == [entry(1)["id"], entry(2)["id"]]
    assert set(states(tab).values()) == {"sent"}
    add(tab, entry(3))
    tab.run("await m.sync.sendNow()")
    assert [each["id"] for each in entries_in(bodies[-1])] == [entry(3)["id"]]


def test_a_pc_with_other_data_gets_everything_and_gives_everything(phone, server, second_phone):
    """The PC was set up anew, and holds more than this phone has read: counting alone would hide what each lacks."""
    tab, other = phone.tab(), second_phone.tab()
    add(tab, entry(1), entry(2), entry(3, strip=2))
    tab.run("await m.sync.sendNow()")
    server.stop()
    server.folder.rename(server.folder.with_name("before"))
    server.start()
    add(other, *(entry(n) for n in range(10, 20)))
    other.run("await m.sync.sendNow()")
    assert tab.run("return (await m.log.strips()).map((line) => line.cursor)") == [2, 1]
    tab.run("await m.sync.sendNow()")
    other.run("await m.sync.sendNow()")
    assert ids_of(tab) == ids_of(other) == sorted(entry(n)["id"] for n in [1, 2, *range(10, 20)])
    assert ids_of(tab, 2) == ids_of(other, 2) == [entry(3, strip=2)["id"]]
    assert set(states(tab).values()) == {"sent"} and tab.run("return m.sync.snapshot().message") is None
    # Once known, it is the PC's data as any other.
    bodies = watch_requests(phone)
    tab.run("await m.sync.sendNow()")
    assert [entries_in(body) for body in bodies] == [[]]


def test_an_answer_of_data_that_are_no_longer_the_pcs_acknowledges_nothing(phone, server):
    """A tab sleeps with its answer; meanwhile the PC went back to a copy, and another tab learned of it."""
    tab, other, held = phone.tab(), phone.tab(), []
    add(tab, entry(1))
    tab.run("await m.sync.sendNow()")
    identity = tab.run("return m.log.setting('store')")
    add(tab, entry(2))
    phone.context.route(
        "**/api/sync", lambda route: route.continue_() if held else held.append((route, route.fetch())))
    tab.run("window.sent = m.sync.sendNow(); return null")
    while not held:
        tab.page.wait_for_timeout(20)
    other.run("await m.log.sendEverythingAgain(a)", uuid(77))
    route, response = held[0]
    route.fulfill(response=response)
    tab.until("m.sync.snapshot().message?.text.startsWith('The PC went back to other data just then.')")
    assert states(tab) == {entry(1)["id"]: "unsent", entry(2)["id"]: "unsent"}
    assert tab.run("return (await m.log.strips()).map((line) => line.cursor)") == [0]
    # Nor do pictures, or what the PC tells of other strip-downs.
    for told in (
        "m.log.photosSent(['a'.repeat(64)], {of: a})", "m.log.receive('x', [], 9, a)",
        "m.log.settle([], [], a)"):
        assert tab.fails(told, identity)["name"] == "OtherData"
    tab.run("await window.sent; await m.sync.sendNow()")
    tab.until(ALL_SENT)
    assert tab.run("return m.log.setting('store')") == identity and set(states(tab).values()) == {"sent"}


def test_the_pc_killed_in_the_middle_and_started_again(phone, server, second_phone):
    tab = phone.tab()
    add(tab, *(entry(n) for n in range(1500)))
    seen = []

    def kill_at_the_second(route):
        seen.append(1)
        if len(seen) == 2:
            server.kill()
        route.continue_()

    phone.context.route("**/api/sync", kill_at_the_second)
    tab.run("await m.sync.sendNow()")
    assert tab.run("return m.sync.snapshot().phase") == "away"
    assert tab.run("return (await m.log.counts()).unsent") == 500
    server.start()
    tab.run("await m.sync.sendNow()")
    reader = second_phone.tab()
    reader.run("await m.sync.sendNow()")
    assert ids_of(reader) == [entry(n)["id"] for n in range(1500)]


def test_a_refusal_of_something_never_sent_acknowledges_nothing(phone):
    tab = phone.tab()
    add(tab, entry(1))
    refusal = {"id": None, "code": "not_an_id", "field": "id", "text": "id is no identifier.", "values": {}}
    strips = {uuid(1): {"entries": [], "cursor": 0, "more": False, "refused": [refusal]}}
    answer = json.dumps({"version": "0.1.0", "now": 1_760_000_000_000, "strips": strips, "more": False})
    phone.context.route("**/api/sync", lambda route: route.fulfill(content_type="application/json", body=answer))
    tab.run("await m.sync.sendNow()")
    assert states(tab) == {entry(1)["id"]: "unsent"}
    assert tab.run("return m.sync.snapshot().phase") == "trouble"


def test_received_entries_that_find_no_room_do_not_move_the_cursor(phone, second_phone):
    other = second_phone.tab()
    noise = Random(5)
    add(other, *(entry(n, values={"note": noise.randbytes(950).hex()}) for n in range(900)))
    other.run("await m.sync.sendNow()")
    tab = phone.tab()
    phone.quota(tab, 300_000)
    tab.run("await m.sync.sendNow()")
    shown = tab.run("return m.sync.snapshot()")
    assert shown["phase"] == "trouble" and "storage is full" in shown["message"]["text"]
    assert ids_of(tab) == [] and tab.run("return m.log.strips()") == []
    phone.quota(tab, None)
    tab.run("await m.sync.sendNow()")
    assert len(ids_of(tab)) == 900
