"""What the screens show of the cautions that follow from what came off."""

from typing import Any

from .entries import wall_clock_ms
from .open_items import before_of, cautions, closing_of
from .ordering import in_order
from .strip import Strip
from .thing import Thing, key_of


def cautions_of_part(strip: Strip, part: str) -> list[dict[str, Any]]:
    """The cautions that follow from one part, open or closed, as shown."""
    return [caution_view(each) for each in cautions(strip, part)]


def caution_view(each: dict[str, Any]) -> dict[str, Any]:
    """A caution of `open_items.cautions` as shown, with who is to look at it and how it was closed."""
    planned = in_order(each["items"], lambda item: key_of(item.first))
    values = planned[0].values if planned else {}
    closed_by = each["closed_by"]
    return {
        "rule": each["rule"],
        "part": each["part"],
        "sentence": each["sentence"],
        "basis": each["basis"],
        "open": closed_by is None,
        "again": closed_by is None and each["was_closed"],
        "before": before_of(values),
        "for_whom": values.get("for_whom"),
        "due_on": values.get("due_on"),
        "closed": None if closed_by is None else closed_view(closed_by),
    }


def closed_view(item: Thing) -> dict[str, Any]:
    """How an item was closed, by whom and when."""
    entry = closing_of(item)
    if entry is None:
        return {"how": item.values.get("closed_how"), "who": None, "at_ms": None}
    return {"how": item.values["closed_how"], "who": entry["who"], "at_ms": wall_clock_ms(entry["id"])}
