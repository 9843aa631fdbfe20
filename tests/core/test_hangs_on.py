"""What hangs on a part: one rule for the caution, for guidance and for the way back, by place and by name."""

import pytest
from test_tightening import PART, STRIP, Bench

from cotterbook.core.hangs_on import LIFE_NAMES, LIFE_PAIRS, LIFE_PLACES, life_hangs_on, life_word, load_hangs_on
from cotterbook.core.limits import PLACES_ON_MACHINE
from cotterbook.core.ordinary_parts import ORDINARY_PARTS
from cotterbook.core.refusals import BY_PLACE
from cotterbook.core.torque_cautions import cautions_of
from cotterbook.core.views_torque import guidance_or_reasons
from cotterbook.core.words import spoken

KNOWN = {
    "thread": "M8", "thread_confirmed": True, "head": "hex", "key": "13 mm", "grade": "8.8", "finish": "zinc",
    "into": "steel", "engagement_millimetres": 16.0, "torque_condition": "oiled",
}  # fmt: skip
LIFE, LOAD = "A life hangs on these", "A passenger or a load hangs on"


def cautions(part, group=None):
    return [spoken(each) for each in cautions_of(part, group or {}, None)]


def refused_by_name(part, group=None):
    return "name" in [each["code"] for each in guidance_or_reasons(part, KNOWN | (group or {}))[1]]


@pytest.mark.parametrize(
    ("part", "group"),
    [
        ({"name": "Rear caliper", "place": "side"}, {}),
        ({"name": "Bracket", "place": "electrics"}, {"sits": "beside the brake hose"}),
        ({"name": "Footrests", "place": "tail"}, {}),
    ],
)
def test_a_part_filed_in_a_wrong_place_gets_caution_and_refusal_by_its_name(part, group):
    assert any(LIFE in each for each in cautions(part, group)) and refused_by_name(part, group)


@pytest.mark.parametrize("word", LIFE_NAMES + tuple(" ".join(pair) for pair in LIFE_PAIRS))
@pytest.mark.parametrize("place", ["side", "tail", "luggage", "seat", "cooling"])
def test_no_name_gets_the_one_without_the_other(word, place):
    part = {"name": f"Old {word}s", "place": place}
    assert life_hangs_on(part, {}) == refused_by_name(part) == any(LIFE in each for each in cautions(part))


@pytest.mark.parametrize(
    ("name", "hangs"),
    [
        # As they are called in America; the names and what they are: common practice, no source.
        ("Triple clamp, lower", "triple clamp"), ("Kickstand", "kickstand"), ("Carbs", "carb"),
        ("Gas tank", "gas tank"),
        ("Carburetor", "carburetor"), ("Brake rotor", "brake"), ("Rotors", "rotor"), ("Foot pegs", "foot peg"),
        # Of a sidecar outfit.
        ("Tie rods", "tie rod"), ("Ball joint", "ball joint"), ("Sidecar strut, upper", "sidecar strut"),
        ("Leading link", "leading link"), ("Wishbone", "wishbone"),
        ("Sidecar screen", None), ("Cable tie", None), ("Rod end cover", None), ("Alternator rotor", None),
        ("Fairing clamp", None), ("Gas strut", None), ("Foot mat", None), ("Engine badge", None),
    ],
)  # fmt: skip
def test_names_as_people_write_them_and_names_that_only_look_alike(name, hangs):
    assert life_word({"name": name, "place": "other"}, {}) == hangs
    assert life_word({"name": "Plate"}, {"sits": name}) == hangs


def test_a_cover_of_a_sprocket_carries_nothing():
    part = {"name": "Front sprocket cover", "place": "side"}
    assert not life_hangs_on(part, {}) and not refused_by_name(part)


@pytest.mark.parametrize("place", PLACES_ON_MACHINE)
def test_where_a_life_hangs_on_the_place_there_is_no_guidance_either(place):
    found, why = guidance_or_reasons({"place": place}, KNOWN)
    if place in LIFE_PLACES:
        assert found is None and place in BY_PLACE and [each["code"] for each in why] == ["place"]
        assert any(LIFE in each for each in cautions({"place": place}))


@pytest.mark.parametrize(
    ("part", "hangs"),
    [
        ({"name": "Grab rail", "place": "tail"}, True),
        ({"name": "Rear carrier", "place": "luggage"}, True),
        ({"name": "Pannier frames, steel", "place": "side"}, True),
        ({"name": "Top plate", "place": "luggage"}, True),
        ({"name": "Backrest", "place": "seat"}, True),
        ({"name": "Tail lamp", "place": "tail"}, False),
        ({"name": "Side panels", "place": "side"}, False),
        # A rail in a word is none: a trailing link, a crack.
        ({"name": "Trailer socket", "place": "electrics"}, False),
    ],
)
def test_for_what_a_passenger_or_a_load_hangs_on_guidance_stays_and_defers_first(part, hangs):
    """Common practice, no source: what carries somebody is held by its maker's figure."""
    found, why = guidance_or_reasons(part, KNOWN)
    assert why == [] and load_hangs_on(part, {}) is hangs
    told = [spoken(each) for each in found["cautions"]]
    assert (LOAD in told[0]) is hangs and ("goes before this one" in told[0]) is hangs
    assert any(LOAD in each for each in cautions(part)) is hangs


def test_of_the_ordinary_parts_rails_carriers_and_panniers_carry_a_load():
    carry = {name for name, place, _, _ in ORDINARY_PARTS if load_hangs_on({"name": name, "place": place}, {})}
    assert carry == {"Carrier", "Rear carrier", "Grab rail", "Pannier frame", "Tool box"}


@pytest.mark.parametrize(
    ("part", "second"),
    [({"name": "Bracket", "place": "frame"}, True), ({"name": "Caliper", "place": "side"}, True),
     ({"name": "Panel", "place": "side"}, False)],
)  # fmt: skip
def test_the_way_back_asks_for_a_second_person_by_the_same_rule(part, second):
    bench = Bench()
    bench.put(PART, "part", part | {"off": True})
    back = bench.ask("view", strip=STRIP, view="back")["result"]
    assert [each["second_person"] for each in back["parts"]] == [second]

