"""What is open: things that people wrote down, and cautions of the rules with who closed them and when.

A caution has no entry of its own until a person closes it or puts a name or a time to it: phones that each wrote one
down by themselves would make doubles. What they write is an item with the rule's name; several of one rule and part,
as two phones apart can make, are one caution.
"""

from typing import Any

from .follows import firing
from .limits import BEFORE_WHAT
from .ordering import in_order
from .strip import Strip
from .thing import Thing, key_of


def before_of(values: dict[str, Any]) -> str:
    """Before what an item with these values is to be done; where nobody said, before riding."""
    return str(values.get("before") or BEFORE_WHAT[0])


def closing_of(item: Thing) -> Any:
    """The entry that closed an item with a word of how, or None while it is open."""
    if not item.values.get("closed") or not item.values.get("closed_how"):
        return None
    return item.fields["closed"].heads[-1]


def items_by_rule(strip: Strip) -> dict[tuple[str, Any], list[Thing]]:
    """The items that belong to cautions, by (rule, part)."""
    found: dict[tuple[str, Any], list[Thing]] = {}
    for item in strip.of_type("item"):
        if item.values.get("rule"):
            found.setdefault((item.values["rule"], item.values.get("part")), []).append(item)
    return found


def cautions(strip: Strip, only: Any = None) -> list[dict[str, Any]]:
    """The rules that fire (of one part alone, where it is given), each with its items and how it stands.

    "closed_by" is the item whose closing is later than all that the rule looks at. None: the caution is open, as at
    first, or ("was_closed") again since something was done to the part after the closing.
    """
    kept, found = items_by_rule(strip), []
    for each in firing(strip, only):
        found.append(with_closing(each, kept.get((each["rule"], each["part"]), [])))
    return found


def with_closing(each: dict[str, Any], items: list[Thing]) -> dict[str, Any]:
    """What asks for a look, by its "latest", with its items and how it stands; see `cautions`."""
    closed = [item for item in items if closing_of(item) is not None]
    after = [item for item in closed if list(key_of(closing_of(item))) > each["latest"]]
    last = in_order(after, lambda item: key_of(closing_of(item)))
    return dict(each, items=items, closed_by=last[-1] if last else None, was_closed=bool(closed))
