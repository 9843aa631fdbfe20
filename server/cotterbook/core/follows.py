"""Cautions that follow from what came off, was cut, moved, swapped or added: one table of rules.

A rule looks at what is recorded (place, outcome, whether it is done, what was drained) and at what a part is: by the
list of ordinary parts and by the words of its name (`part_kinds`); where it has none of those, by its place. None of
them says that something is legal or safe: each is a thing for a person to look at. That a rule is here at all is common
practice, no source.
"""

from typing import Any

from .figures import shown_amount
from .mass import is_done, is_off, outcome_of
from .ordering import in_order
from .part_kinds import (
    carries,
    carries_a_lamp,
    holds_a_line,
    is_wanted_on_the_road,
    keeps_stones_off_the_fork,
    may_open_a_system,
    opens_a_system,
    read_name,
    shines,
)
from .sag import end_change, end_of
from .strip import Strip
from .thing import Thing, key_of
from .words import say

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
# Fluids of systems that are filled, and most of them bled, by the manual.
FILLED_BY_THE_MANUAL = ("brake_fluid", "coolant", "engine_oil", "fork_oil")
# fmt: on
# The fields whose writing tells that something was done to the part.
DONE_BY = ("off", "outcome", "outcome_done", "came_in", "replacement", "paint_gone")


def seen_of(strip: Strip, part: Thing) -> dict[str, Any]:
    """What the rules look at of one part.

    "gone": the machine is without it, as far as is decided; "changed": cut, moved or swapped, and done; "back": it came
    off and is on again. "latest" is the (at, id) of the last entry that did something to it, as a list.
    """
    values, outcome = part.values, outcome_of(part.values)
    done, drained = is_done(values), _drained(part)
    came_off = "off" in part.fields and any([entry["values"]["off"] for entry in part.fields["off"].writers])
    missing = values.get("came_in") == "missing" and not (outcome in ("added", "swapped") and done)
    return {
        "part": part.id,
        "name": read_name(values.get("name"), values.get("place")),
        "gone": missing or is_off(values) and outcome in (None, "stays_off"),
        "changed": outcome if done and outcome in ("cut_down", "moved", "swapped") else None,
        "added": done and outcome == "added",
        "came_off": came_off,
        "back": came_off and not values.get("off") and outcome in (None, "goes_back"),
        "drained": bool(drained),
        "paint_gone": bool(values.get("paint_gone")),
        "end": end_of(values),
        "latest": list(max([key_of(entry) for entry in done_to(part)])),
    }


def done_to(part: Thing) -> list[dict[str, Any]]:
    """The entries that did something to a part, as the rules look at it, in no order; its first where none did."""
    writers = [entry for name in DONE_BY if name in part.fields for entry in part.fields[name].writers]
    return writers + _drained(part) or [part.first]


def was_touched(part: Thing) -> bool:
    """Whether any entry did something to a part, as the rules look at it; that it is on, and no more, does nothing."""
    said = [entry["values"][name] for name in DONE_BY if name in part.fields for entry in part.fields[name].writers]
    return bool(_drained(part)) or any(said)


def newest_done_to(part: Thing) -> dict[str, Any]:
    """The last of the entries that did something to a part: how it stands."""
    newest: dict[str, Any] = in_order(done_to(part), key_of)[-1]
    return newest


def _drained(part: Thing) -> list[dict[str, Any]]:
    taken = [entry for entry in part.of_kind("weigh") if entry["weighed_as"] == "taken_off"]
    return [entry for entry in taken if entry.get("fluid") in FILLED_BY_THE_MANUAL]


def _is(each: dict[str, Any], names: tuple[str, ...], places: tuple[str, ...] = ()) -> bool:
    """Whether a part is one of these by its name; where that is no ordinary one, whether it sits at these places."""
    name = each["name"]
    return any([like in names for like in name["like"]]) if name["like"] else name["place"] in places


