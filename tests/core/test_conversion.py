"""A torque for dry threads turned into one for oiled ones, or back."""

import json

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from cotterbook.core import phone
from cotterbook.core.bolt import preload_of
from cotterbook.core.conversion import against, converted
from cotterbook.core.friction import friction_of
from cotterbook.core.heads import bearing_diameters
from cotterbook.core.threads import read_thread
from vectors.cases import FIRST_AT, identifier

STRIP, PART, GROUP = identifier("@strip"), identifier("@part"), identifier("@group")
KNOWN = {"thread": "M8", "thread_confirmed": True, "head": "hex", "finish": "black"}
M8 = read_thread("M8")
HEAD = bearing_diameters("hex", M8)


def ask(values, part=None, **form):
    call = phone.start(lambda: "")
    base = {"strip": STRIP, "by": identifier("@phone"), "who": "Ann", "kind": "set"}
    sets = [
        {"thing": PART, "type": "part", "values": {"name": "Panel", "place": "side"} | (part or {})},
        {"thing": GROUP, "type": "group", "values": {"part": PART, "count": 4} | values},
    ]
    entries = [base | each | {"id": identifier(f"@e{n}"), "at": FIRST_AT + n} for n, each in enumerate(sets)]
    call("load", json.dumps({"strip": STRIP, "entries": entries}))
    full = {"group": GROUP, "figure": "25", "unit": "N.m", "from": "dry", "to": "oiled"} | form
    return json.loads(call("convert_torque", json.dumps({"strip": STRIP} | full)))


def test_a_dry_torque_oiled_is_less():
    """Worked by VDI 2230: 0.16 P + 0.58 d2 mu + (dw + dh) / 4 mu is 0.947 at 0.08, 1.319 at 0.12, 2.438 at 0.24; so
    25 N.m dry are 25 x 0.947 / 2.438 = 9.7 to 25 x 0.947 / 1.319 = 17.9 oiled."""
    answer = ask(KNOWN)["result"]
    assert answer["exact"]["low"] == pytest.approx(9.7, abs=0.05)
    assert answer["exact"]["high"] == pytest.approx(17.9, abs=0.1)
    assert (answer["low"]["value"], answer["high"]["value"]) == ("9.5", "17.5")
    assert any("can break the bolt" in each["text"] for each in answer["warnings"])


def test_the_short_formula_lies_below_the_top():
    """Shigley table 8-15, seen: K 0.30 black, 0.18 lubricated, so a torque goes down to 0.6 of it."""
    answer = ask(KNOWN)["result"]["exact"]
    assert answer["low"] < 0.6 * 25 < answer["high"]


def test_typed_in_another_unit():
    """18.44 lbf.ft is 25 N.m (exact factors of the units)."""
    answer = ask(KNOWN, figure="18.439", unit="lbf.ft")["result"]
    assert answer["exact"]["high"] == pytest.approx(ask(KNOWN)["result"]["exact"]["high"], rel=1e-4)
    # 9.7 and 17.9 N.m are 7.16 and 13.2 lbf.ft.
    assert [answer["own"][end]["value"] for end in ("low", "high")] == ["7", "13"]
    # 2,000 N.m, the most there may be, are 17,701 lbf.in.
    most = ask(KNOWN, figure="17700", unit="lbf.in")["result"]["own"]["high"]
    assert int(most["value"]) % 50 == 0 and 0 < int(most["value"]) < 17700
    assert answer["own"]["high"]["unit"] == "lbf.ft" and ask(KNOWN)["result"]["own"] is None


@pytest.mark.parametrize(
    ("form", "code", "field"),
    [
        ({"figure": "0.01"}, "out_of_range", "figure"),
        ({"figure": "NaN"}, "not_a_number", "figure"),
        ({"figure": "1e999"}, "not_a_number", "figure"),
        ({"figure": "-25"}, "out_of_range", "figure"),
        ({"to": "dry"}, "same_condition", "to"),
        ({"to": "wet"}, "not_a_choice", "to"),
        ({"from": None}, "not_a_choice", "from"),
        ({"figure": "much"}, "not_a_number", "figure"),
        ({"figure": ""}, "not_a_number", "figure"),
        ({"figure": "0"}, "out_of_range", "figure"),
        ({"figure": "2001"}, "out_of_range", "figure"),
        ({"unit": "stone"}, "unknown_unit", "figure"),
        ({"group": identifier("@nothing")}, "no_such_group", "group"),
        ({"group": ["x"]}, "bad_form", "group"),
    ],
)
def test_a_bad_form_is_refused(form, code, field):
    assert [(each["code"], each["field"]) for each in ask(KNOWN, **form)["problems"]] == [(code, field)]


@pytest.mark.parametrize(
    ("group", "part", "code"),
    [
        ({}, {"place": "front_brake"}, "place"),
        ({}, {"place": None}, "unknown_place"),
        ({"thread_confirmed": None}, {}, "not_confirmed"),
        ({"thread": "8 mm"}, {}, "unknown_thread"),
        ({"finish": "chrome"}, {}, "chrome"),
        ({"head": "countersunk"}, {}, "no_bearing_face"),
        ({"into": "plastic"}, {}, "weak_material"),
    ],
)
def test_no_torque_is_converted_where_none_is_worked_out(group, part, code):
    assert [each["code"] for each in ask(KNOWN | group, part)["problems"]] == [code]


def test_grade_and_hole_need_not_be_known_but_two_answers_to_them_are_none():
    assert against({"place": "side"}, KNOWN) == []
    for name in ("into", "grade", "finish", "thread"):
        assert [each["code"] for each in against({"place": "side"}, KNOWN, [name])] == ["disputed"]


def test_two_answers_to_the_place_are_told_and_not_a_crash():
    call = phone.start(lambda: "")
    base = {"strip": STRIP, "who": "Ann", "kind": "set"}
    sets = [
        {"thing": PART, "type": "part", "values": {"name": "Panel", "place": "side"}},
        {"thing": PART, "type": "part", "values": {"place": "seat"}},
        {"thing": GROUP, "type": "group", "values": {"part": PART, "count": 4} | KNOWN},
    ]
    entries = [
        base | each | {"id": identifier(f"@e{n}"), "at": FIRST_AT + n, "by": identifier(f"@phone {n}")}
        for n, each in enumerate(sets)
    ]
    call("load", json.dumps({"strip": STRIP, "entries": entries}))
    form = {"strip": STRIP, "group": GROUP, "figure": "25", "unit": "N.m", "from": "dry", "to": "oiled"}
    found = json.loads(call("convert_torque", json.dumps(form)))["problems"]
    assert [(each["code"], each["field"], each["values"]) for each in found] == [
        ("disputed", "", {"field": {"field": "place"}})
    ]


def test_dry_stainless_threads_gall():
    stainless = KNOWN | {"finish": "stainless", "grade": "A2-70"}
    assert [(each["code"], each["field"]) for each in ask(stainless)["problems"]] == [("dry_stainless", "from")]


@given(
    torque=st.floats(0.1, 1000),
    finish=st.sampled_from(["plain", "black", "zinc", "coated"]),
    change=st.permutations(["dry", "oiled", "locking_compound"]),
)
def test_the_top_never_pulls_harder_than_the_old_torque_could(torque, finish, change):
    before, after = friction_of(finish, change[0]), friction_of(finish, change[1])
    low, high = converted(torque, M8, HEAD, before, after)
    assume(high <= 2000)
    assert 0 < low <= high
    at_most = preload_of(torque, M8, HEAD, before.low)
    assert preload_of(high, M8, HEAD, after.low) == pytest.approx(at_most, rel=1e-9)
