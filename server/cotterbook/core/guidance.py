"""Guidance: a torque worked out where no manual's is at hand, as a band, and never called a specification.

What a bolt and its hole bear sets the top: tension and torsion at 0.9 of the yield, or
the stripping of a thread, whichever comes first, at the lowest friction there may be,
so that a slippery bolt is not overdone. The bottom is 0.75 / 0.9 of the top (0.75 and 0.9
are the parts of a bolt's strength for joints that are taken apart and for those that are
not: Shigley eq. 8-31, from memory).
"""

import math
from typing import Any

from .bolt import UTILISATION, preload_of, torque_for, yield_preload
from .figures import plain_number
from .friction import Friction, friction_of
from .grades import Grade, read_grade
from .hangs_on import load_hangs_on
from .heads import bearing_diameters, flats_of_key
from .refusals import finish_of
from .stripping import NUT_HEIGHT, stripping_load
from .threads import is_left_hand, read_thread
from .words import Refused, problem, say

LOWEST_PART = 0.75 / UTILISATION
# Button heads give way before their thread does: 0.8 of its load (ISO 7380-1, from memory).
WEAK_HEADS = {"button": 0.8}
# A torque below the first figure goes in steps of the second: as a wrench can be set.
STEPS = ((1.0, 0.05), (5.0, 0.1), (20.0, 0.5), (100.0, 1.0), (5000.0, 5.0), (float("inf"), 50.0))


class Bolt:
    """One fastener of a group and what it sits in, all of it known."""

    __slots__ = ("thread", "grade", "head", "bearing", "into", "engaged", "assumed_nut", "friction", "prevailing")

    def __init__(
        self,
        thread: Any,
        grade: Grade,
        head: str,
        key: Any,
        into: str,
        engaged: Any,
        friction: Friction,
        prevailing: float,
    ):
        self.thread, self.grade, self.head, self.into = thread, grade.of(thread.diameter), head, into
        self.bearing = bearing_diameters(head, thread, key)
        self.assumed_nut = engaged is None
        self.engaged: float = NUT_HEIGHT * thread.diameter if engaged is None else engaged
        self.friction, self.prevailing = friction, prevailing


def bolt_of(group: dict[str, Any]) -> Bolt:
    """The bolt that a group's values tell of, once `refusals.reasons` has nothing against it."""
    return Bolt(
        read_thread(group["thread"]),
        read_grade(group["grade"]),
        group["head"],
        group.get("key"),
        group["into"],
        group.get("engagement_millimetres"),
        friction_of(finish_of(group), group.get("torque_condition"), group["into"]),
        group.get("prevailing_newton_metres") or 0.0,
    )


def limits(bolt: Bolt, friction: float) -> list[dict[str, Any]]:
    """What limits the bolt at one friction, the weakest first: {"what", "preload" N, "torque" N.m}."""
    weak = WEAK_HEADS.get(bolt.head, 1.0)
    yields = weak * yield_preload(bolt.thread, bolt.grade.yield_stress, friction, bolt.prevailing)
    strips, which = stripping_load(bolt.thread, bolt.engaged, bolt.into, bolt.grade.tensile)
    found = [_limit("head" if weak < 1.0 else "bolt", yields, bolt, friction), _limit(which, strips, bolt, friction)]
    return found if yields <= strips else [found[1], found[0]]


def _limit(what: str, preload: float, bolt: Bolt, friction: float) -> dict[str, Any]:
    torque = torque_for(preload, bolt.thread, bolt.bearing, friction, bolt.prevailing)
    return {"what": what, "preload": preload, "torque": torque}


def band(bolt: Bolt) -> dict[str, Any]:
    """Plain figures: torque "low" and "high" in N.m as a wrench can be set, "preload_low" and "preload_high" in N,
    "limits" as of `limits` at the lowest friction. Refused when the prevailing torque leaves no room."""
    found = limits(bolt, bolt.friction.low)
    most = found[0]["torque"] - bolt.prevailing
    step = step_of(most)
    high = floor_to(most + bolt.prevailing, step)
    low = floor_to(LOWEST_PART * most + bolt.prevailing, step)
    if low - bolt.prevailing <= 0.0:
        text = "Beside the prevailing torque too little is left to tighten by."
        raise Refused([problem("prevailing_too_high", "prevailing_newton_metres", text)])
    spread = preload_band(low, bolt)[0], preload_band(high, bolt)[1]
    return {"low": low, "high": high, "preload_low": spread[0], "preload_high": spread[1], "limits": found}


def preload_band(torque: float, bolt: Bolt) -> tuple[float, float]:
    """(least, most) preload in N that a torque in N.m may give.

    Most is at the lowest friction. Least is at the highest, or as far below the most
    as the method scatters, whichever is lower.
    """
    friction = bolt.friction
    most = preload_of(torque, bolt.thread, bolt.bearing, friction.low, bolt.prevailing)
    least = preload_of(torque, bolt.thread, bolt.bearing, friction.high, bolt.prevailing)
    return (min(least, most * (1.0 - friction.scatter) / (1.0 + friction.scatter)), most)


