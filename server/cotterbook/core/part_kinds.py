"""What a part may guide, carry, shield, shine or hold in, told by its words, and by its place where it has none known.

Common practice, no source. `name` is what `read_name` gives. Nothing here is sure: a rule that asks too often is closed
with a word, one that is silent is not noticed at all.
"""

from typing import Any

from .ordinary_masses import ORDINARY_WORDS
from .part_words import TRADE, WHERE, ordinary_names, plain_words, what_of

# fmt: off
LINES = (
    "cable", "conduit", "harness", "hose", "lead", "line", "loom", "pipe", "wire", "wiring",
)
# Pipes, leads and lines of another kind.
NOT_A_LINE = {
    "pipe": ("down", "exhaust", "header", "inlet", "intake", "tail"), "lead": ("acid", "weight"),
    "line": ("chain", "drive"),
}
# What holds or covers a line when it is one of a line; and what holds one when nothing else is said.
HOLDERS = (
    "bracket", "channel", "clamp", "clip", "cover", "eyelet", "grommet", "guard", "guide", "hook", "loop", "protector",
    "retainer", "shield", "sleeve", "strap", "tab", "tie",
)
GUIDES = ("clip", "eyelet", "grommet", "guide", "tie")
OF_A_LINE = ("brake", "choke", "clutch", "electric", "fuel", "oil", "p", "speedometer", "throttle", "zip")
SHINES = ("foglamp", "headlamp", "indicator", "lamp", "spotlamp")
# What tells the rider something shines nowhere; a gear is an indicator of none.
SHINES_INSIDE = (
    "box", "charge", "charging", "gear", "instrument", "level", "neutral", "oil", "panel", "pressure", "speed",
    "tank", "temperature", "warning", "wear",
)
OF_A_LAMP = ("bulb", "glass", "lens", "reflector", "rim", "unit")
CARRIES_A_LAMP = (
    "arm", "bar", "bowl", "bracket", "cowl", "fairing", "frame", "housing", "mask", "nacelle", "plate", "shell",
    "stalk", "stem", "surround",
)
CARRIES = ("brace", "bracket", "crossmember", "hanger", "strut", "subframe")
# What sits on the frame and bears nothing.
BEARS_NOTHING = LINES + GUIDES + (
    "badge", "battery", "bolt", "bulb", "bung", "button", "cap", "catch", "coil", "connector", "cover", "decal",
    "emblem", "foam", "fuse", "guard", "horn", "key", "lamp", "latch", "lid", "lock", "mat", "nut", "pad",
    "panel", "plug", "relay", "screw", "seal", "sensor", "spacer", "spring", "stand", "sticker", "strap",
    "switch", "tape", "tool", "tray", "trim", "tube", "washer",
)
SLEEVES = ("bellow", "boot", "cover", "gaiter", "guard", "protector", "shroud", "sleeve")
FORK_TUBE = ("dust", "fork", "leg", "slider", "stanchion", "stone", "tube")
# What has a name of its own beside the fork's tubes.
NOT_THE_FORK_TUBE = ("bolt", "brake", "cap", "crown", "lock", "nut", "screw", "spring", "stem", "yoke")
ON_THE_ROAD = (
    "baffle", "catalyst", "converter", "exhaust", "horn", "mirror", "mudflap", "mudguard", "reflector",
    "silencer", "speedometer", "stand",
)
OF_ON_THE_ROAD = ("arm", "eliminator", "extension", "flap", "glass", "lens", "unit")
WITH_SMALL_THINGS = (
    "bolt", "bush", "clip", "gasket", "grommet", "lead", "loom", "nut", "pin", "relay", "screw", "seal", "spacer",
    "spring", "switch", "washer", "wire", "wiring",
)
# (what it is, one of these words beside it, or at one of these places with no other word of the trade)
OPENS = (
    (("banjo", "hose", "line", "pipe", "tube", "union"),
     ("brake", "clutch", "coolant", "cooling", "fuel", "gas", "gasoline", "heater", "hydraulic", "oil", "petrol",
      "radiator", "thermostat", "water"),
     ("front_brake", "rear_brake", "cooling", "tank")),
    (("filter",), ("fuel", "gas", "oil", "petrol"), ()),
    (("cooler",), ("oil",), ("cooling",)),
    (("pump",), ("coolant", "fuel", "oil", "petrol", "water"), ("cooling",)),
    (("cover", "housing", "impeller"), ("coolant", "oil filter", "thermostat", "water"), ()),
    (("pan",), ("oil",), ()),
    (("plug",), ("drain", "oil", "sump"), ()),
    (("bolt", "screw"), ("banjo", "bleed", "bleeder", "drain"), ()),
    (("bleeder", "nipple"), ("bleed", "brake", "clutch"), ("front_brake", "rear_brake")),
    (("piston",), ("brake", "caliper"), ("front_brake", "rear_brake")),
    (("petcock", "tap"), ("drain", "fuel", "gas", "petrol"), ("tank",)),
    (("cartridge", "seal"), ("fork",), ("fork",)),
)
OPENS_ALWAYS = ("petcock", "radiator", "sump", "thermostat")
MAY_OPEN = (
    (("cylinder",), ("brake", "clutch", "hydraulic", "master", "slave", "wheel"),
     ("engine", "front_brake", "handlebar", "rear_brake")),
    (("bottle", "reservoir", "tank"),
     ("brake", "clutch", "coolant", "cooling", "expansion", "fluid", "header", "hydraulic", "oil", "overflow"),
     ("front_brake", "rear_brake", "cooling")),
    (("cap", "lid"), ("radiator", "reservoir"), ("cooling",)),
    (("cap", "damper", "leg", "slider", "stanchion", "tube"), ("fork",), ("fork",)),
    (("barrel", "head"), ("cylinder",), ()),
    (("gasket",), ("cylinder", "head"), ()),
    (("case", "casing", "cover"), ("alternator", "clutch", "crankcase", "generator", "stator"), ()),
    (("rail", "sender", "sensor"), ("fuel",), ()),
    (("bowl",), ("carburettor", "float", "fuel"), ()),
    (("body",), ("throttle",), ()),
    (("modulator", "pump", "unit"), ("abs",), ()),
    (("sender", "sensor", "switch"), ("coolant", "pressure", "temperature"), ()),
)
MAY_OPEN_ALWAYS = ("caliper", "carburettor", "crankcase", "engine", "fork", "injector", "modulator", "reservoir")
# What moves gears is a fork as well.
NOT_WITH = {"fork": ("clutch", "gear", "selector", "shift")}
# Hoses in which no fluid stands.
DRY = (
    "air", "breather", "chain", "down", "drag", "exhaust", "frame", "header", "inner", "intake", "overflow",
    "parting", "seat", "tail", "vacuum", "vent",
)
# fmt: on
_KNOWN_TUPLES = (
    TRADE, LINES, HOLDERS, OF_A_LINE, SHINES, OF_A_LAMP, CARRIES_A_LAMP, CARRIES, BEARS_NOTHING, SLEEVES,
    FORK_TUBE, ON_THE_ROAD, OF_ON_THE_ROAD, OPENS_ALWAYS, MAY_OPEN_ALWAYS, WITH_SMALL_THINGS,
)  # fmt: skip
KNOWN: dict[str, bool] = {}
for _tuple in list(_KNOWN_TUPLES) + [row[0] for row in OPENS + MAY_OPEN] + [row[1] for row in OPENS + MAY_OPEN]:
    KNOWN.update({word: True for word in _tuple})
