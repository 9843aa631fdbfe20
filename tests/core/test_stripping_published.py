"""What a thread bears before it strips, against published tables and a worked example."""

import pytest

from cotterbook.core.grades import read_grade
from cotterbook.core.stripping import (
    SHEAR_STRENGTH,
    USED,
    Tolerances,
    bolt_shear_area,
    carrying,
    internal_shear_area,
    stripping_load,
)
from cotterbook.core.threads import read_thread
from cotterbook.core.words import Refused

# Introduction to the Design and Behavior of Bolted Joints, 4th edition, as a table on the web has it (seen): areas in
# mm2 that shear over one diameter of engagement, of a 6g bolt's thread and of the 6H thread it is screwed into.
AREAS = {
    "M5": (35.366, 49.994), "M6": (51.875, 73.145), "M8": (97.290, 134.63), "M10": (155.80, 214.77),
    "M12": (227.72, 313.41), "M14": (313.94, 434.47), "M16": (417.55, 569.12), "M20": (665.58, 907.76),
}  # fmt: skip
# Limits of ISO 965-1 in mm, from memory: bolt 6g least major and pitch diameter, nut 6H greatest pitch and minor one.
LIMITS = {"M6": (5.794, 5.212, 5.5, 5.153), "M8": (7.76, 7.042, 7.348, 6.912), "M10": (9.732, 8.862, 9.206, 8.676)}


@pytest.mark.parametrize("size", AREAS)
def test_shear_areas_over_one_diameter(size):
    thread = read_thread(size)
    sizes = Tolerances(thread)
    bolt = bolt_shear_area(thread.diameter, thread.pitch, sizes.nut_minor_most, sizes.pitch_least)
    inside = internal_shear_area(thread.diameter, thread.pitch, sizes.major_least, sizes.nut_pitch_most)
    # The standard rounds its tolerances, so compare within 1.5 %.
    assert (bolt, inside) == (pytest.approx(AREAS[size][0], rel=0.015), pytest.approx(AREAS[size][1], rel=0.015))


@pytest.mark.parametrize("size", LIMITS)
def test_limits_of_size(size):
    sizes = Tolerances(read_thread(size))
    ours = (sizes.major_least, sizes.pitch_least, sizes.nut_pitch_most, sizes.nut_minor_most)
    assert ours == pytest.approx(LIMITS[size], abs=0.008)


def test_a_worked_example_in_aluminium():
    """A handbook of fasteners, chapter on thread strength, seen: an M10 bolt of 10.9 (1200 MPa on 58 mm2) in 310
    aluminium of 130 MPa shear strength, bolt's major diameter 9.968, pitch diameter of the hole at most 9.206: 21.6 mm
    """
    a_millimetre = internal_shear_area(1.0, 1.5, 9.968, 9.206)
    assert 1200 * 58 / (130 * a_millimetre) == pytest.approx(21.6, abs=0.05)


def test_one_diameter_in_aluminium_strips_and_two_hold():
    """Common practice, no source: about 1.5 to 2 diameters in aluminium for a bolt of 8.8, one of a steel hole."""
    for size in ("M6", "M8", "M10", "M12"):
        thread, grade = read_thread(size), read_grade("8.8")
        proof = grade.proof * thread.stress_area
        loads = [stripping_load(thread, part * thread.diameter, "cast_aluminium", grade.tensile)[0] for part in (1, 2)]
        assert loads[0] < proof < 1.06 * loads[1]
        assert stripping_load(thread, 1.3 * thread.diameter, "steel", grade.tensile)[0] > proof


def test_the_weaker_thread_is_named():
    thread = read_thread("M8")
    assert stripping_load(thread, 12.0, "cast_aluminium", 800.0)[1] == "internal_thread"
    # 4.6 in steel: 0.6 of 400 MPa on a smaller area than 200 MPa in the hole.
    assert stripping_load(thread, 12.0, "steel", 400.0)[1] == "bolt_thread"


def test_the_load_by_hand():
    """Worked: M8, 12 mm less 0.8 of a pitch, area as above a millimetre of engagement, cast aluminium, 0.8 of it."""
    thread = read_thread("M8")
    sizes = Tolerances(thread)
    area = internal_shear_area(12.0 - 0.8 * 1.25, 1.25, sizes.major_least, sizes.nut_pitch_most)
    load = stripping_load(thread, 12.0, "cast_aluminium", 800.0)[0]
    assert load == pytest.approx(USED * area * SHEAR_STRENGTH["cast_aluminium"])
    assert load == pytest.approx(0.8 * 110 * 134.63 / 8 * 11, rel=0.01)


def test_more_than_two_diameters_carry_no_more():
    thread = read_thread("M6")
    assert carrying(12.8, thread) == carrying(40.0, thread) == 12.0


# Shear strength of what a hole may be tapped in, MPa, all from memory: S235 as 1 / sqrt 3 (von Mises) of the least
# tensile strength of 360 in EN 10025-2; die-cast A380 and AZ91D as makers of castings print them; 6063-T6 as the
# weakest of its kind in hardened bars; free-cutting brass C36000, soft.
SHEARS = {
    "steel": 208.0, "loose_nut": 208.0, "cast_aluminium": 190.0, "wrought_aluminium": 152.0, "magnesium": 140.0,
    "brass_insert": 205.0,
}  # fmt: skip


@pytest.mark.parametrize("into", SHEARS)
def test_no_material_is_taken_for_stronger_than_the_weakest_of_its_kind_nor_for_half_as_strong(into):
    assert SHEAR_STRENGTH.keys() == SHEARS.keys()
    assert 0.5 * SHEARS[into] < SHEAR_STRENGTH[into] <= SHEARS[into]
    # The load goes with it where the hole strips first.
    thread, bolt = read_thread("M8"), 1_200.0
    load, which = stripping_load(thread, 12.0, into, bolt)
    assert which == "internal_thread"
    assert load < USED * SHEARS[into] * internal_shear_area(12.0, thread.pitch, thread.diameter, thread.pitch_diameter)


@pytest.mark.parametrize("engaged", [0.0, 3.9, 161.0, -1.0, float("nan"), float("inf"), None, True])
def test_an_engagement_that_cannot_be_is_refused(engaged):
    with pytest.raises(Refused):
        stripping_load(read_thread("M8"), engaged, "steel", 800.0)


@pytest.mark.parametrize("into", ["plastic", "captive_nut", "other", None, ""])
def test_what_has_no_known_strength_is_refused(into):
    with pytest.raises(Refused):
        stripping_load(read_thread("M8"), 12.0, into, 800.0)
