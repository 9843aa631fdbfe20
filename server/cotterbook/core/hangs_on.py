"""What hangs on a part, by its place and by its name: a life, or a passenger and a load. One rule for all who ask.

A place is one tap, and easily the wrong one, so what a part or its fasteners' seat is called counts as well.
"""

from typing import Any

from .ordinary_masses import words_of

# Where a life hangs on a fastener, and another person looks at it: brakes, steering, suspension, wheels, throttle and
# fuel, frame (common practice in every shop, no source; aviation's habit is named in `second_check`).
LIFE_PLACES = (
    "front_wheel", "rear_wheel", "front_brake", "rear_brake", "handlebar", "fork", "swing_arm", "front_end",
    "footrests", "frame", "tank", "intake",
)  # fmt: skip
LIFE_NAMES = (
    "absorber", "axle", "brake", "cable", "caliper", "calliper", "camshaft", "carburettor", "clutch", "conrod",
    "crankcase", "crankshaft",
    "cylinder", "flywheel", "footpeg", "footrest", "fork", "fuel", "gearbox", "handlebar", "hub", "linkage", "pedal",
    "petrol", "piston", "shock", "spindle", "sprocket", "stand", "steering", "subframe", "suspension", "swing",
    "swingarm", "throttle", "valve", "wheel", "yoke",
)  # fmt: skip
# What only keeps a sprocket's chain off the foot carries nothing; a cable of these kinds pulls nothing.
NOT_WITH = {
    "sprocket": ("cover", "guard"),
    "cable": ("battery", "charging", "clip", "earth", "electric", "plug", "starter", "tie"),
}
# What a passenger holds on to or leans against, and what carries a load (common practice, no source).
LOAD_PLACES = ("luggage",)
LOAD_NAMES = ("backrest", "carrier", "grab", "luggage", "pannier", "rack", "rail", "sissybar", "topbox", "topcase")


def life_word(part: dict[str, Any], group: dict[str, Any]) -> Any:
    """The word that a life hangs on, in the name of a part with these values or of where its fasteners sit; or None."""
    words = _words(part, group)
    said = [word for word in words if word in LIFE_NAMES and not any(each in words for each in NOT_WITH.get(word, ()))]
    return said[0] if said else None


def life_hangs_on(part: dict[str, Any], group: dict[str, Any]) -> bool:
    """Whether a life hangs on the fasteners of a part with these values: by its place, or by its name."""
    return part.get("place") in LIFE_PLACES or life_word(part, group) is not None


def load_hangs_on(part: dict[str, Any], group: dict[str, Any]) -> bool:
    """Whether a passenger or a load hangs on the part: by its place, or by its name."""
    return part.get("place") in LOAD_PLACES or any(word in LOAD_NAMES for word in _words(part, group))


def _words(part: dict[str, Any], group: dict[str, Any]) -> list[str]:
    return words_of(part.get("name")) + words_of(group.get("sits"))
