"""What a fastener weighs by its geometry, against published tables of masses, and laws that hold for all."""

import math

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from cotterbook.core.fastener_mass import STAINLESS, STEEL, fastener_amount, from_geometry, shank_volumes, steel_grams
from cotterbook.core.threads import THREADS, coarse, read_thread
from cotterbook.core.words import Refused

# DIN 912 (ISO 4762) at 7.85 kg/dm3, kg for 1000 by size and length, as a dealer's table has them (seen).
CAP = {
    "M4": {8: 1.7, 10: 1.8, 12: 2, 16: 2.3, 20: 2.7, 25: 3.2, 30: 3.7, 40: 4.7},
    "M5": {10: 2.7, 16: 3.5, 20: 4, 25: 4.8, 30: 5.6, 40: 7.1, 50: 8.6},
    "M6": {10: 4.7, 16: 5.8, 20: 6.5, 25: 7.6, 30: 8.3, 40: 11, 50: 13.2, 60: 15.4},
    "M8": {12: 10.9, 16: 12.1, 20: 13.4, 25: 15, 30: 16.9, 40: 20.9, 50: 24.9, 60: 28.9, 80: 37},
    "M10": {16: 20.9, 20: 22.9, 25: 25.4, 30: 27.9, 40: 32.9, 50: 39.3, 60: 45.7, 80: 58.5},
    "M12": {20: 32.1, 30: 39.3, 40: 46.5, 50: 54.5, 60: 63.4, 80: 80.2},
    "M14": {25: 48, 40: 63, 60: 84},
    "M16": {25: 71.3, 40: 91, 60: 122},
}
# DIN 976 threaded studs, kg for 1000 by length (seen).
ROD = {"M10": {25: 12.6, 50: 25.1, 100: 50.2}, "M12": {25: 18.2, 50: 36.4, 100: 72.8}}
# DIN 934 nuts, kg for 1000, from memory.
NUTS = {
    "M3": 0.384, "M4": 0.81, "M5": 1.23, "M6": 2.5, "M8": 5.2, "M10": 11.6, "M12": 17.3, "M16": 33.3, "M20": 64.4,
}  # fmt: skip
HEADS = ("hex", "flange_hex", "socket_cap", "button", "countersunk", "hexalobular", "cross", "slot", "stud")


def test_cap_screws_weigh_what_a_published_table_says():
    """k = 2 covers about nineteen in twenty (GUM 6.2); none lies further off than twice that."""
    off = []
    for size, lengths in CAP.items():
        for length, grams in lengths.items():
            ours, standard = steel_grams(read_thread(size), "socket_cap", length)
            off.append(abs(ours - grams) / (2 * standard))
    assert max(off) < 2
    assert sum(each <= 1 for each in off) >= 0.9 * len(off)


def test_a_threaded_rod_weighs_what_a_published_table_says():
    for size, lengths in ROD.items():
        for length, grams in lengths.items():
            assert shank_volumes("hex", read_thread(size), length)[1] * STEEL == pytest.approx(grams, rel=0.005)


@pytest.mark.parametrize("size", NUTS)
def test_nuts_weigh_what_a_table_says(size):
    ours, standard = steel_grams(read_thread(size), "nut", 0)
    assert abs(ours - NUTS[size]) <= 2 * standard


def test_a_hexagon_bolt_by_hand():
    """M8 x 30 of ISO 4017: shank pi/4 x 7.188^2 x 30 = 1217.4 mm3, head sqrt(3)/2 x 13^2 x 5.3 x 0.99 = 768.0 mm3,
    1985.4 mm3 of 7.85 g/cm3 in all: 15.58 g. With the plain shank of ISO 4014, 8 mm, 15.88 g of nominal steel.
    """
    ours, standard = steel_grams(read_thread("M8"), "hex", 30)
    assert abs(ours - 15.58) <= 2 * standard and 15.5 < ours < 16


def test_units_and_density():
    """ISO 3506: austenitic steel has about 7.9 to 8.0 g/cm3; SI: 1 g/cm3 is 1e-3 g/mm3."""
    assert (STEEL, STAINLESS) == (7.85e-3, pytest.approx(7.95e-3, abs=0.06e-3))
    values = {"thread": "M8", "head": "hex", "length_millimetres": 30}
    plain = from_geometry(values)[0]
    for stainless in ({"finish": "stainless"}, {"grade": "A2-70"}):
        assert from_geometry(values | stainless)[0] == pytest.approx(plain * STAINLESS / STEEL)
    assert from_geometry(values | {"grade": "8.8", "finish": "zinc"})[0] == plain


heads, threads = st.sampled_from(HEADS), st.sampled_from(THREADS)


@given(heads, threads, st.floats(0.5, 399), st.floats(1, 400))
@example("hex", coarse(8), 125.0, 1.0)
def test_mass_grows_with_length(head, thread, length, more):
    """By a millimetre and more: beyond 125 mm the thread is longer (ISO 888), which takes a part of one back."""
    assume(length + more <= 400)
    short, long = (steel_grams(thread, head, each) for each in (length, length + more))
    assume(short is not None)
    assert long is not None and all(math.isfinite(each) and each > 0 for each in (*short, *long))
    assert long[0] > short[0]
    # What is longer is at most a plain shank, and where one begins, what was thread before is plain too.
    full = math.pi / 4 * thread.diameter**2 * STEEL
    assert long[0] - short[0] <= full * (more + 5 * thread.pitch) * 1.0001


@given(threads, st.floats(1, 400))
def test_a_thicker_bolt_weighs_more(thread, length):
    for head in HEADS:
        thin = steel_grams(coarse(6), head, length)
        thick = steel_grams(coarse(8), head, length)
        assert thin is None or thick is None or thin[0] < thick[0]
        # A bolt weighs less than a rod of its head's size: no head here is wider than 2.7 diameters or higher than 1.4.
        ours = steel_grams(thread, head, length)
        if ours is not None:
            assert ours[0] < math.pi / 4 * (2.7 * thread.diameter) ** 2 * (length + 1.4 * thread.diameter) * STEEL


@pytest.mark.parametrize("length", [-1.0, 400.1, 1e300, float("nan"), float("inf"), None, "20", True])
def test_a_length_that_cannot_be_is_refused(length):
    with pytest.raises(Refused):
        steel_grams(coarse(8), "hex", length)


@given(st.dictionaries(
    st.sampled_from(["thread", "head", "length_millimetres", "grade", "finish"]),
    st.one_of(st.none(), st.text(max_size=10), st.sampled_from(["M8", "hex", "nut", "clip", "8.8", "stainless"])),
))  # fmt: skip
def test_values_that_say_too_little_have_no_mass(values):
    values["length_millimetres"] = 1000.0 if values.get("length_millimetres") else None
    worked = from_geometry(values)
    assert worked is None or values["head"] == "nut"


def test_a_weighed_one_wins_and_is_as_good_as_its_last_digit():
    """GUM 4.3.7: half a digit and 2 % of it (common practice) as rectangles: sqrt(0.05^2 + 0.308^2)/sqrt 3."""
    amount = fastener_amount("g", {"thread": "M8", "head": "hex", "length_millimetres": 30, "grams_each": 15.4})
    assert amount.grams == 15.4
    assert amount.standard == pytest.approx(math.sqrt(0.05**2 + 0.308**2) / math.sqrt(3))
    assert fastener_amount("g", {"head": "clip"}) is None
