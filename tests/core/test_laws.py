"""Laws that hold for any log, tried on random ones."""

import json
from itertools import count

from hypothesis import given, settings
from hypothesis import strategies as st
from random_logs import PARTS, STRIP, ends, logs, looks, people

from cotterbook.core import phone
from cotterbook.core.fasteners import Ledger
from cotterbook.core.readings import one_look
from cotterbook.core.strip import Strip
from cotterbook.core.views import VIEWS, exact_view
from cotterbook.core.views_tables import NAMES as TABLES
from cotterbook.core.views_tags import WHAT
from vectors.cases import FIRST_AT, identifier


def exact(entries):
    strip = Strip(STRIP)
    strip.add(entries)
    return exact_view(strip, {})


@given(logs(), st.randoms())
@settings(max_examples=150, deadline=None)
def test_the_state_depends_on_the_entries_not_on_their_order(entries, random):
    shuffled = list(entries)
    random.shuffle(shuffled)
    one_by_one = Strip(STRIP)
    for entry in shuffled:
        one_by_one.add([entry])
        exact_view(one_by_one, {})  # what is worked out in between must not linger
    assert json.dumps(exact_view(one_by_one, {}), sort_keys=True) == json.dumps(exact(entries), sort_keys=True)


@given(logs())
@settings(max_examples=100, deadline=None)
def test_every_screen_can_be_shown_of_any_log(entries):
    strip = Strip(STRIP)
    strip.add(entries)
    asked = {"part": [{"part": part} for part in PARTS], "staircase": [{"by": by} for by in ("part", "place", "spell")]}
    asked["table"] = asked["table_csv"] = asked["shown_table"] = [{"table": name} for name in TABLES]
    asked["tags"] = [{"what": what} for what in WHAT]
    for name, view in VIEWS.items():
        for arguments in asked.get(name, [{"part": None}]):
            json.dumps(view(strip, arguments))


def struck_by(entries):
    """Ids that any entry strikes, whether or not that strike holds."""
    return {each["entry"] for each in entries if each["kind"] == "strike"}


@given(logs())
@settings(max_examples=100, deadline=None)
def test_a_strike_leaves_what_was_there_without_the_entry(entries):
    if not entries or entries[-1]["kind"] == "strike":
        return
    # A part of which everything is struck takes its bolts with it, which one that never was has not.
    if entries[-1]["kind"] == "set" and entries[-1]["type"] == "part":
        alone = [each for each in entries if each["kind"] == "set" and each["thing"] == entries[-1]["thing"]]
        if all(each["id"] in struck_by(entries) or each is entries[-1] for each in alone):
            return
    last = entries[-1] | {"at": FIRST_AT + 50}
    strike = last | {"id": identifier("@strike of the last"), "at": FIRST_AT + 60, "kind": "strike"}
    strike = {key: strike[key] for key in ("id", "strip", "at", "by", "who", "kind")}
    strike |= {"entry": last["id"], "why": "slip"}
    kept = [entry for entry in entries[:-1] if entry.get("entry") != last["id"]]
    assert _without_clock(exact([*kept, last, strike])) == _without_clock(exact(kept))


def _without_clock(state):
    return json.dumps({key: value for key, value in state.items() if key != "last_at"}, sort_keys=True)


steps = st.sampled_from([None, None, 1, 2, 3])
heads = st.sampled_from([None, "hex", "clip"])
moves = st.builds(
    lambda many, pair: {"kind": "move", "count": many, "from": pair[0], "to": pair[1]}, st.integers(1, 4), ends
)
handled = st.one_of(
    moves,
    st.builds(lambda many, step: {"kind": "tighten", "count": many, "step": step}, st.integers(1, 8), steps),
    st.builds(
        lambda places, step, pattern: {
            "kind": "tighten", "count": len(places), "step": step, "positions": places, "pattern": pattern,
        },
        st.lists(st.integers(1, 8), min_size=1, max_size=8, unique=True),
        steps,
        st.sampled_from(["row", "row", "row", "star"]),
    ),
    st.builds(lambda many: {"kind": "witness", "count": many}, st.integers(1, 8)),
    looks,
    st.just({"kind": "waive"}),
)


