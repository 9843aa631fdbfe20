"""What the screens show of pictures with pins: which fastener of a part sits where."""

from typing import Any

from .strip import Strip
from .thing import Thing
from .views_group import named
from .words import say

WHERE_IT_SITS = ("group", "across_permille", "down_permille")
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def letters_of(strip: Strip, part: str) -> dict[str, str]:
    """The letter of each fastener group of a part, by the group's id; a number past Z."""
    groups = strip.groups_of(part)
    return {group.id: LETTERS[place] if place < len(LETTERS) else str(place + 1) for place, group in enumerate(groups)}


def pins_by_photo(strip: Strip) -> dict[str, list[Thing]]:
    """The pins that are on pictures, by the picture's entry, each list by when they were put there.

    Of one whose first entry was struck, or can't be read here, it is not known where it sits.
    """
    found: dict[str, list[Thing]] = {}
    for each in strip.of_type("pin"):
        is_known = all([each.values.get(name) is not None for name in WHERE_IT_SITS])
        if is_known and not each.values.get("dropped"):
            found.setdefault(each.values.get("photo") or "", []).append(each)
    return found


def pinned_photos(strip: Strip, part: Thing, pins: dict[str, list[Thing]]) -> list[dict[str, Any]]:
    """A part's pictures, each with its pins: {"pin", "group", "letter", "across", "down"} in thousandths."""
    letters = letters_of(strip, part.id)
    return [
        {
            "entry": photo["id"],
            "sha256": photo["sha256"],
            "caption": photo.get("caption"),
            "width": photo["width"],
            "height": photo["height"],
            "pins": [
                {
                    "pin": each.id,
                    "group": each.values["group"],
                    "letter": letters[each.values["group"]],
                    "across": each.values["across_permille"],
                    "down": each.values["down_permille"],
                }
                for each in pins.get(photo["id"], ())
                if each.values["group"] in letters
            ],
        }
        for photo in part.of_kind("photo")
    ]


def pins_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """One picture of a part with its pins, and the groups to choose from; "photo" None where it is not there."""
    entry = strip.entries.get(arguments.get("photo") or "") or {}
    part = strip.thing(entry.get("thing") or "")
    photos = [] if part is None or not part.alive else pinned_photos(strip, part, pins_by_photo(strip))
    of_it = [photo for photo in photos if photo["entry"] == entry.get("id")]
    if part is None or not of_it:
        return {"photo": None, "part": None, "name": "", "groups": []}
    letters = letters_of(strip, part.id)
    groups = []
    for group in strip.groups_of(part.id):
        count = group.values.get("count") or 0
        on_it = len([pin for pin in of_it[0]["pins"] if pin["group"] == group.id])
        what = say("{letter}: {what}", letter=letters[group.id], what=named(group.values))
        groups.append(
            {
                "group": group.id,
                "letter": letters[group.id],
                "what": what,
                "sits": group.values.get("sits"),
                "count": count,
                "pinned": on_it,
            }
        )
    return {"photo": of_it[0], "part": part.id, "name": part.values.get("name") or "", "groups": groups}
