"""What hangs on a part, by its place and by its name: a life, or a passenger and a load. One rule for all who ask.

A place is one tap, and easily the wrong one, so what a part or its fasteners' seat is called counts as well.
"""

from typing import Any

from .ordinary_masses import words_of
from .part_names import in_english

# Where a life hangs on a fastener, and another person looks at it: brakes, steering, suspension, wheels, throttle and
# fuel, frame (common practice in every shop, no source; aviation's habit is named in `second_check`).
LIFE_PLACES = (
    "front_wheel", "rear_wheel", "front_brake", "rear_brake", "handlebar", "fork", "swing_arm", "front_end",
    "footrests", "frame", "tank", "intake",
)  # fmt: skip
LIFE_NAMES = (
    "absorber", "axle", "brake", "cable", "caliper", "calliper", "camshaft", "carb", "carburetor", "carburetter",
    "carburettor", "centerstand", "centrestand", "clutch", "conrod", "crankcase", "crankshaft", "cylinder", "disc",
    "flywheel", "footpeg", "footrest", "fork", "fuel", "gasoline", "gearbox", "handlebar", "hub", "injector",
    "kickstand", "kingpin", "linkage", "pedal", "petcock", "petrol", "piston", "rearset", "riser", "rotor", "shock",
    "sidestand", "spindle", "sprocket", "stanchion", "stand", "steering", "subframe", "suspension", "swing",
    "swingarm", "throttle", "valve", "wheel", "wishbone", "yoke",
)  # fmt: skip
# Two words one after the other of which neither says so by itself.
LIFE_PAIRS = (
    ("ball", "joint"), ("con", "rod"), ("drag", "link"), ("engine", "mount"), ("engine", "mounting"), ("foot", "peg"),
    ("foot", "rest"), ("gas", "hose"), ("gas", "line"), ("gas", "tank"), ("gas", "tap"), ("king", "pin"),
    ("leading", "arm"), ("leading", "link"), ("sidecar", "arm"), ("sidecar", "connection"), ("sidecar", "frame"),
    ("sidecar", "mount"), ("sidecar", "strut"), ("sub", "frame"), ("tie", "rod"), ("torque", "arm"), ("track", "rod"),
    ("trailing", "arm"), ("trailing", "link"), ("triple", "clamp"), ("triple", "tree"),
)  # fmt: skip
# What only keeps a sprocket's chain off the foot carries nothing; a cable of these kinds pulls nothing.
NOT_WITH = {
    "sprocket": ("cover", "guard"),
    "rotor": ("alternator", "distributor", "generator", "ignition"),
    "cable": ("battery", "charging", "clip", "earth", "electric", "plug", "starter", "tie"),
}
# What a passenger holds on to or leans against, and what carries a load (common practice, no source).
LOAD_PLACES = ("luggage",)
LOAD_NAMES = ("backrest", "carrier", "grab", "luggage", "pannier", "rack", "rail", "sissybar", "topbox", "topcase")


def life_word(part: dict[str, Any], group: dict[str, Any]) -> Any:
    """The word, or the two, that a life hangs on, in a part's name or that of where its fasteners sit; or None."""
    names = [words_of(in_english(part.get("name"))), words_of(group.get("sits"))]
    words = names[0] + names[1]
    said = [word for word in words if word in LIFE_NAMES and not any(each in words for each in NOT_WITH.get(word, ()))]
    if said:
        return said[0]
    for typed in names:
        pairs = [pair for pair in zip(typed, typed[1:]) if pair in LIFE_PAIRS]
        if pairs:
            return " ".join(pairs[0])
    return None


def life_hangs_on(part: dict[str, Any], group: dict[str, Any]) -> bool:
    """Whether a life hangs on the fasteners of a part with these values: by its place, or by its name."""
    return part.get("place") in LIFE_PLACES or life_word(part, group) is not None


def life_hangs_on_either(part: Any, group: Any) -> bool:
    """The same of a part and a group as things: of a field that two people wrote apart, by what either of them wrote.

    `part` is None where no entry of it is known.
    """
    parts = [{}] if part is None else _as_written(part, ("place", "name"))
    return any([life_hangs_on(each, other) for each in parts for other in _as_written(group, ("sits",))])


def _as_written(thing: Any, names: tuple[str, ...]) -> list[dict[str, Any]]:
    found = [thing.values]
    for name in names:
        if name in thing.fields and thing.fields[name].disputed:
            heads = thing.fields[name].heads
            found = [dict(each, **{name: head["values"][name]}) for each in found for head in heads]
    return found


def load_hangs_on(part: dict[str, Any], group: dict[str, Any]) -> bool:
    """Whether a passenger or a load hangs on the part: by its place, or by its name."""
    return part.get("place") in LOAD_PLACES or any(word in LOAD_NAMES for word in _words(part, group))


def _words(part: dict[str, Any], group: dict[str, Any]) -> list[str]:
    return words_of(in_english(part.get("name"))) + words_of(group.get("sits"))
