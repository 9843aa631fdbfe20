"""The face under a hexagon bolt by the key that was written down: small hexagons bear less, and want less torque."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cotterbook.core.bolt import torque_for
from cotterbook.core.heads import across_flats, bearing_diameters
from cotterbook.core.threads import THREADS, read_thread
from cotterbook.core.views_torque import guidance_or_reasons
from cotterbook.core.words import spoken

# Nothing speaks against these: an M8 of 8.8, zinc plated and oiled, 16 mm in steel, on a side panel.
KNOWN = {
    "thread": "M8", "thread_confirmed": True, "head": "hex", "grade": "8.8", "finish": "zinc", "into": "steel",
    "engagement_millimetres": 16.0, "torque_condition": "oiled",
}  # fmt: skip
SIDE = {"place": "side"}


@pytest.mark.parametrize(
    ("thread", "key", "outer"),
    [
        # ISO 4014 and DIN 931, the least bearing (tables of both, seen): 16 and 17 mm across on M10.
        ("M10", "16 mm spanner", 14.63), ("M10", "17 mm", 15.6), ("M8", "13", 11.63), ("M8", None, 11.63),
        # JIS B 1180 has 12 and 14 across on M8 and M10 (from memory); nine tenths of it bear (ISO 4014: 0.89 to 0.94).
        ("M8", "12 mm socket", 10.8), ("M10", "14", 12.6), ("M12", "17 mm ring", 15.3),
        # Usual on motorcycles (from memory).
        ("M6", "8 mm", 7.2), ("M6", "10 mm", 8.88),
        # No table has it: no wider than the smaller of the two.
        ("M8", "11 mm", 9.9), ("M8", "19 mm", 11.63),
        # What says nothing of a hexagon outside: a bit, a cross, a number.
        ("M8", "6 mm Allen key", 11.63), ("M8", "PH3", 11.63), ("M8", "what lay there", 11.63),
        # 1/2 inch is 12.7 mm.
        ("M8", "1/2 AF", 11.43),
    ],
)  # fmt: skip
def test_a_hexagon_bears_as_far_as_the_one_that_its_key_fits(thread, key, outer):
    assert bearing_diameters("hex", read_thread(thread), key)[0] == pytest.approx(outer)


@pytest.mark.parametrize("head", ["socket_cap", "button", "flange_hex", "nut", "cross"])
def test_of_other_heads_the_key_changes_nothing(head):
    thread = read_thread("M8")
    assert bearing_diameters(head, thread, "12 mm") == bearing_diameters(head, thread)


def test_a_small_hexagon_gets_less_by_hand():
    """By hand, VDI 2230: 16.0 kN on M8 at friction 0.10 in a hole of 9 mm take 16.0 x (0.16 x 1.25 + 0.58 x 7.188
    x 0.10 + (dw + 9)/4 x 0.10) N.m: dw 11.63 gives 18.12 N.m, dw 10.8 gives 17.79 N.m."""
    thread = read_thread("M8")
    for key, expected in (("13 mm", 18.12), ("12 mm", 17.79)):
        torque = torque_for(16_000, thread, bearing_diameters("hex", thread, key), 0.10)
        assert torque == pytest.approx(expected, abs=0.01)


def test_guidance_and_its_words_go_by_the_key():
    full, small, unsaid = [guidance_or_reasons(SIDE, KNOWN | {"key": key})[0] for key in ("13 mm", "12 mm", None)]
    assert small["exact"]["limit"] < full["exact"]["limit"] == unsaid["exact"]["limit"]
    assert any("from 9 to 10.8 mm across" in spoken(each) for each in small["sources"])
    assert not any("key is not said" in spoken(each) for each in full["assumed"] + small["assumed"])
    assert any("key is not said" in spoken(each) for each in unsaid["assumed"])


def test_a_hexagon_no_wider_than_its_hole_gets_no_figure():
    """7 mm across bear on 6.3 mm, less than the hole of 6.6 mm for M6 (ISO 273)."""
    found, why = guidance_or_reasons(SIDE, KNOWN | {"thread": "M6", "key": "7 mm"})
    assert found is None and [each["code"] for each in why] == ["no_bearing_face"]


def test_two_answers_for_the_key_matter_of_a_hexagon_alone():
    assert [each["field"] for each in guidance_or_reasons(SIDE, KNOWN, ("key",))[1]] == ["key"]
    assert guidance_or_reasons(SIDE, KNOWN | {"head": "socket_cap"}, ("key",))[1] == []


written_keys = st.floats(0.1, 60.0).map(lambda size: f"{size:.1f} mm") | st.text(max_size=45)


@given(thread=st.sampled_from(THREADS), key=written_keys)
def test_whatever_stands_in_the_key_a_face_lies_around_its_hole_and_is_no_wider_than_the_widest_table(thread, key):
    found = bearing_diameters("hex", thread, key)
    if found is None:
        return
    assert found[1] < found[0] <= max(flats for flats, _ in across_flats("hex", thread))
