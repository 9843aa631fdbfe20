"""What people wrote down to do, as against what the rules ask for: that is told of in `open_items` and `stops`."""

from typing import Any

from .follows import firing
from .open_items import closing_of
from .ordering import in_order
from .stops import GROUP_RULES, LOST_INSIDE, USED_AGAIN, stops, used_again
from .strip import Strip
from .thing import Thing, key_of

PLANNED = ("for_whom", "due_on")


def items_of(strip: Strip, part: Any) -> list[Thing]:
    """What there is to do for a part, or the whole strip-down when `part` is None; open ones first.

    Without what belongs to a caution or a stop that asks now, as it is shown with that. Of one that asks no more, or
    that is not known here, what a person left open stays to do until a person closes it.
    """
    found = [item for item in strip.of_type("item") if not item.values.get("rule")] + left_by_rules(strip)
    own = [item for item in found if part is None or item.values.get("part") == part]
    return in_order(own, lambda item: (bool(item.values.get("closed")), key_of(item.first)))


def left_by_rules(strip: Strip) -> list[Thing]:
    """Open items of cautions and stops that ask no more, or that are not known here, and that nobody closed."""
    of_rules = [item for item in strip.of_type("item") if item.values.get("rule")]
    still = [item for item in of_rules if not item.values.get("closed")]
    if not still:
        return []
    asking = _asking(strip, [item.values["rule"] for item in still])
    left = [item for item in still if _key(item) not in asking and not _went_by_itself(item)]
    return [item for item in left if not _was_closed(item, of_rules)]


def _was_closed(item: Thing, of_rules: list[Thing]) -> bool:
    """Whether the same caution was closed since, by the item that another phone had made of it."""
    closings = [closing_of(other) for other in of_rules if _key(other) == _key(item)]
    return any([closing is not None and key_of(closing) > key_of(item.first) for closing in closings])


def _key(item: Thing) -> Any:
    rule = item.values["rule"]
    return (rule, item.values.get("group" if rule in GROUP_RULES else "part"))


def _asking(strip: Strip, rules: list[str]) -> set[Any]:
    """What asks now by these rules: (rule, part) of the cautions, (rule, group) of stops and of what was used again."""
    # Every screen asks, and each of the three goes through all parts.
    found = (stops(strip) if LOST_INSIDE in rules else []) + (used_again(strip) if USED_AGAIN in rules else [])
    asking = set([(each["rule"], each["group"]) for each in found])
    if any([rule not in GROUP_RULES for rule in rules]):
        asking.update([(each["rule"], each["part"]) for each in firing(strip)])
    return asking


def _went_by_itself(item: Thing) -> bool:
    """Whether the program alone wrote it, as a spell ended, of fasteners that were found or replaced since."""
    return item.values["rule"] in GROUP_RULES and not any([item.values.get(name) for name in PLANNED])
