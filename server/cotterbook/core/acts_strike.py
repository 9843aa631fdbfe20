"""Striking an entry that was a mistake. What is open of a thing that would be gone with it is asked about first."""

from typing import Any

from .counting import LOST
from .maker import Maker, given
from .stops import GROUP_RULES, gaps_of, open_stops
from .strip import Strip
from .words import say

MOST = 3
ASKS = "Still open of it: {open}. Close that first, or say why it is struck all the same. It stays open."
ASKS_OF_MORE = (
    "Still open of it: {open} and {more} more. Close that first, or say why it is struck all the same. It stays open."
)


def strike(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """An earlier entry was a mistake, and `why`; `all_the_same`: why, though something is open of what goes with it."""
    entry, same = form.get("entry"), given(form, "all_the_same")
    still: list[Any] = []
    if entry not in strip.entries:
        make.refuse("no_such_entry", "entry", "That entry is not in this log.")
    elif strip.is_struck(entry):
        make.refuse("struck_already", "entry", "That entry is struck already.")
    else:
        make.follow(strip.entries[entry])
        still = open_of(strip, _gone_with(strip, strip.entries[entry]))
    if still and same is None:
        text = ASKS if len(still) <= MOST else ASKS_OF_MORE
        make.refuse("something_open", "all_the_same", text, open=still[:MOST], more=len(still) - MOST)
    why = given(form, "why")
    if still and why is not None and same is not None:
        why = str(why) + " – " + str(same)
    make.entry("strike", "", entry=entry, why=why)
    return make.done()


def _gone_with(strip: Strip, entry: dict[str, Any]) -> Any:
    """The part or the group that no entry would write down any more with this one struck, or None."""
    for _ in range(len(strip.entries)):  # a strike of a strike of ... ends at a thing, or is a ring
        if entry["kind"] != "strike" or entry["entry"] not in strip.entries:
            break
        entry = strip.entries[entry["entry"]]
    if entry["kind"] != "set" or entry["type"] not in ("part", "group"):
        return None
    sets = [each for each in strip.filed(entry["thing"]) if each["kind"] == "set"]
    live = [each["id"] for each in sets if not strip.is_struck(each["id"])]
    return strip.thing(entry["thing"]) if live == [entry["id"]] else None


def open_of(strip: Strip, thing: Any) -> list[Any]:
    """What is open of a part or a group: lost fasteners that nobody ruled out inside, and what people wrote down."""
    if thing is None:
        return []
    name = "part" if thing.type == "part" else "group"
    stopping = [each for each in open_stops(strip) if each[name] == thing.id]
    found: list[Any] = [say(LOST, n=each["n"], **gaps_of(strip, strip.thing(each["group"]))) for each in stopping]
    items = [item.values for item in strip.of_type("item") if item.values.get(name) == thing.id]
    # That of a stop is told with the stop; that of a caution a person planned, and it stays to do.
    still = [values for values in items if not values.get("closed") and values.get("rule") not in GROUP_RULES]
    return found + [str(values.get("text") or "") for values in still]


STRIKE_ACTS = {"strike": strike}
