"""What ordinary motorcycle parts weigh, one piece of each, from small machines to heavy ones.

Common practice, no source: wide on purpose, good for asking about a figure that
is a thousand times or ten times off, and for nothing else. No mass is ever
taken from here.
"""

from typing import Any

# Grams of one piece, lowest and highest, by the names of `ordinary_parts`.
ORDINARY_MASSES = {
    "Air box": (300, 4000),
    "Air filter": (40, 700),
    "Battery": (400, 8000),
    "Battery tray": (50, 1500),
    "Bar-end weights": (30, 600),
    "Belly pan": (200, 4000),
    "Brake caliper, front": (300, 2200),
    "Brake caliper, rear": (250, 2000),
    "Brake disc, front": (400, 2600),
    "Brake disc, rear": (300, 2200),
    "Brake hose guide": (5, 200),
    "Brake lever": (40, 300),
    "Brake pedal": (100, 1000),
    "Carrier": (500, 8000),
    "Centre stand": (1000, 6000),
    "Chain": (700, 3000),
    "Chain guard": (50, 1200),
    "Clutch cable": (40, 400),
    "Clutch lever": (40, 300),
    "Coil": (60, 1500),
    "Crash bars": (800, 8000),
    "Exhaust header": (600, 7000),
    "Exhaust heat shield": (40, 1200),
    "Fairing bracket": (100, 3500),
    "Fairing, upper": (300, 6000),
    "Fork brace": (100, 1500),
    "Fork gaiters": (40, 400),
    "Front axle": (200, 1500),
    "Front mudguard": (200, 4000),
    "Front sprocket cover": (50, 1500),
    "Front wheel": (4000, 22000),
    "Fuel pump": (150, 2500),
    "Fuel tank": (1500, 16000),
    "Gear lever": (60, 800),
    "Grab rail": (150, 3000),
    "Grips": (30, 500),
    "Hand guards": (50, 1000),
    "Handlebar": (350, 3500),
    "Handlebar clamp": (40, 1200),
    "Headlamp": (250, 4500),
    "Headlamp bracket": (40, 2000),
    "Heel guard": (20, 500),
    "Horn": (80, 800),
    "Ignition lock": (100, 1200),
    "Indicators, front": (20, 400),
    "Indicators, rear": (20, 400),
    "Instrument bracket": (40, 1500),
    "Instruments": (100, 3000),
    "Mirrors": (80, 1000),
    "Number plate bracket": (50, 2000),
    "Number plate lamp": (15, 400),
    "Oil cooler": (200, 3000),
    "Pannier frame": (400, 6000),
    "Passenger footrest hangers": (150, 2000),
    "Passenger footrests": (80, 1200),
    "Radiator": (500, 6000),
    "Radiator guard": (40, 1200),
    "Rear axle": (250, 2000),
    "Rear carrier": (500, 8000),
    "Rear mudguard": (150, 5000),
    "Rear shock absorber": (800, 7000),
    "Rear sprocket": (150, 2500),
    "Rear wheel": (5000, 28000),
    "Reflectors": (5, 150),
    "Rider footrests": (100, 1500),
    "Seat": (1000, 10000),
    "Seat latch": (20, 600),
    "Side panels": (80, 2500),
    "Side stand": (250, 3000),
    "Silencer": (1000, 12000),
    "Silencer bracket": (30, 1500),
    "Steering damper": (200, 1500),
    "Sump guard": (300, 6000),
    "Swing arm": (2000, 12000),
    "Tail lamp": (60, 1500),
    "Tail unit": (200, 5000),
    "Tank cover": (80, 3000),
    "Throttle cable": (30, 350),
    "Tool box": (200, 4000),
    "Top yoke": (250, 3000),
    "Undertray": (150, 4000),
    "Windscreen": (150, 4000),
    "Windscreen bracket": (40, 2500),
}
# Anything that sits there, small pieces too.
BY_PLACE = {
    "front_wheel": (2, 25_000),
    "fork": (2, 20_000),
    "front_brake": (2, 4_000),
    "front_end": (2, 12_000),
    "handlebar": (2, 6_000),
    "tank": (2, 20_000),
    "seat": (2, 15_000),
    "side": (2, 6_000),
    "engine": (2, 130_000),
    "intake": (2, 8_000),
    "exhaust": (2, 20_000),
    "cooling": (2, 10_000),
    "electrics": (2, 12_000),
    "frame": (2, 60_000),
    "footrests": (2, 6_000),
    "swing_arm": (2, 20_000),
    "rear_brake": (2, 4_000),
    "rear_wheel": (2, 30_000),
    "tail": (2, 12_000),
    "luggage": (2, 25_000),
    "other": (2, 60_000),
}
# Words that say where, not what.
_WHERE = (
    "front",
    "rear",
    "left",
    "right",
    "upper",
    "lower",
    "inner",
    "outer",
    "old",
    "new",
    "both",
    "pair",
    "of",
    "the",
)


def ordinary_mass(name: Any, place: Any) -> Any:
    """What one piece of such a part weighs: {"low", "high" in grams, "like": names it goes by, "place"}, or None.

    By its name where that is, or holds, or is held by an ordinary one, in any
    order of words and with or without plural; else by the place it sits at.
    """
    like = names_like(name)
    if like:
        low = min([ORDINARY_MASSES[each][0] for each in like])
        high = max([ORDINARY_MASSES[each][1] for each in like])
        return {"low": low, "high": high, "like": like, "place": None}
    if place in BY_PLACE:
        return {"low": BY_PLACE[place][0], "high": BY_PLACE[place][1], "like": [], "place": place}
    return None


def names_like(name: Any) -> list[str]:
    """The ordinary names that a typed name means: the ones with most of its words, or those it is short for."""
    typed, what = words_of(name), _what(name)
    if not typed or what is None:
        return []
    best: list[str] = []
    most = 0
    for ordinary, words, _ in ORDINARY_WORDS:
        # "Seat bracket" holds all of "Seat", but what it is, is a bracket.
        if all(word in typed for word in words) and what in words and len(words) >= most:
            best = best + [ordinary] if len(words) == most else [ordinary]
            most = len(words)
    if best:
        return best
    return [each for each, words, is_a in ORDINARY_WORDS if is_a == what and all(word in words for word in typed)]


def words_of(name: Any) -> list[str]:
    """The words of a name, small, without marks, each in the singular."""
    plain = "".join([c if c.isalpha() else " " for c in str(name or "").lower()])
    return [_singular(word) for word in plain.split()]


def _singular(word: str) -> str:
    return word[:-1] if len(word) > 3 and word[-1] == "s" and word[-2] != "s" else word


def _what(name: Any) -> Any:
    """The word that says what it is: the last before a comma that says more than where."""
    words = [word for word in words_of(str(name or "").split(",")[0]) if word not in _WHERE]
    return words[-1] if words else None


# Each ordinary name with its words and the one that says what it is: taken apart once, as a long log asks very often.
ORDINARY_WORDS = tuple([(each, words_of(each), _what(each)) for each in sorted(ORDINARY_MASSES)])
