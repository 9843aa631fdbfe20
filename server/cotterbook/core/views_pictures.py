"""All pictures of a strip-down, a part at a time, each told by how the part stood when it was taken."""

from typing import Any

from .fields import value_before
from .going_on import NEW_THING
from .mass import outcome_of
from .strip import Strip
from .thing import Thing, key_of
from .views_history import photos_view
from .words import label_words

# Things besides parts that have pictures, in the order of the list.
OTHERS = ("setting", "item", "scale", "tool", "machine", "strip")


def pictures_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """{"parts": [{"part", "name", "side", "place", "before", "after", "pictures"}], "others": [{"thing", "type",
    "name", "pictures"}]}, only those with a picture.

    A picture is as in `photos_view`, with "stood": "before" it came off, "off", or "after" it, or what takes its place,
    went on. "before" is the first picture of how it was, or else the first at all while it was off; "after" the last
    one since it went on, or None.
    """
    parts = [_of_part(part) for part in strip.of_type("part")]
    others = [thing for kind in OTHERS for thing in strip.of_type(kind)]
    return {
        "parts": [each for each in parts if each["pictures"]],
        "others": [each for each in [_of_other(thing) for thing in others] if each["pictures"]],
    }


def _of_part(part: Thing) -> dict[str, Any]:
    pictures = photos_view(part)
    for picture, entry in zip(pictures, part.of_kind("photo")):
        picture["stood"] = _stood(part, key_of(entry))
    before = [each for each in pictures if each["stood"] == "before"] or [
        each for each in pictures if each["stood"] == "off"
    ]
    after = [each for each in pictures if each["stood"] == "after"]
    named = {name: part.values.get(name) for name in ("side", "place")}
    named.update(part=part.id, name=part.values.get("name") or "", pictures=pictures)
    return dict(named, before=before[0] if before else None, after=after[-1] if after else None)


def _stood(part: Thing, key: Any) -> str:
    names = ("off", "outcome", "outcome_done")
    then = dict(part.values, **{name: value_before(part.fields.get(name), name, key) for name in names})
    if outcome_of(then) in NEW_THING and then["outcome_done"]:
        return "after"
    # What is new to the machine, or was missing, has no time on it before it goes on.
    if then["off"] or then.get("came_in") in ("missing", "new"):
        return "off"
    off = part.fields.get("off")
    writers = off.writers if off is not None else []
    was_off = [entry for entry in writers if entry["values"]["off"] and key_of(entry) < key]
    return "after" if was_off else "before"


def _of_other(thing: Thing) -> dict[str, Any]:
    values = thing.values
    name = values.get("name") or values.get("text") or label_words(values.get("adjusted") or "")
    return {"thing": thing.id, "type": thing.type, "name": name, "pictures": photos_view(thing)}
