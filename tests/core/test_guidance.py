"""Guidance: never where a life hangs on it or anything is unknown, and never above what bolt and hole bear."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cotterbook.core import guidance, refusals
from cotterbook.core.bolt import torque_for, yield_preload
from cotterbook.core.limits import PLACES_ON_MACHINE
from cotterbook.core.things import THINGS
from cotterbook.core.views_torque import guidance_or_reasons

# An M6 of 8.8, zinc plated and oiled, 12 mm in steel, on a side panel: nothing speaks against it.
KNOWN = {
    "thread": "M6", "thread_confirmed": True, "head": "hex", "grade": "8.8", "finish": "zinc", "into": "steel",
    "engagement_millimetres": 12.0, "torque_condition": "oiled",
}  # fmt: skip
SIDE = {"place": "side"}


def choices(name):
    return [field[3] for field in THINGS["group"] if field[0] == name][0]


def codes(part, group, disputed=()):
    found, why = guidance_or_reasons(part, group, disputed)
    assert (found is None) == bool(why)
    for each in why:
        assert each["why"]["text"] and each["to_do"]["text"]
    return [each["code"] for each in why]


def test_an_m6_of_8_8_oiled_in_steel():
    """VDI 2230 at friction 0.08 has 7.7 N.m (table A1, from memory); 0.75 of the yield instead of 0.9 is 6.4."""
    found, why = guidance_or_reasons(SIDE, KNOWN)
    assert why == []
    assert (found["low"]["value"], found["high"]["value"]) == ("6", "7.5")
    assert found["limits"][0]["what"] == "bolt"
    assert found["exact"]["limit"] == pytest.approx(7.7, abs=0.05)
    assert "specification" not in str(found)


@pytest.mark.parametrize(
    ("part", "code"),
    [
        *[({"place": place}, "place") for place in ("front_brake", "rear_brake")],
        *[({"place": place}, "place") for place in ("front_wheel", "rear_wheel")],
        *[({"place": place}, "place") for place in ("handlebar", "fork", "front_end")],
        *[({"place": place}, "place") for place in ("swing_arm", "footrests", "frame", "tank", "intake")],
        ({"place": "engine"}, "engine"),
        ({"place": "other"}, "unknown_place"),
        ({}, "unknown_place"),
    ],
    ids=lambda value: str(value.get("place")) if isinstance(value, dict) else value,
)
def test_brakes_steering_suspension_wheels_and_engine_get_no_guidance(part, code):
    assert codes(part, KNOWN) == [code]


@pytest.mark.parametrize("name", ["Brake caliper, rear", "FRONT WHEEL", "Passenger footrests", "Swing arm bolt"])
def test_a_wrong_tap_on_a_place_opens_no_guidance_for_what_the_name_says_a_life_hangs_on(name):
    assert codes(SIDE | {"name": name}, KNOWN) == ["name"]
    # One reason is enough where the place has its own.
    assert codes({"place": "rear_brake", "name": name}, KNOWN) == ["place"]
    assert codes(SIDE | {"name": "Side panel"}, KNOWN) == []


def test_every_place_is_either_open_or_refused():
    for place in PLACES_ON_MACHINE:
        assert (codes({"place": place}, KNOWN) == []) == (place in refusals.OPEN_PLACES)


def test_what_only_sits_outside_on_an_engine_may_have_guidance_once_somebody_says_so():
    engine = {"place": "engine"}
    assert codes(engine, KNOWN | {"outside_engine": False}) == ["engine"]
    assert codes(engine, KNOWN | {"outside_engine": True}) == []
    # It opens the engine alone.
    assert codes({"place": "front_brake"}, KNOWN | {"outside_engine": True}) == ["place"]


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"grade": None}, "unknown_grade"),
        ({"grade": "8"}, "unknown_grade"),
        ({"grade": "A2"}, "unknown_grade"),
        ({"into": "plastic"}, "weak_material"),
        ({"into": "captive_nut"}, "weak_material"),
        ({"into": "other"}, "weak_material"),
        ({"into": None}, "unknown_material"),
        ({"finish": "chrome"}, "chrome"),
        ({"thread_confirmed": None}, "not_confirmed"),
        ({"thread_confirmed": False}, "not_confirmed"),
        ({"thread": None}, "unknown_thread"),
        ({"thread": "8 mm"}, "unknown_thread"),
        ({"thread": "1/4 BSF", "head": "hex"}, "not_60_degrees"),
        ({"head": None}, "unknown_head"),
        *[({"head": head}, "no_bearing_face") for head in ("countersunk", "nut", "stud", "clip", "rivet", "pin")],
        ({"head": "other"}, "no_bearing_face"),
        ({"engagement_millimetres": None}, "unknown_engagement"),
        ({"engagement_millimetres": 2.5}, "engagement_too_short"),
        ({"engagement_millimetres": 130.0}, "engagement_too_long"),
        ({"length_millimetres": 10.0}, "engagement_too_long"),
        ({"finish": "stainless"}, "grade_and_finish"),
        ({"grade": "A2-70", "finish": "stainless", "torque_condition": "dry"}, "dry_stainless"),
        ({"grade": "A2-70", "finish": None, "torque_condition": None}, "dry_stainless"),
        ({"prevailing_newton_metres": 400.0}, "prevailing_too_high"),
    ],
    ids=lambda value: str(value),
)
def test_what_is_unknown_or_weak_gets_no_guidance(change, code):
    assert codes(SIDE, KNOWN | change) == [code]


def test_all_reasons_are_given_at_once():
    assert codes({"place": "front_brake"}, {"into": "plastic", "finish": "chrome"}) == [
        "place", "unknown_thread", "not_confirmed", "unknown_head", "unknown_grade", "chrome", "weak_material",
    ]  # fmt: skip


@pytest.mark.parametrize("name", ["place", "thread", "grade", "into", "finish", "head", "torque_condition"])
def test_two_answers_are_no_answer(name):
    assert codes(SIDE, KNOWN, [name]) == ["disputed"]
    assert codes(SIDE, KNOWN, ["note"]) == []


# Anything that a group may hold, most of it known, so that guidance comes about often.
groups = st.fixed_dictionaries(
    {
        "thread": st.sampled_from(["M4", "M5", "M6", "M8", "M8x1", "M10", "M12", "M16", "M20", "1/4-20", "5/16 UNF"]),
        "thread_confirmed": st.just(True),
        "head": st.sampled_from([None, *choices("head")]),
        "grade": st.sampled_from([None, "4.6", "5.8", "8.8", "9.8", "10.9", "12.9", "A2-70", "A4-80", "SAE 5"]),
        "finish": st.sampled_from([None, *choices("finish")]),
        "into": st.sampled_from([None, *choices("into")]),
        "torque_condition": st.sampled_from([None, "dry", "oiled", "locking_compound"]),
        "engagement_millimetres": st.one_of(st.none(), st.floats(0.1, 200)),
        "prevailing_newton_metres": st.one_of(st.none(), st.floats(0.01, 500)),
    }
)
places = st.sampled_from([None, *PLACES_ON_MACHINE])


@given(place=places, group=groups)
def test_a_figure_or_reasons_and_never_above_the_yield(place, group):
    if codes({"place": place}, group):
        return
    bolt = guidance.bolt_of(group)
    found = guidance.band(bolt)
    assert 0.0 < found["low"] <= found["high"]
    assert 0.0 <= found["preload_low"] <= found["preload_high"]
    slippery = bolt.friction.low
    yields = yield_preload(bolt.thread, bolt.grade.yield_stress, slippery, bolt.prevailing)
    assert found["high"] <= torque_for(yields, bolt.thread, bolt.bearing, slippery, bolt.prevailing) + 1e-6
    assert found["preload_high"] <= min(each["preload"] for each in found["limits"]) + 1e-6


@given(group=groups, longer=st.floats(0, 50))
def test_more_thread_in_the_hole_never_makes_the_top_lower(group, longer):
    group = group | {"engagement_millimetres": group["engagement_millimetres"] or 10.0}
    deeper = group | {"engagement_millimetres": group["engagement_millimetres"] + longer}
    if not codes(SIDE, group) and not codes(SIDE, deeper):
        assert guidance.band(guidance.bolt_of(group))["high"] <= guidance.band(guidance.bolt_of(deeper))["high"]


@given(group=groups)
def test_not_saying_the_condition_never_raises_the_top(group):
    said, unsaid = group | {"torque_condition": "dry"}, group | {"torque_condition": None}
    if not codes(SIDE, said) and not codes(SIDE, unsaid):
        assert guidance.band(guidance.bolt_of(unsaid))["high"] <= guidance.band(guidance.bolt_of(said))["high"]


def test_a_preload_has_two_significant_digits_however_large():
    """GUM 7.2.6: the scatter of the method is tens of percent, so 123.4 kN would promise too much."""
    shown = [guidance.shown_preload(newtons)["value"] for newtons in (0.0, 456.7, 9_960.0, 12_345.0, 123_400.0)]
    assert shown == ["0", "0.46", "10", "12", "120"]