for _, _ordinary, _ in ORDINARY_WORDS:
    KNOWN.update({word: True for word in _ordinary if word not in WHERE})


def read_name(name: Any, place: Any) -> dict[str, Any]:
    """What rules look at of a name: {"words" plain, "what", "like": ordinary names, "place", "unknown": no word known}.

    A part without a name is an unknown one.
    """
    words = plain_words(name)
    like = ordinary_names(words, place)
    unknown = not like and not any([KNOWN.get(word) for word in words])
    return {"words": words, "what": what_of(words), "like": like, "place": place, "unknown": unknown}


def _has(name: dict[str, Any], words: tuple[str, ...]) -> bool:
    return any([word in words for word in name["words"]])


def _rest(name: dict[str, Any]) -> list[str]:
    """The words of a name beside what it is and those that say where."""
    return [word for word in name["words"] if word != name["what"] and word not in WHERE]


def holds_a_line(name: dict[str, Any]) -> bool:
    """A clip, guide or bracket of a hose, cable or lead; a clip or guide of nothing that is said."""
    guides = name["what"] in GUIDES and all([word in OF_A_LINE for word in _rest(name)])
    return guides or name["what"] in HOLDERS and _names_a_line(name)


def _names_a_line(name: dict[str, Any]) -> bool:
    lines = [word for word in name["words"] if word in LINES]
    return any([not _has(name, NOT_A_LINE.get(word, ())) for word in lines])


