"""Cautions that follow from what came off, was cut, moved, swapped or added: one table of rules.

A rule looks at what is recorded (place, outcome, whether it is done, what was drained) and at what a part is; its
condition is in `follows_when`. None of them says that something is legal or safe: each is a thing for a person to look
at. That a rule is here at all is common practice, no source.
"""

from typing import Any

from .figures import shown_amount
from .follows_when import (
    bare_metal,
    bleed,
    cut_edge,
    free_line,
    full_travel,
    lamp_aim,
    load_bearing,
    opened,
    road,
    stones,
)
from .mass import is_done, is_off, outcome_of
from .ordering import in_order
from .part_kinds import read_name
from .part_names import in_english
from .sag import end_change, end_of
from .strip import Strip
from .thing import Thing, key_of
from .words import say

# Fluids of systems that are filled, and most of them bled, by the manual.
FILLED_BY_THE_MANUAL = ("brake_fluid", "coolant", "engine_oil", "fork_oil")
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
        "name": read_name(in_english(values.get("name")), values.get("place")),
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


def firing(strip: Strip, only: Any = None, rules: Any = None) -> list[dict[str, Any]]:
    """Every rule that fires: {"rule", "part" (None: an end of the machine), "sentence", "basis", "latest"}.

    In the order of the table, and of the parts in it. "latest" is the (at, id) of the last entry that the rule looks
    at, as a list; of an end of the machine "rests_on" are the newest entries of its parts. `only`: the rules of this
    part alone; `rules`: these alone, by name.
    """
    parts = [part for part in strip.of_type("part") if only is None or part.id == only]
    seen = strip.kept.rows("follows", parts, lambda part: [part], lambda part: seen_of(strip, part))
    found = []
    for name, condition, text, basis in [rule for rule in RULES if rules is None or rule[0] in rules]:
        found += [_fired(name, each["part"], say(text), basis, each["latest"]) for each in seen if condition(each)]
    ends = [rule for rule in ENDS if only is None and (rules is None or rule[0] in rules)]
    for name, end, text, basis in ends:
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