def step_of(torque: float) -> float:
    """The step, in N.m, in which a torque of this size is given."""
    return [step for below, step in STEPS if torque < below][0]


def floor_to(torque: float, step: float) -> float:
    """The torque on the step below it, never above what it was."""
    return round(math.floor(torque / step + 1e-9) * step, 3)


def shown_torque(torque: float) -> dict[str, Any]:
    """A torque of guidance as shown."""
    return {"value": plain_number(torque), "plus_minus": None, "unit": "N.m"}


def shown_preload(preload: float) -> dict[str, Any]:
    """A preload in N as kN with two significant digits: more would promise too much."""
    text = plain_number(float("{:.2g}".format(preload / 1000.0)))
    return {"value": text, "plus_minus": None, "unit": "kN"}


LIMITED_BY = {
    "bolt": "The bolt: 0.9 of the yield of grade {grade}.",
    "head": "The button head, which bears 0.8 of what its thread does.",
    "internal_thread": "The thread it screws into ({into}) would strip.",
    "bolt_thread": "The bolt’s own thread would strip.",
}


def guidance_view(group: dict[str, Any], part: dict[str, Any]) -> dict[str, Any]:
    """Guidance for a group of a part, with these values, that nothing speaks against, as the card shows it."""
    bolt = bolt_of(group)
    found = band(bolt)
    limited = [
        {
            "what": each["what"],
            "text": say(LIMITED_BY[each["what"]], grade=bolt.grade.name, into={"label": bolt.into}),
            "torque": shown_torque(floor_to(each["torque"], step_of(each["torque"]))),
            "preload": shown_preload(each["preload"]),
        }
        for each in found["limits"]
    ]
    exact = {name: found[name] for name in ("low", "high", "preload_low", "preload_high")}
    return {
        "low": shown_torque(found["low"]),
        "high": shown_torque(found["high"]),
        "preload_low": shown_preload(found["preload_low"]),
        "preload_high": shown_preload(found["preload_high"]),
        "limits": limited,
        "friction": {"low": bolt.friction.low, "high": bolt.friction.high},
        "prevailing": shown_torque(bolt.prevailing) if bolt.prevailing else None,
        "exact": dict(exact, limit=found["limits"][0]["torque"]),
        "assumed": _assumed(bolt, group),
        "sources": _sources(bolt),
        "cautions": _cautions(bolt, group, part),
    }


def _assumed(bolt: Bolt, group: dict[str, Any]) -> list[dict[str, Any]]:
    said = []
    if group.get("torque_condition") is None:
        said.append(say("Whether the threads are dry or oiled is not said: both are allowed for."))
    if finish_of(group) is None:
        said.append(say("The finish is not said: any but chrome and stainless is allowed for."))
    if bolt.head == "hex" and flats_of_key(bolt.head, group.get("key")) is None:
        text = "The key is not said: a hexagon of ISO 4014 is taken. A smaller one bears less, and wants less."
        said.append(say(text))
    if bolt.assumed_nut:
        said.append(say("A steel nut of full height is taken, 0.8 of the diameter. Of a thin one, give the height."))
    return said


def _sources(bolt: Bolt) -> list[dict[str, Any]]:
    said = [say("Torque and preload: VDI 2230, long form.")] + bolt.friction.sources
    said.append(say("Thread: {source}. Grade: {grade}.", source=bolt.thread.source, grade=bolt.grade.source))
    said.append(say("Stripping: shear areas of FED-STD-H28/2 with the tolerances of ISO 965-1 at their worst."))
    said.append(
        say("Strength of what it screws into: VDI 2230 table A9, from memory, at its low end; 0.8 of it is used.")
    )
    outer, hole = plain_number(bolt.bearing[0]), plain_number(bolt.bearing[1])
    said.append(say("Under the head it bears from {hole} to {outer} mm across.", hole=hole, outer=outer))
    if bolt.prevailing:
        said.append(say("The prevailing torque is added (AC 43.13-1B 7-40d)."))
    return said


def _cautions(bolt: Bolt, group: dict[str, Any], part: dict[str, Any]) -> list[dict[str, Any]]:
    said = [
        say(
            "This is what bolt and thread bear. "
            "Plastic, rubber, a gasket, a clamp or thin sheet under the head bears less."
        ),
        say("For threads as said here: paste with molybdenum, graphite or copper is more slippery and wants less."),
        say("A bolt that keeps turning without getting tighter yields or strips: stop."),
    ]
    if load_hangs_on(part, group):
        text = (
            "A passenger or a load hangs on this, and what holds it may bear less than bolt and thread do. "
            "The manual’s torque, or that of the maker of what is fitted, goes before this one."
        )
        said = [say(text)] + said
    if bolt.into == "brass_insert":
        said.append(say("The insert may turn or pull out of what holds it long before. That is not worked out here."))
    if is_left_hand(group.get("thread")):
        said.append(say("A left-hand thread tightens to the left."))
    return said