@given(st.integers(1, 8), st.integers(0, 2), heads, st.lists(st.tuples(handled, people), max_size=30))
@settings(max_examples=400, deadline=None)
def test_fasteners_are_conserved_whatever_is_logged(many, manual_steps, head, entries):
    ledger, overdrawn = Ledger(many, "machine", manual_steps, head), False
    for own, who in entries:
        entry = own | {"who": who}
        ledger.take(entry)
        overdrawn = overdrawn or ledger.on < 0
        assert sum(ledger.places.values()) == many
        assert 0 <= ledger.check.checked <= ledger.checkable
        if not ledger.needs(True) and not ledger.check.waived:
            assert ledger.check.checked >= ledger.count - ledger.untouched
        assert 0 <= ledger.marked <= ledger.tight
        assert overdrawn or ledger.tight <= ledger.on
        assert ledger.checkable == (ledger.marked if head != "clip" else ledger.loose + ledger.tight)
        assert overdrawn or ledger.untouched + ledger.loose + ledger.tight == ledger.on
        assert (ledger.overdrawn() != []) == any(n < 0 for (place, _), n in ledger.places.items() if place != "stock")


@given(logs(), st.randoms())
@settings(max_examples=150, deadline=None)
def test_nothing_a_life_hangs_on_is_done_unlooked_at_unless_the_owner_does_without(entries, random):
    brakes = [{"kind": "set", "thing": part, "type": "part", "values": {"place": "front_brake"}} for part in PARTS]
    marks = {"strip": STRIP, "by": identifier("@phone"), "who": "Ann"}
    entries = entries + [
        marks | brake | {"at": FIRST_AT + 30, "id": identifier(f"@brake {n}")} for n, brake in enumerate(brakes)
    ]
    random.shuffle(entries)
    strip = Strip(STRIP)
    strip.add(entries)
    for group in strip.of_type("group"):
        ledger = strip.ledger(group.id)
        assert 0 <= ledger.check.checked <= ledger.marked <= ledger.tight
        # Of a group that lost its part in a strike no place is known.
        if strip.thing(group.values.get("part") or "") and not strip.needs(group.id) and not ledger.check.waived:
            assert ledger.check.checked >= ledger.count - ledger.untouched


@given(st.integers(1, 6), st.integers(1, 12))
@settings(max_examples=60, deadline=None)
def test_no_act_puts_back_more_than_came_off(taken, back):
    numbers = count()
    call = phone.start(lambda: identifier(f"new {next(numbers)}"))

    def act(act_name, **form):
        stamp = {"now": FIRST_AT, "device": identifier("@phone"), "who": "Ann"}
        answer = json.loads(call("act", json.dumps({"act": act_name, "form": {"strip": STRIP} | form} | stamp)))
        if "result" in answer:
            call("load", json.dumps({"strip": STRIP, "entries": answer["result"]["entries"]}))
        return answer

    begun = {"kind": "set", "thing": STRIP, "type": "strip", "values": {"name": "Bench"}}
    begun |= {"id": identifier("@begun"), "strip": STRIP, "at": FIRST_AT, "by": identifier("@phone"), "who": "Ann"}
    call("load", json.dumps({"strip": STRIP, "entries": [begun]}))
    part = act("take_off", name="Bracket", bag_label="7", groups=[{"count": taken}])["result"]["part"]
    view = json.loads(call("view", json.dumps({"strip": STRIP, "view": "part", "part": part})))["result"]
    group = view["groups"][0]
    move = {"group": group["group"], "count": back, "from": "bag", "from_bag": group["places"][0]["bag"]}
    answer = act("move", to="machine", **move)
    assert ("problems" in answer) == (back > taken)


@given(st.floats(1, 1000), st.floats(0.1, 50), st.floats(0.1, 50))
def test_a_wider_step_never_narrows_an_uncertainty(grams, step, more):
    def look(step_grams):
        return one_look({"basis": "weighed", "grams": grams, "step_grams": step_grams}).standard

    assert look(step + more) >= look(step)