def _is_about_a_lamp(name: dict[str, Any]) -> bool:
    return _has(name, SHINES) and not _has(name, SHINES_INSIDE)


def shines(name: dict[str, Any]) -> bool:
    """A lamp or an indicator that is seen from outside, or what makes its light."""
    return _is_about_a_lamp(name) and name["what"] in SHINES + OF_A_LAMP


def carries_a_lamp(name: dict[str, Any]) -> bool:
    """What a lamp or an indicator sits on or in."""
    return _is_about_a_lamp(name) and name["what"] in CARRIES_A_LAMP


def carries(name: dict[str, Any]) -> bool:
    """A bracket or brace of anything but a line; on the frame, whatever is not known to bear nothing."""
    if name["what"] in CARRIES:
        return not holds_a_line(name)
    return name["place"] == "frame" and not name["like"] and name["what"] not in BEARS_NOTHING


def keeps_stones_off_the_fork(name: dict[str, Any]) -> bool:
    """A sleeve, gaiter, boot, shroud or protector of the fork; at the fork or the front one of nothing said."""
    rest = _rest(name)
    if name["what"] not in SLEEVES or _has(name, NOT_THE_FORK_TUBE):
        return False
    if "fork" in rest or name["place"] == "fork":
        return all([word in FORK_TUBE for word in rest])
    return name["place"] == "front_end" and name["what"] in ("gaiter", "sleeve") and not rest


def is_wanted_on_the_road(name: dict[str, Any]) -> bool:
    """What makes a machine seen, heard and told from others, keeps spray and noise down, or holds it up."""
    if name["what"] in WITH_SMALL_THINGS:
        return False
    if shines(name) or name["what"] in ON_THE_ROAD:
        return name["what"] != "exhaust" or not _has(name, ("valve",))
    if "plate" in name["words"] and ("number" in name["words"] or name["place"] == "tail" and not _rest(name)):
        return True
    guards_a_belt = "belt" in name["words"] and name["what"] == "guard"
    return guards_a_belt or _has(name, ON_THE_ROAD) and name["what"] in OF_ON_THE_ROAD


def opens_a_system(name: dict[str, Any]) -> bool:
    """What cannot come off without brake fluid, coolant, oil or fuel coming out, or air going in."""
    return name["what"] in OPENS_ALWAYS or _in_rows(name, OPENS)


def may_open_a_system(name: dict[str, Any]) -> bool:
    """What often comes off with its hose on it, or after its fluid; by its place where no word of it is known."""
    if opens_a_system(name):
        return False
    by_place = name["unknown"] and name["place"] in ("front_brake", "rear_brake", "cooling")
    always = name["what"] in MAY_OPEN_ALWAYS and not _has(name, NOT_WITH.get(name["what"], ()))
    return by_place or always or _in_rows(name, MAY_OPEN)


def _in_rows(name: dict[str, Any], rows: Any) -> bool:
    if name["what"] in OPENS[0][0] and _has(name, DRY):
        return False
    return any([_in_row(name, row) for row in rows])


def _in_row(name: dict[str, Any], row: Any) -> bool:
    whats, beside, places = row
    said = any([all([word in name["words"] for word in each.split()]) for each in beside])
    return name["what"] in whats and (said or name["place"] in places and not _rest(name))
