"""Rows that are kept are those that working everything out anew gives, whatever comes in whatever order."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from random_logs import BAG, GROUPS, PARTS, STRIP, logs, own_fields

from cotterbook.core import phone
from cotterbook.core.strip import Strip
from cotterbook.core.views import VIEWS
from cotterbook.resources import folder
from vectors.cases import identifier

SCALE = identifier("@scale")
LISTS = ("off", "statement")
# What rows show beside masses: names, bags with their labels, a scale's card, spells, pictures.
more_fields = st.one_of(
    own_fields,
    st.builds(
        lambda part, name, bag: {"kind": "set", "thing": part, "type": "part", "values": {"name": name, "bag": bag}},
        st.sampled_from(PARTS),
        st.sampled_from(["Horn", "Seat"]),
        st.sampled_from([BAG, None]),
    ),
    st.builds(
        lambda label: {"kind": "set", "thing": BAG, "type": "bag", "values": {"label": label}},
        st.sampled_from(["1", "2"]),
    ),
    st.builds(
        lambda group, part, count: {
            "kind": "set",
            "thing": group,
            "type": "group",
            "values": {"part": part, "count": count, "thread": "M8"},
        },  # fmt: skip
        st.sampled_from(GROUPS),
        st.sampled_from(PARTS),
        st.integers(1, 6),
    ),
    st.builds(
        lambda gain: {"kind": "set", "thing": SCALE, "type": "scale", "values": {"name": "A", "gain_percent": gain}},
        st.sampled_from([0.5, 2.0]),
    ),
    st.builds(
        lambda part, grams: {
            "kind": "weigh",
            "part": part,
            "weighed_as": "taken_off",
            "pieces": 1,
            "basis": "weighed",
            "grams": float(grams),
            "step_grams": 1.0,
            "on_scale": SCALE,
        },  # fmt: skip
        st.sampled_from(PARTS),
        st.integers(1, 5000),
    ),
    st.builds(
        lambda act, spell: {"kind": "work", "act": act, "spell": identifier(f"@spell {spell}"), "people": ["Ann"]},
        st.sampled_from(["begins", "ends"]),
        st.integers(0, 1),
    ),
)


@given(logs(more_fields))
@settings(max_examples=100, deadline=None)
def test_kept_rows_are_what_a_fresh_fold_gives(entries):
    strip = Strip(STRIP)
    for entry in entries:
        strip.add([entry])
        fresh = Strip(STRIP)
        fresh.add(list(strip.entries.values()))
        for name in LISTS:
            assert VIEWS[name](strip, {}) == VIEWS[name](fresh, {}), name


@pytest.mark.parametrize("name", LISTS)
def test_the_door_gives_kept_rows_as_they_are(name):
    lines = (folder("demo_data") / "entries.jsonl").read_text(encoding="utf-8").splitlines()
    entries = [json.loads(line) for line in lines]
    strip = Strip(entries[0]["strip"])
    call = phone.start(lambda: identifier("unused"))
    for part in range(0, len(entries), 20):
        some = entries[part : part + 20]
        strip.add(some)
        call("load", json.dumps({"strip": strip.id, "entries": some}))
        answer = json.loads(call("view", json.dumps({"strip": strip.id, "view": name})))["result"]
        fresh = Strip(strip.id)
        fresh.add(list(strip.entries.values()))
        assert answer == json.loads(json.dumps(VIEWS[name](fresh, {})))


def test_only_the_row_that_an_entry_touched_is_worked_out_anew():
    lines = (folder("demo_data") / "entries.jsonl").read_text(encoding="utf-8").splitlines()
    entries = [json.loads(line) for line in lines]
    strip = Strip(entries[0]["strip"])
    strip.add(entries)
    before = {row["part"]: row for row in VIEWS["off"](strip, {})["parts"]}
    part = sorted(before)[0]
    named = {"id": identifier("new"), "strip": strip.id, "kind": "set", "at": strip.last_at + 1,
             "by": entries[0]["by"], "who": "Ann", "thing": part, "type": "part", "values": {"name": "Another name"},
             "saw": {}}  # fmt: skip
    strip.add([named])
    after = {row["part"]: row for row in VIEWS["off"](strip, {})["parts"]}
    assert after[part]["name"] == "Another name" or after[part]["disputed"]
    assert [each for each in before if after[each] is not before[each]] == [part]
