"""When each caution about a part follows: the conditions of the table in `follows`.

Each looks at what `follows.seen_of` says of one part: by the list of ordinary parts and by the words of its name
(`part_kinds`); where it has none of those, by its place.
"""

from typing import Any

from .part_kinds import (
    carries,
    carries_a_lamp,
    holds_a_line,
    is_wanted_on_the_road,
    keeps_stones_off_the_fork,
    may_open_a_system,
    opens_a_system,
    shines,
)

# fmt: off
# What guides or covers a hose, a cable or a lead.
HOLD_A_LINE = (
    "Air box", "Battery tray", "Belly pan", "Brake caliper, front", "Brake caliper, rear", "Brake hose guide",
    "Fairing bracket", "Fairing, upper", "Fork brace", "Front mudguard", "Front sprocket cover",
    "Handlebar", "Handlebar clamp", "Headlamp bracket", "Instrument bracket", "Number plate bracket", "Radiator guard",
    "Rear mudguard", "Sump guard", "Swing arm", "Tail unit", "Top yoke", "Undertray",
)
# What a wheel comes near to through its travel, or what that travel hangs on.
NEAR_A_WHEEL = (
    "Belly pan", "Brake hose guide", "Chain guard", "Exhaust header", "Fork brace", "Front mudguard", "Front wheel",
    "Number plate bracket", "Radiator guard", "Rear mudguard", "Rear shock absorber", "Rear wheel", "Swing arm",
    "Tail unit", "Undertray",
)
LAMPS = ("Headlamp", "Indicators, front", "Indicators, rear", "Number plate lamp", "Tail lamp")
CARRY_A_LAMP = ("Fairing bracket", "Headlamp bracket", "Number plate bracket", "Tail unit")
CARRY_SOMETHING = (
    "Battery tray", "Fairing bracket", "Fork brace", "Handlebar clamp", "Headlamp bracket", "Instrument bracket",
    "Number plate bracket", "Passenger footrest hangers", "Silencer bracket", "Tail unit", "Top yoke",
    "Windscreen bracket",
)
KEEP_STONES_OFF_THE_FORK = ("Fork gaiters", "Front mudguard")
ROAD_MAY_DEMAND = LAMPS + (
    "Chain guard", "Front mudguard", "Horn", "Mirrors", "Number plate bracket", "Rear mudguard", "Reflectors",
    "Silencer", "Tail unit",
)
# fmt: on


def _is(each: dict[str, Any], names: tuple[str, ...], places: tuple[str, ...] = ()) -> bool:
    """Whether a part is one of these by its name; where that is no ordinary one, whether it sits at these places."""
    name = each["name"]
    return any([like in names for like in name["like"]]) if name["like"] else name["place"] in places


def _unknown_at(each: dict[str, Any], places: tuple[str, ...]) -> bool:
    """Whether no word of a part's name is known, as in a language not read here, and it sits at one of these places."""
    return bool(each["name"]["unknown"]) and each["name"]["place"] in places


def _touched(each: dict[str, Any]) -> bool:
    return bool(each["gone"] or each["changed"])


def free_line(each: dict[str, Any]) -> bool:
    """A guard or guide gone or changed, something at a brake or the handlebar, or what is not known at either end."""
    held = _is(each, HOLD_A_LINE, ("front_brake", "rear_brake", "handlebar")) or holds_a_line(each["name"])
    return _touched(each) and (held or _unknown_at(each, ("fork", "front_end", "tail")))


def full_travel(each: dict[str, Any]) -> bool:
    """Something gone, changed or added beside a wheel."""
    beside = ("front_wheel", "rear_wheel", "fork", "swing_arm")
    something = _touched(each) or bool(each["added"])
    return something and not each["drained"] and _is(each, NEAR_A_WHEEL, beside)


def lamp_aim(each: dict[str, Any]) -> bool:
    """A lamp that was off, changed or added; a bracket of one that is gone, changed or was off."""
    carrier = _is(each, CARRY_A_LAMP) or carries_a_lamp(each["name"])
    lamp = _is(each, LAMPS) or shines(each["name"])
    moved = each["changed"] or each["added"] or each["back"]
    return bool(moved) and (lamp or carrier) or each["gone"] and carrier


def load_bearing(each: dict[str, Any]) -> bool:
    """A bracket gone, cut or moved, or what sits on the frame under a name of its own and may bear something."""
    bears = _is(each, CARRY_SOMETHING) or carries(each["name"])
    return (each["gone"] or each["changed"] in ("cut_down", "moved")) and bears


def cut_edge(each: dict[str, Any]) -> bool:
    """A part that was cut."""
    return bool(each["changed"] == "cut_down")


def bare_metal(each: dict[str, Any]) -> bool:
    """A part that was cut, or whose paint is gone somewhere."""
    return each["changed"] == "cut_down" or bool(each["paint_gone"])


def bleed(each: dict[str, Any]) -> bool:
    """A fluid was drained, or something was taken off, changed or added that cannot be while its system is full."""
    return bool(each["drained"]) or _was_handled(each) and opens_a_system(each["name"])


def opened(each: dict[str, Any]) -> bool:
    """Something was taken off, changed or added that often is with its hose on it: nobody but those there knows."""
    return _was_handled(each) and not each["drained"] and may_open_a_system(each["name"])


def _was_handled(each: dict[str, Any]) -> bool:
    return bool(each["came_off"] or each["changed"] or each["added"])


def stones(each: dict[str, Any]) -> bool:
    """What keeps stones off the fork tubes is gone or shorter; or what is not known at the fork."""
    keeps = _is(each, KEEP_STONES_OFF_THE_FORK) or keeps_stones_off_the_fork(each["name"])
    return (each["gone"] or each["changed"] == "cut_down") and (keeps or _unknown_at(each, ("fork",)))


def road(each: dict[str, Any]) -> bool:
    """Something that the road may demand is gone or changed."""
    return _touched(each) and (_is(each, ROAD_MAY_DEMAND) or is_wanted_on_the_road(each["name"]))
