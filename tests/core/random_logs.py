"""Logs at random, of parts, masses, bolts and strikes, for laws that hold of any log."""

from hypothesis import strategies as st

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
people = st.sampled_from(["Ann", " ANN ", "Bo", "Cid"])
looks = st.builds(
    lambda many, found: {"kind": "second_check", "count": many, "looked_at": "torque, mark", "found": found},
    st.integers(1, 8),
    st.sampled_from(["right", "right", "right", "not_right"]),
)
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
        lambda group, places, pattern: {
            "kind": "tighten", "group": group, "count": len(places), "newton_metres": 22.0, "positions": places,
            "pattern": pattern,
        },
        st.sampled_from(GROUPS),
        st.lists(st.integers(1, 8), min_size=1, max_size=4, unique=True),
        st.sampled_from(["row", "star"]),
    ),
    st.builds(
        lambda group, many: {"kind": "witness", "group": group, "count": many},
        st.sampled_from(GROUPS),
        st.integers(1, 8),
    ),
    st.builds(lambda look, group, who: look | {"group": group, "who": who}, looks, st.sampled_from(GROUPS), people),
    st.builds(
        lambda group: {"kind": "waive", "group": group, "what": "second_check", "why": "A cover."},
        st.sampled_from(GROUPS),
    ),
    st.builds(lambda act: {"kind": "work", "spell": identifier("@spell"), "act": act}, st.just("begins")),
    st.builds(lambda n: {"kind": "strike", "entry": n, "why": "slip"}, st.integers(0, 30)),
)


HANDLING = ("move", "tighten", "witness", "second_check", "waive")


@st.composite
def logs(draw, fields=own_fields):
    """A log of entries with times that may be equal, and strikes of entries before or after."""
    found = []
    drawn = draw(st.lists(st.tuples(fields, st.integers(0, 20)), max_size=30))
    ids = [identifier(f"@entry {n}", FIRST_AT + n) for n in range(len(drawn))]
    for n, (own, tick) in enumerate(drawn):
        entry = {"id": ids[n], "strip": STRIP, "at": FIRST_AT + tick, "by": identifier("@phone"), "who": "Ann"} | own
        if entry["kind"] == "strike":
            entry["entry"] = ids[entry["entry"] % len(ids)]
        if entry["kind"] in HANDLING:
            entry["by"] = identifier(draw(st.sampled_from(["@phone", "@phone", "@other phone"])))
            if draw(st.booleans()):
                entry["seen_last"] = draw(st.lists(st.sampled_from(ids[: n + 1]), max_size=2, unique=True))
        found.append(entry)
    return found
