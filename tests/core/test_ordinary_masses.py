"""The table of what ordinary parts weigh: whole, sane, and found by the names that people type."""

import pytest

from cotterbook.core.limits import PLACES_ON_MACHINE
from cotterbook.core.ordinary_masses import BY_PLACE, ORDINARY_MASSES, names_like, ordinary_mass
from cotterbook.core.ordinary_parts import ORDINARY_PARTS


def test_every_ordinary_part_and_place_has_its_range():
    assert set(ORDINARY_MASSES) == {name for name, _, _, _ in ORDINARY_PARTS}
    assert set(BY_PLACE) == set(PLACES_ON_MACHINE)


def test_ranges_are_ranges_and_what_sits_at_a_place_may_weigh_what_it_does():
    for low, high in [*ORDINARY_MASSES.values(), *BY_PLACE.values()]:
        assert 0 < low < high <= 130_000
    for name, place, _, _ in ORDINARY_PARTS:
        assert BY_PLACE[place][0] <= ORDINARY_MASSES[name][0]
        assert ORDINARY_MASSES[name][1] <= BY_PLACE[place][1]


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("Seat", ["Seat"]),
        ("seats", ["Seat"]),
        ("Dual seat, black", ["Seat"]),
        ("Front brake caliper", ["Brake caliper, front"]),
        ("brake calipers front left", ["Brake caliper, front"]),
        ("caliper", ["Brake caliper, front", "Brake caliper, rear"]),
        ("Mirror left", ["Mirrors"]),
        ("rear wheel", ["Rear wheel"]),
        ("wheel", ["Front wheel", "Rear wheel"]),
        ("Indicator", ["Indicators, front", "Indicators, rear"]),
        ("LH side panel", ["Side panels"]),
        ("Seat bracket", []),
        ("Seat bolt", []),
        ("Headlamp bracket", ["Headlamp bracket"]),
        ("Front", []),
        ("", []),
        (None, []),
        ("Sitzbank", []),
        ("Glass", []),
    ],
)
def test_names_are_found_as_people_type_them(typed, meant):
    assert names_like(typed) == meant


def test_without_a_known_name_the_place_answers_and_without_both_nothing_does():
    assert ordinary_mass("Sitzbank", "seat") == {"low": 2, "high": 15_000, "like": [], "place": "seat"}
    assert ordinary_mass("wheel", None) == {
        "low": 4000,
        "high": 28_000,
        "like": ["Front wheel", "Rear wheel"],
        "place": None,
    }
    assert ordinary_mass("Sitzbank", None) is None
    assert ordinary_mass("Sitzbank", "moon") is None
