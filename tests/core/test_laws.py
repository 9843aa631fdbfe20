"""Laws that hold for any log, tried on random ones."""

import json
from itertools import count

from hypothesis import given, settings
from hypothesis import strategies as st

from cotterbook.core import phone
from cotterbook.core.fasteners import Ledger
from cotterbook.core.readings import one_look
from cotterbook.core.strip import Strip
from cotterbook.core.views import VIEWS, exact_view
from vectors.cases import FIRST_AT, identifier

STRIP = identifier("@strip")
PARTS = [identifier(f"@part {n}") for n in range(3)]
GROUPS = [identifier(f"@group {n}") for n in range(3)]
BAG = identifier("@bag")

values = st.one_of(
    st.fixed_dictionaries({"off": st.booleans()}),
    st.fixed_dictionaries({"pieces": st.integers(1, 4)}),
    st.fixed_dictionaries({"outcome": st.sampled_from(["stays_off", "swapped", "goes_back", "cut_down"])}),
    st.fixed_dictionaries({"outcome_done": st.booleans()}),
    st.fixed_dictionaries({"came_in": st.sampled_from(["fitted", "missing", "accessory", "new"])}),
)
ends = st.sampled_from([("machine", "bag"), ("bag", "machine"), ("machine", "lost"), ("stock", "machine")])
own_fields = st.one_of(
    st.builds(
        lambda part, fields: {"kind": "set", "thing": part, "type": "part", "values": fields},
        st.sampled_from(PARTS),
        values,
    ),
    st.builds(
        lambda part, grams, state, pieces: {
            "kind": "weigh",
            "part": part,
            "weighed_as": state,
            "pieces": pieces,
            "basis": "weighed",
            "grams": grams,
            "step_grams": 1.0,
        },
        st.sampled_from(PARTS),
        st.integers(1, 5000),
        st.sampled_from(["taken_off", "going_on", "after_cut"]),
        st.integers(1, 2),
    ),
    st.builds(
        lambda group, part, many: {
            "kind": "set",
            "thing": group,
            "type": "group",
            "values": {"part": part, "count": many},
        },
        st.sampled_from(GROUPS),
        st.sampled_from(PARTS),
        st.integers(1, 8),
    ),
    st.builds(
        lambda group, many, pair: (
            {"kind": "move", "group": group, "count": many, "from": pair[0], "to": pair[1]}
            | ({"from_bag": BAG} if pair[0] == "bag" else {})
            | ({"to_bag": BAG} if pair[1] == "bag" else {})
        ),
        st.sampled_from(GROUPS),
        st.integers(1, 4),
        ends,
    ),
    st.builds(
        lambda group, many: {"kind": "tighten", "group": group, "count": many, "newton_metres": 22.0},
        st.sampled_from(GROUPS),
        st.integers(1, 8),
    ),
    st.builds(
        lambda group, many: {"kind": "witness", "group": group, "count": many},
        st.sampled_from(GROUPS),
        st.integers(1, 8),
    ),
    st.builds(lambda act: {"kind": "work", "spell": identifier("@spell"), "act": act}, st.just("begins")),
    st.builds(lambda n: {"kind": "strike", "entry": n, "why": "slip"}, st.integers(0, 30)),
)


@st.composite
def logs(draw):
    """A log of entries with times that may be equal, and strikes of entries before or after."""
    found = []
    drawn = draw(st.lists(st.tuples(own_fields, st.integers(0, 20)), max_size=30))
    ids = [identifier(f"@entry {n}", FIRST_AT + n) for n in range(len(drawn))]
    for n, (fields, tick) in enumerate(drawn):
        entry = {"id": ids[n], "strip": STRIP, "at": FIRST_AT + tick, "by": identifier("@phone"), "who": "Ann"} | fields
        if entry["kind"] == "strike":
            entry["entry"] = ids[entry["entry"] % len(ids)]
        found.append(entry)
    return found


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
    for name, view in VIEWS.items():
        for part in PARTS if name == "part" else [None]:
            json.dumps(view(strip, {"part": part}))


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


moves = st.builds(
    lambda many, pair: {"kind": "move", "count": many, "from": pair[0], "to": pair[1]}, st.integers(1, 4), ends
)
handled = st.one_of(
    moves,
    st.builds(lambda many: {"kind": "tighten", "count": many}, st.integers(1, 8)),
    st.builds(lambda many: {"kind": "witness", "count": many}, st.integers(1, 8)),
)


@given(st.integers(1, 8), st.lists(handled, max_size=30))
@settings(max_examples=300, deadline=None)
def test_fasteners_are_conserved_whatever_is_logged(many, entries):
    ledger, overdrawn = Ledger(many, "machine"), False
    for entry in entries:
        ledger.take(entry)
        overdrawn = overdrawn or ledger.on < 0
        assert sum(ledger.places.values()) == many
        assert 0 <= ledger.marked <= ledger.tight
        assert overdrawn or ledger.untouched + ledger.loose + ledger.tight == ledger.on
        assert (ledger.overdrawn() != []) == any(n < 0 for (place, _), n in ledger.places.items() if place != "stock")


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
