"""Forms as no honest page would send them: each is refused with problems, never by an exception of Python."""

import json
from itertools import count

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cotterbook.core import phone
from cotterbook.core.acts import ACTS
from vectors.cases import FIRST_AT, identifier

STRIP = identifier("@strip")
NAMES = {
    "part": identifier("@part"),
    "group": identifier("@group"),
    "thing": identifier("@part"),
    "item": identifier("@nothing"),
    "setting": identifier("@setting"),
    "entry": identifier("@entry 1"),
}
FIELDS = (
    "name side pieces came_in outcome outcome_done replacement note off bag_label groups readings photos items part "
    "group thing type values units saw count from from_bag to to_bag_label torque torque_unit angle tool act people "
    "front rear unit step fuel_litres entry why photo item what text how machine machine_name standard standard_unit "
    "tank_litres rider front_scale rear_scale plus_minus_litres front_higher rear_raised rule before for_whom due_on "
    "cost currency adjusted measured_in counted inwards_is read_how as_found as_found_unknown value how_to_undo setting"
).split()
plain = st.one_of(
    st.none(), st.booleans(), st.integers(-5, 600), st.floats(allow_nan=True), st.text(max_size=5),
    st.sampled_from([*NAMES.values(), "begins", "kg", "stone", "machine", "bag", "stock", "1,5", "part", "group",
                     "setting", "clicks", "kilopascals", "other", "preload"]),
)  # fmt: skip
rows = st.lists(
    st.dictionaries(st.sampled_from([*FIELDS, "figure", "figure_high", "again", "basis"]), plain), max_size=2
)
anything = st.one_of(plain, rows, st.dictionaries(st.sampled_from(FIELDS), st.one_of(plain, rows)))
forms = st.one_of(plain, st.dictionaries(st.sampled_from(FIELDS), anything))


def door():
    numbers = count()
    call = phone.start(lambda: identifier(f"new {next(numbers)}"))
    base = {"strip": STRIP, "by": identifier("@phone"), "who": "Ann", "kind": "set"}
    group = {"part": NAMES["part"], "count": 4}
    preload = {"adjusted": "preload", "measured_in": "clicks"}
    begun = [
        base | {"thing": STRIP, "type": "strip", "values": {"name": "Bench"}},
        base | {"thing": NAMES["part"], "type": "part", "values": {"name": "Bracket", "off": True}},
        base | {"thing": NAMES["group"], "type": "group", "values": group},
        base | {"thing": NAMES["setting"], "type": "setting", "values": preload},
    ]
    entries = [each | {"id": identifier(f"@entry {n}"), "at": FIRST_AT + n} for n, each in enumerate(begun)]
    call("load", json.dumps({"strip": STRIP, "entries": entries}))
    return call


@pytest.mark.parametrize("act", sorted(ACTS))
@given(form=forms)
@settings(max_examples=60, deadline=None)
def test_a_form_of_any_shape_is_answered(act, form):
    call = door()
    if isinstance(form, dict):
        form = {"strip": STRIP} | form
    stamp = {"now": FIRST_AT, "device": identifier("@phone"), "who": "Ann"}
    answer = json.loads(call("act", json.dumps({"act": act, "form": form} | stamp)))
    assert ("result" in answer) != ("problems" in answer)
    for each in answer.get("problems", []):
        assert set(each) == {"code", "field", "text", "values"}


def test_calls_views_and_acts_not_known_are_refused():
    call = door()
    for name, arguments, code in (
        ("dance", {}, "unknown_call"),
        ("view", {"view": "dance", "strip": STRIP}, "unknown_view"),
        ("act", {"act": "dance", "form": {}}, "unknown_act"),
    ):
        assert [each["code"] for each in json.loads(call(name, json.dumps(arguments)))["problems"]] == [code]
