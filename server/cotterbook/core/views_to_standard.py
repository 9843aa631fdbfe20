"""What the screen "Back to standard" shows."""

from typing import Any

from .ordering import in_order
from .place_cautions import caution_at
from .strip import Strip
from .thing import Thing
from .to_standard import fasteners_of, is_standard, to_put_on, to_take_off
from .views_group import bag_label, named
from .views_masses import sums_view
from .views_settings import settings_to_take_back
from .words import say

_STANDING = {
    "off": "Off. Put it back on.",
    "replaced": "{replacement} is on in its place. Take that off, then put this back on.",
    "moved": "It sits elsewhere now. Put it back where it was.",
    "gone": "It cannot come back: {gone}.",
    "cut": "Cut for good. It cannot be made whole.",
    "missing": "The machine came in without it.",
}
# Of these a new or used one has to be found.
BOUGHT = ("gone", "cut", "missing")


def to_standard_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """What comes off, what goes on again, what cannot, what to buy, where each standard part is, and which settings
    stand otherwise than the machine came in: of none is it known how it left its factory."""
    back: list[dict[str, Any]] = []
    cannot: list[dict[str, Any]] = []
    buy: list[dict[str, Any]] = []
    fasteners: dict[str, dict[str, Any]] = {}
    for part, fate in to_put_on(strip):
        row = _row(strip, part, fate)
        (cannot if fate in BOUGHT else back).append(row)
        if fate in BOUGHT:
            buy.append({"part": part.id, "what": row["name"], "side": row["side"], "count": row["pieces"], "for": []})
        _collect(fasteners, row)
    bought = [fasteners[key] for key in sorted(fasteners)]
    parts = [part for part in strip.of_type("part") if is_standard(part)]
    return {
        "take_off": [_off_row(strip, part) for part in to_take_off(strip)],
        "put_on": back,
        "cannot": cannot,
        "buy": buy + bought,
        "settings": settings_to_take_back(strip),
        "standard": len(parts),
        "on": len(parts) - len(back) - len(cannot),
        "sum": sums_view(strip)["standard"],
    }


def _row(strip: Strip, part: Thing, fate: str) -> dict[str, Any]:
    values = part.values
    replacement = values.get("replacement") or say("Another part")
    gone = {"label": values.get("gone") or "lost"}
    groups = fasteners_of(strip, part)
    return {
        "part": part.id,
        "name": values.get("name") or "",
        "side": values.get("side"),
        "place": values.get("place"),
        "caution": caution_at(values.get("place")),
        "pieces": values.get("pieces") or 1,
        "fate": fate,
        "standing": say(_STANDING[fate], replacement=replacement, gone=gone),
        "where": _where(strip, part, fate),
        "fasteners": [_fasteners(strip, each) for each in groups],
    }


def _where(strip: Strip, part: Thing, fate: str) -> Any:
    """Where a part is that is not on, as far as anybody wrote down; None where it is nowhere to be fetched."""
    if fate == "moved" or fate in BOUGHT:
        return None
    kept, bag = part.values.get("kept"), strip.thing(part.values.get("bag") or "")
    if kept:
        return say("It is here: {place}", place=kept)
    if bag is None:
        return say("Nobody wrote down where it is.")
    label, where = bag.values.get("label") or "", bag.values.get("kept")
    return say("In bag {bag}: {place}", bag=label, place=where) if where else say("In bag {bag}", bag=label)


def _fasteners(strip: Strip, each: dict[str, Any]) -> dict[str, Any]:
    group = each["group"]
    return {
        "group": group.id,
        "what": named(group.values),
        "count": each["count"],
        "bags": [{"label": bag_label(strip, bag), "count": count} for bag, count in each["bags"]],
        "buy": each["buy"],
    }


def _collect(fasteners: dict[str, dict[str, Any]], row: dict[str, Any]) -> None:
    """Adds what a part's groups lack to the list of what to buy, like sizes together."""
    for each in row["fasteners"]:
        if not each["buy"]:
            continue
        key = str(each["what"])
        found = fasteners.setdefault(key, {"part": None, "what": each["what"], "side": None, "count": 0, "for": []})
        found["count"] += each["buy"]
        found["for"] = in_order(found["for"] + [row["name"]], lambda name: name)


def _off_row(strip: Strip, part: Thing) -> dict[str, Any]:
    values, standard = part.values, is_standard(part)
    return {
        "part": part.id,
        "name": (values.get("replacement") or say("What is on in its place")) if standard else values.get("name") or "",
        "of": (values.get("name") or "") if standard else None,
        "side": values.get("side"),
        "pieces": values.get("pieces") or 1,
    }
