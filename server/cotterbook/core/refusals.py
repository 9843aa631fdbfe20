"""Where no torque is worked out, and why: all reasons at once, each with what to do.

Where a life hangs on it, or where anything is unknown, a figure would be a guess. Then
the manual's is the only one, and the program says so.
"""

from typing import Any

from .fields import value_before
from .friction import friction_of
from .grades import read_grade
from .hangs_on import life_word
from .heads import bearing_diameters
from .part_names import in_english
from .stripping import LEAST_DIAMETERS, SHEAR_STRENGTH
from .threads import read_thread
from .words import Refused, say

# Places where a torque may be worked out: nothing that stops, steers, carries, feeds or turns.
OPEN_PLACES = ("side", "seat", "exhaust", "cooling", "electrics", "tail", "luggage")
MANUAL = "Take it from the machine’s manual."
BY_PLACE = {
    "front_wheel": "A wheel: a life hangs on it.",
    "rear_wheel": "A wheel: a life hangs on it.",
    "front_brake": "A brake: a life hangs on it.",
    "rear_brake": "A brake: a life hangs on it.",
    "handlebar": "Steering: a life hangs on it.",
    "fork": "Steering and suspension: a life hangs on it.",
    "swing_arm": "Suspension: a life hangs on it.",
    "front_end": "The front end: what comes loose there can lock wheel or steering.",
    "footrests": "Footrests carry a rider, and often the brake pedal.",
    "frame": "The frame carries the machine: mounts, stands and subframe.",
    "tank": "Fuel: where it leaks it burns.",
    "intake": "Throttle and intake: what comes loose there jams the throttle or goes through the engine.",
}
# A confirmation, and what it is of: it says nothing of another thread, or of another part.
CONFIRMED_OF = (("thread_confirmed", "thread"), ("outside_engine", "part"))
DRIVEN_NO_FACE = {
    "countersunk": "A countersunk head wedges in its cone and is weaker than its thread.",
    "nut": "A nut: what counts is the stud or bolt in it, and how that is held.",
    "stud": "A stud has no head to turn it by.",
    "clip": "A clip is not torqued.",
    "rivet": "A rivet is not torqued.",
    "pin": "A pin is not torqued.",
    "other": "A head of this kind is not known here.",
}
NO_STRENGTH = {
    "plastic": "Plastic gives way long before the bolt, and creeps.",
    "captive_nut": "A captive nut may be a spring of sheet, or welded, or sit in plastic.",
    "other": "What it screws into has no known strength.",
}
MATTERS = (
    "thread", "thread_confirmed", "head", "key", "grade", "finish", "into", "engagement_millimetres",
    "torque_condition", "outside_engine", "prevailing_newton_metres",
)  # fmt: skip


def reason(code: str, field: str, why: dict[str, Any], to_do: dict[str, Any]) -> dict[str, Any]:
    """One reason: a code for programs, the field it lies in, and two sentences."""
    return {"code": code, "field": field, "why": why, "to_do": to_do}


def reasons(part: dict[str, Any], group: dict[str, Any], disputed: Any = ()) -> list[dict[str, Any]]:
    """Why no torque is worked out for a group with these values on a part with these; none when it may be.

    `disputed` names the fields of group and part (its place as "place") for which two answers stand.
    """
    found = place_reasons(part, group)
    for name in ("place", "part") + MATTERS:
        if name in disputed and (name != "key" or group.get("head") == "hex"):
            why = say("Two answers stand for: {field}.", field={"field": name})
            found.append(reason("disputed", name, why, say("Settle which one is right.")))
    return (
        found
        + name_reasons(part, group, found)
        + _of_thread_and_head(group)
        + _of_grade_and_finish(group)
        + _of_material(group)
    )


def certain_values(group: Any) -> dict[str, Any]:
    """The values of a group, a `strip.Thing`, without what was confirmed of another thread or on another part.

    A thread that was corrected after somebody held a gauge to it is not confirmed, whichever phone wrote which; and
    what only holds something on the engine's outside may hold its inside together on the part it was moved to.
    """
    values = dict(group.values)
    for name, of in CONFIRMED_OF:
        if values.get(name) and _confirmed(group, name, of) != values.get(of):
            values[name] = None
    return values


def _confirmed(group: Any, name: str, of: str) -> Any:
    """The value of the field `of` that whoever wrote down `name` had before their eyes; "" where it has changed since.

    What was on their screen is in the entry; one that does not say counts as having seen what stood before it.
    """
    entry, field = group.fields[name].heads[-1], group.fields.get(of)
    if of in entry["values"]:
        return entry["values"][of]
    seen = (entry.get("saw") or {}).get(of)
    if seen:
        stands = field is not None and all([head["id"] in seen for head in field.heads])
        return field.value if stands else ""
    return value_before(group.fields.get(of), of, (entry["at"], entry["id"]))


def place_reasons(part: dict[str, Any], group: dict[str, Any]) -> list[dict[str, Any]]:
    """The reasons that lie in where the part sits."""
    place = part.get("place")
    if place == "engine":
        if group.get("outside_engine") is True:
            return []
        to_do = say("Take it from the machine’s manual. If these only hold something on the outside, say so.")
        return [reason("engine", "outside_engine", say("Inside an engine a wrong torque ends it."), to_do)]
    if place in BY_PLACE:
        return [reason("place", "place", say(BY_PLACE[place]), say(MANUAL))]
    if place in OPEN_PLACES:
        return []
    why = say("Where the part sits is not said, so what hangs on it is not known.")
    return [reason("unknown_place", "place", why, say("Choose its place on the part’s page."))]


