"""What a form or a page says about fasteners beside what was typed: likely threads, usual keys, lengths, mass."""

from typing import Any

from .fastener_mass import fastener_amount
from .figures import plain_number, shown_grams
from .forms import check_shape
from .grades import read_grade
from .heads import across_flats, hexalobular_number
from .keys import NOTE, likely_threads
from .lengths import usual_lengths
from .named_keys import read_key
from .threads import is_left_hand, read_thread
from .typed_quantities import read_for
from .usual_keys import size_called, usual_keys
from .words import Refused, problem, say

MASS_SOURCE = "Steel of 7.85 g/cm³ in the shape of the standard head and thread; weigh one to know better."


def beside(arguments: dict[str, Any]) -> dict[str, Any]:
    """What is to be said of fasteners as they are typed; `grip` and `engagement` are text, in mm or with a unit.

    "likely": threads for the key, none while a thread is given; "keys": keys for the
    thread, none while a key is given; "thread", "key" and "grade": what was read, in
    words, or None; "lengths" for a grip, or None. A grip that cannot be is refused.
    """
    wrong = check_shape(arguments)
    if wrong:
        raise Refused(wrong)
    typed = _text(arguments, "thread")
    thread = read_thread(typed) if typed else None
    key, head = _text(arguments, "key"), arguments.get("head") or None
    likely = likely_threads(key, head) if key and not typed else []
    return {
        "likely": likely,
        "note": say(NOTE) if likely else None,
        "keys": usual_keys(thread, head) if thread is not None and not key else [],
        "thread": thread_said(typed),
        "key": usual_key(thread, head, key) if thread is not None else None,
        "grade": grade_said(_text(arguments, "grade")),
        "lengths": _lengths(arguments, thread),
    }


def about(group: str, values: dict[str, Any]) -> dict[str, Any]:
    """What a part's page says of a group beside its fields: thread and key in words, and the mass of one fastener.

    Without a thread, the likely ones for its key, with the note that goes with them.
    """
    thread = read_thread(values.get("thread"))
    likely = likely_threads(values.get("key"), values.get("head")) if not values.get("thread") else []
    return {
        "likely": likely,
        "note": say(NOTE) if likely else None,
        "thread": thread_said(values.get("thread") or ""),
        "key": usual_key(thread, values.get("head"), values.get("key") or "") if thread is not None else None,
        "grade": grade_said(values.get("grade") or ""),
        "mass": mass_each(group, values),
    }


def thread_said(typed: str) -> Any:
    """How a thread was read, with its pitch and source; that it was not; None where none is typed."""
    if not typed:
        return None
    thread = read_thread(typed)
    if thread is None:
        return {"read": False, "says": say("Not a thread that the tables have, or it could be two."), "source": None}
    left = is_left_hand(typed)
    if thread.metric:
        text = "{thread}, pitch {pitch} mm, left-hand: loosens to the right" if left else "{thread}, pitch {pitch} mm"
        says = say(text, thread=thread.name, pitch=plain_number(thread.pitch))
    else:
        text = (
            "{thread}, {diameter} mm across, left-hand: loosens to the right"
            if left
            else "{thread}, {diameter} mm across"
        )
        says = say(text, thread=thread.name, diameter=plain_number(round(thread.diameter, 2)))
    return {"read": True, "says": says, "source": say(thread.source)}


def grade_said(typed: str) -> Any:
    """What the steel of a grade bears, that it is unknown, or None where none is typed."""
    if not typed:
        return None
    grade = read_grade(typed)
    if grade is None:
        return {"read": False, "says": say("Not a grade that the tables have, or it says too little."), "source": None}
    says = say("{grade}: yields at {stress} MPa", grade=grade.name, stress=plain_number(grade.yield_stress))
    return {"read": True, "says": says, "source": say(grade.source)}


def usual_key(thread: Any, head: Any, key: str) -> Any:
    """The key that a head with this thread usually takes; None where no table says, or where it is the one typed."""
    number = hexalobular_number(head, thread) if head == "hexalobular" else None
    if number is not None:
        return say("Usually hexalobular {number} ({source})", number=number, source=say("ISO 10664"))
    flats = across_flats(head, thread)
    typed = read_key(key) if key else None
    if not flats or (typed is not None and typed.size and any(abs(each[0] - typed.size) < 0.05 for each in flats)):
        return None
    sizes = [_size(each[0], thread) for each in flats[:3]]
    sources = [say(each[1]) for each in flats[:3]]
    if len(sizes) == 1:
        return say("Usually {size} ({source})", size=sizes[0], source=sources[0])
    if len(sizes) == 2:
        text = "Usually {first} ({first_source}) or {second} ({second_source})"
        return say(text, first=sizes[0], first_source=sources[0], second=sizes[1], second_source=sources[1])
    return say(
        "Usually {first} ({first_source}), {second} ({second_source}) or {third} ({third_source})",
        first=sizes[0],
        first_source=sources[0],
        second=sizes[1],
        second_source=sources[1],
        third=sizes[2],
        third_source=sources[2],
    )


def _size(flats: float, thread: Any) -> Any:
    if not thread.metric:
        return size_called(flats, thread)
    decimals = 0 if flats == int(flats) else 1
    return {"value": ("{:.%df}" % decimals).format(flats), "plus_minus": None, "unit": "mm"}


def mass_each(group: str, values: dict[str, Any]) -> Any:
    """{"says", "source"} of one fastener's mass, or None where it is not known."""
    amount = fastener_amount(group, values)
    if amount is None:
        return None
    figure = shown_grams(amount.grams, amount.standard)
    if values.get("grams_each"):
        return {"says": say("{figure} each, as weighed", figure=figure), "source": None}
    return {"says": say("about {figure} each, from the geometry", figure=figure), "source": say(MASS_SOURCE)}


def _lengths(arguments: dict[str, Any], thread: Any) -> Any:
    grip = _length(arguments, "grip")
    if grip is None:
        return None
    if thread is None:
        raise Refused([problem("missing", "thread", "Say the thread first.")])
    return usual_lengths(thread, grip, arguments.get("into"), _length(arguments, "engagement"))


def _text(arguments: dict[str, Any], name: str) -> str:
    value = arguments.get(name)
    return "" if value is None else str(value).strip()


def _length(arguments: dict[str, Any], name: str) -> Any:
    text = _text(arguments, name)
    return read_for(name, text, "length", "mm").value if text else None