def _unknown_at(each: dict[str, Any], places: tuple[str, ...]) -> bool:
    """Whether no word of a part's name is known, as in another language, and it sits at one of these places."""
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


# fmt: off
# (name, condition, sentence, basis): of one part each, which the sentence calls "it".
RULES = (
    ("free_line", free_line,
     "A hose, cable or lead that it guided or covered may be free now. "
     "Secure it, clear of heat, edges, wheel and steering.",
     "common_practice"),
    ("full_travel", full_travel,
     "Look for clearance to the wheel through full travel, springs all the way in and out, lock to lock.",
     "common_practice"),
    ("lamp_aim", lamp_aim,
     "See that each lamp works, sits tight and is aimed as the manual says.",
     "manual"),
    ("load_bearing", load_bearing,
     "What it carried or braced needs something else that bears it. The manual says what belongs there.",
     "manual"),
    ("cut_edge", cut_edge,
     "Its cut edge is sharp. Round or cover it, away from hoses, leads and hands.",
     "common_practice"),
    ("bare_metal", bare_metal,
     "Where it was cut or lost its paint, metal lies bare and rusts. Paint or seal it.",
     "common_practice"),
    ("bleed", bleed,
     "Fill what was drained or opened, bleed it and look for leaks, by the manual.",
     "manual"),
    ("opened", opened,
     "Was a system with brake fluid, coolant, oil or fuel opened? Then fill it, bleed it and look for leaks, "
     "by the manual. If not, write that down.",
     "manual"),
    ("stones", stones,
     "Stones may reach the fork tubes now. A chip in a tube cuts the seal: cover the tubes, or watch them.",
     "common_practice"),
    ("road", road,
     "The road may demand it as it was. Check your local rules.",
     "local_rules"),
)
# (name, end, sentence, basis): of one end of the machine each, by what changed on its springs.
ENDS = (
    ("sag_front", "front",
     "The front changed by {mass} on its springs, as far as weighed: preload and sag want setting, by the manual.",
     "manual"),
    ("sag_rear", "rear",
     "The rear changed by {mass} on its springs, as far as weighed: preload and sag want setting, by the manual.",
     "manual"),
)
# fmt: on


def firing(strip: Strip, only: Any = None) -> list[dict[str, Any]]:
    """Every rule that fires: {"rule", "part" (None: an end of the machine), "sentence", "basis", "latest"}.

    In the order of the table, and of the parts in it. "latest" is the (at, id) of the last entry that the rule looks
    at, as a list; of an end of the machine "rests_on" are the newest entries of its parts. `only`: the rules of this
    part alone.
    """
    parts = [part for part in strip.of_type("part") if only is None or part.id == only]
    seen = strip.kept.rows("follows", parts, lambda part: [part], lambda part: seen_of(strip, part))
    found = []
    for name, condition, text, basis in RULES:
        found += [_fired(name, each["part"], say(text), basis, each["latest"]) for each in seen if condition(each)]
    for name, end, text, basis in ENDS if only is None else ():
        at_end = [part for part, each in zip(parts, seen) if each["end"] == end]
        change = end_change(strip, at_end)
        if change is not None:
            latest = max([each["latest"] for each in seen if each["end"] == end])
            fired = _fired(name, None, say(text, mass=shown_amount(change)), basis, latest)
            found.append(dict(fired, rests_on=[newest_done_to(part) for part in at_end if was_touched(part)]))
    return found


def alone(strip: Strip, fired: dict[str, Any]) -> dict[str, Any]:
    """The sentence of a rule that fires as it stands by itself, with the part's name before it."""
    part = strip.thing(fired["part"]) if fired["part"] else None
    name = part.values.get("name") if part is not None else None
    return say("{part}: {caution}", part=name, caution=fired["sentence"]) if name else dict(fired["sentence"])


def _fired(rule: str, part: Any, sentence: dict[str, Any], basis: str, latest: Any) -> dict[str, Any]:
    return {"rule": rule, "part": part, "sentence": sentence, "basis": basis, "latest": latest}
