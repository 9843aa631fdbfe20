"""Tightening torque and preload of a bolt by VDI 2230: the long form, with friction in the thread and under the head.

Diameters and pitch in mm, preload in N, torque in N.m, stress in MPa, friction as a
plain number. The constants are those that VDI 2230 rounds to: 0.16 for 1/(2 pi), 1.155
for 1/cos 30 and 0.58 for half of it, so a thread must have flanks of 60 degrees.
"""

import math
from typing import Any

from .words import Refused, problem, require

# The part of the 0.2 % yield that tension and torsion together may reach (VDI 2230, its tables A1 and A2).
UTILISATION = 0.9
FRICTION = (0.02, 0.6)
STRESS = (50, 2_000)
PRELOAD = (0, 2e6)
TORQUE = (0, 2_000)


def check_thread(thread: Any) -> Any:
    """The thread, if the formulas hold for it; Refused says why not."""
    if thread is None:
        raise Refused([problem("unknown_thread", "thread", "This thread is not known here.")])
    if thread.flank_degrees != 60.0:
        raise Refused([problem("not_60_degrees", "thread", "This thread’s flanks do not stand at 60°.")])
    return thread


def torque_factor(thread: Any, bearing: Any, friction: float) -> float:
    """Torque in N.mm that a preload of 1 N takes; `bearing` is the (outer, hole) of the ring under the head."""
    check_thread(thread)
    require("friction", friction, FRICTION[0], FRICTION[1])
    outer, hole = require("bearing", bearing[0], 1, 200), require("bearing", bearing[1], 1, bearing[0])
    return float(0.16 * thread.pitch + 0.58 * thread.pitch_diameter * friction + (outer + hole) / 4.0 * friction)


def torque_for(preload: float, thread: Any, bearing: Any, friction: float, prevailing: float = 0.0) -> float:
    """Torque in N.m for a preload of 0 to 2,000,000 N, the prevailing torque of a locking thread included."""
    require("preload", preload, PRELOAD[0], PRELOAD[1])
    require("prevailing", prevailing, TORQUE[0], TORQUE[1])
    return preload * torque_factor(thread, bearing, friction) / 1000.0 + prevailing


def preload_of(torque: float, thread: Any, bearing: Any, friction: float, prevailing: float = 0.0) -> float:
    """Preload in N that a torque of 0 to 2,000 N.m gives: none while it is not above the prevailing torque."""
    require("torque", torque, TORQUE[0], TORQUE[1])
    require("prevailing", prevailing, TORQUE[0], TORQUE[1])
    return max(0.0, torque - prevailing) * 1000.0 / torque_factor(thread, bearing, friction)


def yield_preload(
    thread: Any, yield_stress: float, friction: float, prevailing: float = 0.0, utilisation: float = UTILISATION
) -> float:
    """Preload in N at which tension and torsion in the thread reach `utilisation` of the 0.2 % yield.

    The torsion is what the thread takes of the torque while it is tightened, the
    prevailing torque with it, the section fully plastic in torsion as VDI 2230 has it:
    (F/A0)^2 + 3 t^2 = (utilisation x yield)^2. Refused when the prevailing torque alone is too much.
    """
    check_thread(thread)
    stress = require("yield_stress", yield_stress, STRESS[0], STRESS[1])
    require("friction", friction, FRICTION[0], FRICTION[1])
    require("prevailing", prevailing, TORQUE[0], TORQUE[1])
    stress *= require("utilisation", utilisation, 0.1, 1)
    across = (thread.pitch_diameter + thread.minor_diameter) / 2.0
    area = math.pi / 4.0 * across * across
    # Torsion: a share of the tension, and what the prevailing torque adds.
    share = 1.5 * thread.pitch_diameter / across * (thread.pitch / (math.pi * thread.pitch_diameter) + 1.155 * friction)
    added = 12.0 * prevailing * 1000.0 / (math.pi * across**3)
    if 3.0 * added * added >= stress * stress:
        text = "The prevailing torque alone is more than this bolt bears."
        raise Refused([problem("prevailing_too_high", "prevailing", text)])
    # Tension s of s^2 + 3 (share s + added)^2 = stress^2.
    first, second = 1.0 + 3.0 * share * share, 3.0 * share * added
    rest = stress * stress - 3.0 * added * added
    return float(area * (math.sqrt(second * second + first * rest) - second) / first)
