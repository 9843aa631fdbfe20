"""Whatever is typed into a reading, the door answers with questions or with problems, and with nothing endless."""

import json
import math
from itertools import count

from hypothesis import given, settings
from hypothesis import strategies as st

from cotterbook.core import phone
from cotterbook.core.limits import BASES, FLUIDS, WEIGHED_AS
from vectors.cases import FIRST_AT, identifier

STRIP, SCALE, PART, LOOK = (identifier(f"@{name}") for name in ("strip", "scale", "part", "look"))
FIGURES = (
    "240",
    "4,360",
    "1.250,5",
    "0",
    "-3",
    "1e999",
    "NaN",
    "Infinity",
    "9" * 400,
    "½",
    "٣",
    "2 lb 3 oz",
    "240 kg",
    "",
)
typed = st.one_of(st.sampled_from(FIGURES), st.text(max_size=12), st.none(), st.booleans(), st.integers(), st.floats())
rows = st.fixed_dictionaries(
    {},
    optional={
        "figure": typed,
        "figure_high": typed,
        "tare": typed,
        "step": typed,
        "plus_minus": typed,
        "litres": typed,
        "plus_minus_litres": typed,
        "pieces": typed,
        "right": typed,
        "source": typed,
        "drained": st.booleans(),
        "with_fasteners": st.booleans(),
        "unit": st.sampled_from(["g", "kg", "lb", "oz", "N.m", "stone", ""]),
        "basis": st.sampled_from([*BASES, "litres", ""]),
        "weighed_as": st.sampled_from([*WEIGHED_AS, "gone"]),
        "fluid": st.sampled_from([*FLUIDS, "tar", ""]),
        "maturity": st.sampled_from(["known", "similar", "guess", "sure"]),
        "on_scale": st.sampled_from([SCALE, PART, "nowhere", ""]),
        "again": st.sampled_from([LOOK, SCALE, "nowhere", ""]),
    },
)


def door():
    """A door with a strip-down of one part, weighed once, and one scale with its card."""
    numbers = count()
    call = phone.start(lambda: identifier(f"new {next(numbers)}"))
    stamp = {"strip": STRIP, "by": identifier("@phone"), "who": "Ann"}
    card = {"name": "Bench scale", "step_grams": 5, "capacity_grams": 15_000, "gain_percent": 1, "zero_grams": 5}
    look = {"weighed_as": "taken_off", "pieces": 1, "basis": "weighed", "grams": 300, "step_grams": 1}
    entries = [
        {"id": identifier("@card"), "kind": "set", "thing": SCALE, "type": "scale", "values": card},
        {
            "id": identifier("@named"),
            "kind": "set",
            "thing": PART,
            "type": "part",
            "values": {"name": "Horn", "pieces": 2},
        },
        {"id": LOOK, "kind": "weigh", "part": PART} | look,
    ]
    call("load", json.dumps({"strip": STRIP, "entries": [stamp | {"at": FIRST_AT} | each for each in entries]}))
    return call


def finite(text):
    """JSON as the phone reads it, which knows no NaN."""

    def refuse(name):
        raise AssertionError(f"{name} in {text[:200]}")

    answer = json.loads(text, parse_constant=refuse)
    assert all(math.isfinite(each) for each in _numbers(answer))
    return answer


def _numbers(value):
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, list):
        for each in value:
            yield from _numbers(each)
    elif isinstance(value, float):
        yield value


CALL = door()


@given(st.lists(rows, min_size=1, max_size=3), st.integers(0, 2), st.sampled_from(["slips", "reading"]))
@settings(max_examples=400, deadline=None)
def test_a_row_being_typed_gets_questions_or_problems(readings, index, view):
    asked = {"strip": STRIP, "view": view, "part": PART, "pieces": 2, "readings": readings, "index": index}
    answer = finite(CALL("view", json.dumps(asked)))
    assert ("result" in answer) != ("problems" in answer)


@given(st.lists(rows, min_size=1, max_size=3))
@settings(max_examples=400, deadline=None)
def test_saving_makes_entries_for_all_rows_or_for_none(readings):
    form = {"strip": STRIP, "part": PART, "readings": readings}
    act = {"act": "add", "form": form, "now": FIRST_AT + 9, "device": identifier("@phone"), "who": "Ann"}
    answer = finite(CALL("act", json.dumps(act)))
    if "problems" in answer:
        assert all(each["text"] and isinstance(each["field"], str) for each in answer["problems"])
    else:
        assert len([entry for entry in answer["result"]["entries"] if entry["kind"] == "weigh"]) == len(readings)


def test_the_door_holds_what_the_rows_speak_of():
    """So that the tests above reach what lies behind a scale's card and an earlier look."""
    row = {"figure": "20 kg", "on_scale": SCALE, "again": LOOK, "pieces": 1, "right": "unit,far"}
    asked = {"strip": STRIP, "view": "reading", "part": PART, "pieces": 2, "readings": [row]}
    answer = finite(CALL("view", json.dumps(asked)))["result"]
    assert [each["code"] for each in answer["questions"]] == ["capacity", "disagrees"]
    act = {"act": "add", "form": {"strip": STRIP, "part": PART, "readings": [row]}, "now": FIRST_AT + 9}
    saved = finite(CALL("act", json.dumps(act | {"device": identifier("@phone"), "who": "Ann"})))["result"]
    assert saved["entries"][0]["grams"] == 20_000
