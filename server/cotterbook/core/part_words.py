"""A part's name as people write it, British or American, taken apart for the rules: ordinary names, words, what it is.

Common practice, no source. No rule needs a name to be one of the list: what is written in no word that is known here
goes by its place.
"""

from typing import Any

from .ordinary_masses import names_like, words_of
from .ordinary_parts import ORDINARY_PARTS

# fmt: off
# Other words for the same, as the list of ordinary parts has them; of two words first, then of one.
PAIRS = {
    ("bash", "plate"): ("sump", "guard"), ("center", "stand"): ("centre", "stand"),
    ("engine", "plate"): ("sump", "guard"), ("fork", "boot"): ("fork", "gaiter"), ("fork", "gator"): ("fork", "gaiter"),
    ("gas", "tank"): ("fuel", "tank"), ("head", "lamp"): ("headlamp",), ("head", "light"): ("headlamp",),
    ("kick", "stand"): ("side", "stand"), ("mud", "guard"): ("mudguard",), ("petrol", "tank"): ("fuel", "tank"),
    ("shock", "absorber"): ("shock", "absorber"), ("skid", "plate"): ("sump", "guard"),
    ("triple", "clamp"): ("top", "yoke"), ("triple", "tree"): ("top", "yoke"), ("turn", "indicator"): ("indicator",),
    ("turn", "signal"): ("indicator",), ("water", "cooler"): ("radiator",), ("wiring", "loom"): ("loom",),
    ("light", "alloy"): ("alloy",), ("light", "metal"): ("metal",), ("light", "weight"): (),
}
OTHER_WORDS = {
    "": "a the", "battery": "batterie", "body": "bodie", "box": "boxe", "caliper": "calliper", "centre": "center",
    "bracket": "ear holder mount mounting stay support", "carburettor": "carb carburetor carburetter",
    "centre stand": "centerstand centrestand", "chain guard": "chainguard", "disc": "rotor", "footrest": "footpeg",
    "gaiter": "gator", "headlamp": "headlight", "indicator": "blinker flasher signal winker", "lamp": "light",
    "instrument": "dash gauge", "lens": "len", "mudguard": "fender hugger", "number": "licence license registration",
    "number plate": "numberplate", "shock absorber": "shock", "side stand": "kickstand sidestand",
    "silencer": "muffler", "speedometer": "speedo", "swing arm": "swingarm", "switch": "switche",
    "tail lamp": "taillamp taillight", "windscreen": "windshield",
}
SAME = {word: said.split() for said, others in OTHER_WORDS.items() for word in others.split()}
# "Hose for front brake" is a front brake hose.
OF = ("for", "from", "of", "on", "to", "under")
# What stands between words and says nothing by itself.
BETWEEN = OF + ("the",)
# Words that say where, which or of what kind, and never what it is.
WHERE = (
    "assembly", "assy", "back", "bottom", "both", "carbon", "centre", "chrome", "chromed", "front", "inner",
    "kit", "left", "lh", "long", "lower", "main", "metal", "middle", "new", "old", "outer", "pair", "plastic",
    "protective", "rear", "rh", "right", "rubber", "set", "short", "side", "small", "spare", "steel", "top",
    "upper",
)
# Words of the trade beside those of the rules and of the ordinary parts: a name with one of them is no unknown one.
TRADE = (
    "adapter", "adjuster", "alloy", "alternator", "arm", "backrest", "badge", "ball", "banjo", "barrel", "base",
    "beading", "bearing", "belt", "block", "board", "body", "bolt", "bottle", "box", "bush", "bushing", "button",
    "cage", "camshaft", "cap", "cartridge", "case", "casing", "catch", "charger", "circlip", "clutch", "cog",
    "collar", "cone", "console", "controller", "crankcase", "damper", "decal", "diode", "disc", "disk",
    "distributor", "dowel", "drum", "emblem", "engine", "fan", "finisher", "flange", "foam", "frame", "fuse",
    "gasket", "gear", "gearbox", "generator", "gland", "grease", "grille", "grip", "hand", "handle", "hinge",
    "housing", "hub", "ignition", "insert", "key", "knob", "knuckle", "latch", "lever", "lid", "link", "linkage",
    "lock", "magnet", "mat", "module", "moulding", "net", "nut", "pad", "panel", "peg", "pillion", "pin",
    "pinion", "pivot", "preload", "pushrod", "rack", "rail", "regulator", "relay", "ring", "rim", "rivet", "rod",
    "roller", "saddle", "screw", "seal", "sensor", "shaft", "shim", "shoe", "slider", "socket", "spacer",
    "speaker", "spindle", "spoke", "spoiler", "spring", "sprocket", "starter", "stem", "step", "sticker", "stop",
    "strap", "strip", "strut", "switch", "tape", "tool", "trim", "tube", "tyre", "tire", "valve", "visor",
    "washer", "weight", "window", "wing",
)
# fmt: on
_USUAL = {name: place for name, place, _, _ in ORDINARY_PARTS}


def plain_words(name: Any) -> list[str]:
    """The words of a name, in the singular and as the ordinary parts have them, with what it is as the last of them."""
    parts = str(name or "").split(",")
    first = _turned(words_of(parts[0]))
    return _said(words_of(" ".join(parts[1:]))) + _said(first)


def what_of(words: list[str]) -> str:
    """The word that says what a part with these plain words is; "" where they only say where."""
    said = [word for word in words if word not in WHERE]
    return said[-1] if said else ""


def ordinary_names(words: list[str], place: Any) -> list[str]:
    """The ordinary names that plain words mean; of several those that usually sit at this place, where any does."""
    found = names_like(" ".join(words))
    here = [name for name in found if _USUAL.get(name) == place]
    return here or found


def _turned(words: list[str]) -> list[str]:
    """"Hose for the radiator" with what it is at its end."""
    for index, word in enumerate(words):
        if word in OF and 0 < index < len(words) - 1:
            return words[index + 1 :] + words[:index]
    return words


def _said(words: list[str]) -> list[str]:
    found: list[str] = []
    index = 0
    while index < len(words):
        pair = (words[index], words[index + 1] if index + 1 < len(words) else "")
        if pair in PAIRS:
            found += PAIRS[pair]
            index += 2
        else:
            found += SAME.get(pair[0], [pair[0]])
            index += 1
    return found
