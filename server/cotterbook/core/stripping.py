"""What a thread bears before it strips, by the shear areas of FED-STD-H28/2 (VDI 2230 5.5.5 has the same).

The internal thread shears along the bolt's major diameter, the bolt's own along the
nut's minor diameter, each with the tolerances of ISO 965-1 (6g, 6H) at their worst.
Lengths in mm, areas in mm2, strengths in MPa, loads in N.
"""

import math
from typing import Any

from .amounts import ROOT_3
from .bolt import check_thread
from .words import Refused, problem, require

# Shear strength at least to be expected of what a bolt screws into: VDI 2230 table A9 and data sheets, from
# memory, at the low end. An alloy that is known to be better does not raise it.
SHEAR_STRENGTH = {
    "steel": 200.0,  # S235
    "loose_nut": 200.0,
    "cast_aluminium": 110.0,  # AlSi9Cu3
    "wrought_aluminium": 150.0,  # 6000 series, hardened
    "magnesium": 100.0,  # AZ91, cast
    "brass_insert": 150.0,  # CuZn39Pb3
}
# Of a bolt's own thread, as a part of its tensile strength (VDI 2230 table 7 has 0.60 to 0.65, from memory).
BOLT_SHEAR = 0.6
# Part of the stripping load that is used: the thread bends open under load (VDI 2230 has 0.897 for it, from memory)
# and has been used before (common practice, no source).
USED = 0.8
# The last turns hardly carry: what is engaged counts less 0.8 of a pitch (VDI 2230 5.5.5), and up to 2 diameters
# (common practice, no source).
LOST_PITCHES, MOST_DIAMETERS = 0.8, 2.0
# Less than half a diameter of thread is a joint for nobody's reckoning: common practice, no source.
LEAST_DIAMETERS = 0.5
# ISO 4032 nuts are 0.8 to 0.9 diameters high.
NUT_HEIGHT = 0.8


class Tolerances:
    """Limits of size of a metric thread in mm: `major_least` and `pitch_least` of the bolt (6g), `nut_pitch_most` and
    `nut_minor_most` of what it screws into (6H), by the formulas of ISO 965-1 (from memory). Unified threads 2A
    and 2B lie near them."""

    __slots__ = ("major_least", "pitch_least", "nut_pitch_most", "nut_minor_most")

    def __init__(self, thread: Any):
        pitch, diameter = thread.pitch, thread.diameter
        gap = (15.0 + 11.0 * pitch) / 1000.0
        on_major = (180.0 * pitch ** (2.0 / 3.0) - 3.15 / math.sqrt(pitch)) / 1000.0
        on_pitch = 90.0 * pitch**0.4 * diameter**0.1 / 1000.0
        on_minor = (230.0 * pitch**0.7 if pitch >= 1.0 else 433.0 * pitch - 190.0 * pitch**1.22) / 1000.0
        self.major_least: float = diameter - gap - on_major
        self.pitch_least: float = thread.pitch_diameter - gap - on_pitch
        self.nut_pitch_most: float = thread.pitch_diameter + 1.32 * on_pitch
        self.nut_minor_most: float = thread.nut_minor_diameter + on_minor


def internal_shear_area(engaged: float, pitch: float, major: float, nut_pitch: float) -> float:
    """Area that shears when the internal thread strips: of the bolt's major and the internal pitch diameter."""
    return math.pi * major * engaged / pitch * (pitch / 2.0 + (major - nut_pitch) / ROOT_3)


def bolt_shear_area(engaged: float, pitch: float, nut_minor: float, bolt_pitch: float) -> float:
    """Area that shears when the bolt's own thread strips: of the nut's minor and the bolt's pitch diameter."""
    return math.pi * nut_minor * engaged / pitch * (pitch / 2.0 + (bolt_pitch - nut_minor) / ROOT_3)


def carrying(engaged: float, thread: Any) -> float:
    """How much of an engagement, 0.5 to 20 diameters, carries; Refused when it is too short or not to be believed."""
    require("engagement", engaged, 0, 20.0 * thread.diameter)
    if engaged < LEAST_DIAMETERS * thread.diameter:
        text = "Less than half the thread’s diameter is screwed in."
        raise Refused([problem("engagement_too_short", "engagement", text)])
    return float(min(engaged - LOST_PITCHES * thread.pitch, MOST_DIAMETERS * thread.diameter))


def stripping_load(thread: Any, engaged: float, into: str, tensile: float) -> tuple[float, str]:
    """(load in N that may be used, "internal_thread" or "bolt_thread": which of the two strips first).

    `into` is a key of SHEAR_STRENGTH, `tensile` the bolt's strength in MPa, 100 to 2,000.
    """
    check_thread(thread)
    if into not in SHEAR_STRENGTH:
        raise Refused([problem("unknown_material", "into", "What it screws into is not known well enough.")])
    require("tensile", tensile, 100, 2_000)
    length, sizes = carrying(engaged, thread), Tolerances(thread)
    inside = internal_shear_area(length, thread.pitch, sizes.major_least, sizes.nut_pitch_most) * SHEAR_STRENGTH[into]
    outside = bolt_shear_area(length, thread.pitch, sizes.nut_minor_most, sizes.pitch_least) * BOLT_SHEAR * tensile
    return (USED * min(inside, outside), "internal_thread" if inside <= outside else "bolt_thread")