def name_reasons(part: dict[str, Any], group: dict[str, Any], found: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The reason that lies in what part or fasteners' seat are called, where the place has none already."""
    word = life_word(part, group)
    if word is None or any(each["field"] == "place" for each in found):
        return []
    name = part.get("name")
    # A name in another language says it in its own word.
    word = word if in_english(name) == name or life_word({}, group) == word else name
    why = say("Its name says “{word}”: a life may hang on it, whatever place is chosen.", word=word)
    return [reason("name", "place", why, say(MANUAL))]


def _of_thread_and_head(group: dict[str, Any]) -> list[dict[str, Any]]:
    found, thread, head = [], read_thread(group.get("thread")), group.get("head")
    if thread is None:
        why = say("The thread is not known, or could be two.")
        to_do = say("Measure it with a thread gauge and write it with its pitch, like M8 or M10×1.25.")
        found.append(reason("unknown_thread", "thread", why, to_do))
    elif thread.flank_degrees != 60.0 or thread.series == "bsc":
        why = say(
            "{thread} is an old British thread, and the formulas are for metric and unified ones.", thread=thread.name
        )
        found.append(reason("not_60_degrees", "thread", why, say(MANUAL)))
    if group.get("thread_confirmed") is not True:
        to_do = say("Hold a thread gauge to it, or screw a nut of that thread on by hand, then say so.")
        found.append(reason("not_confirmed", "thread_confirmed", say("Nobody has confirmed this thread."), to_do))
    if head in DRIVEN_NO_FACE:
        found.append(reason("no_bearing_face", "head", say(DRIVEN_NO_FACE[head]), say(MANUAL)))
    elif head is None:
        found.append(reason("unknown_head", "head", say("The head is not said."), say("Choose the head.")))
    elif thread is not None and bearing_diameters(head, thread, group.get("key")) is None:
        why = say("How wide such a head bears is not known here for {thread}.", thread=thread.name)
        found.append(reason("no_bearing_face", "head", why, say(MANUAL)))
    return found


def _of_grade_and_finish(group: dict[str, Any]) -> list[dict[str, Any]]:
    found, grade, finish = [], read_grade(group.get("grade")), group.get("finish")
    if grade is None:
        to_do = say("Read the marks on the head, like 8.8 or A2-70. Without a mark it stays unknown.")
        found.append(reason("unknown_grade", "grade", say("The grade is not known."), to_do))
    elif finish is not None and grade.stainless != (finish == "stainless"):
        why = say("Grade {grade} and this finish do not go together.", grade=grade.name)
        found.append(reason("grade_and_finish", "finish", why, say("Look at the bolt again.")))
    try:
        friction_of(finish_of(group), group.get("torque_condition"), group.get("into"))
    except Refused as refused:
        code = refused.problems[0]["code"]
        to_do = say(MANUAL)
        if code == "dry_stainless":
            to_do = say("Use oil or paste if the manual lets you, and say so under Threads.")
        field = "torque_condition" if code == "dry_stainless" else "finish"
        found.append(reason(code, field, say(refused.problems[0]["text"]), to_do))
    return found


def finish_of(group: dict[str, Any]) -> Any:
    """The finish of a group; a stainless grade says it too."""
    grade = read_grade(group.get("grade"))
    return group.get("finish") or ("stainless" if grade is not None and grade.stainless else None)


def _of_material(group: dict[str, Any]) -> list[dict[str, Any]]:
    into, engaged = group.get("into"), group.get("engagement_millimetres")
    if into in NO_STRENGTH:
        return [reason("weak_material", "into", say(NO_STRENGTH[into]), say(MANUAL))]
    if into not in SHEAR_STRENGTH:
        why = say("What it screws into is not said.")
        return [reason("unknown_material", "into", why, say("Choose what it screws into."))]
    if engaged is None:
        if into == "loose_nut":
            return []
        to_do = say("Count the turns from the first bite until it is seated, times the pitch, in mm.")
        why = say("How much thread is screwed in is not known, so the hole may strip first.")
        return [reason("unknown_engagement", "engagement_millimetres", why, to_do)]
    return _of_engagement(group, engaged)


def _of_engagement(group: dict[str, Any], engaged: float) -> list[dict[str, Any]]:
    thread, length = read_thread(group.get("thread")), group.get("length_millimetres")
    if length is not None and engaged > length:
        why = say("More thread is screwed in than the bolt is long.")
        return [reason("engagement_too_long", "engagement_millimetres", why, say("Measure both again."))]
    if thread is not None and engaged < LEAST_DIAMETERS * thread.diameter:
        why = say("Less than half the thread’s diameter is screwed in.")
        to_do = say("Look whether the bolt is too short. Else take it from the machine’s manual.")
        return [reason("engagement_too_short", "engagement_millimetres", why, to_do)]
    if thread is not None and engaged > 20.0 * thread.diameter:
        why = say("More than 20 diameters of thread cannot be right here.")
        return [reason("engagement_too_long", "engagement_millimetres", why, say("Measure it again."))]
    return []
