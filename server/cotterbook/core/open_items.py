"""What is open: things that people wrote down, and cautions of the rules with who closed them and when.

A caution has no entry of its own until a person closes it or puts a name or a time to it: phones that each wrote one
down by themselves would make doubles. What they write is an item with the rule's name; several of one rule and part,
as two phones apart can make, are one caution.

A closing answers for what whoever closed had seen, and for nothing that comes from another phone later, whatever its
time: it names those entries in its `saw`, under ANSWERS_FOR.
"""

from typing import Any

from .follows import done_to, firing
from .limits import BEFORE_WHAT, SEEN_A_LIST
from .ordering import in_order
from .strip import Strip
from .thing import Thing, key_of

# No field's name: which entries a closing answers for. One without it, of an older program, answers by its time.
ANSWERS_FOR = "answers_for"


def before_of(values: dict[str, Any]) -> str:
    """Before what an item with these values is to be done; where nobody said, before riding."""
    return str(values.get("before") or BEFORE_WHAT[0])


def closing_of(item: Thing) -> Any:
    """The entry that closed an item with a word of how, or None while it is open."""
    closings = closings_of(item)
    return closings[-1] if closings else None


def closings_of(item: Thing) -> list[dict[str, Any]]:
    """All that closed it, in order, none of which had seen the others; none while it is open."""
    if not item.values.get("closed") or not item.values.get("closed_how"):
        return []
    return [entry for entry in item.fields["closed"].heads if entry["values"]["closed"]]


def answers(closing: dict[str, Any], entry: dict[str, Any]) -> bool:
    """Whether who closed an item had seen this entry."""
    seen = (closing.get("saw") or {}).get(ANSWERS_FOR)
    return key_of(closing) > key_of(entry) if seen is None else entry["id"] in seen


def seen_lists(values: dict[str, Any], entries: Any) -> list[Any]:
    """What the `saw` of a closing with these values is to name of these entries: a list for each entry to write.

    More than fit in one list are told in further entries; [None] where there is nothing to tell.
    """
    if not values.get("closed") or not entries:
        return [None]
    ids = sorted(set([entry["id"] for entry in entries]))
    return [{ANSWERS_FOR: ids[at : at + SEEN_A_LIST]} for at in range(0, len(ids), SEEN_A_LIST)]


def items_by_rule(strip: Strip) -> dict[tuple[str, Any], list[Thing]]:
    """The items that belong to cautions, by (rule, part)."""
    found: dict[tuple[str, Any], list[Thing]] = {}
    for item in strip.of_type("item"):
        if item.values.get("rule"):
            found.setdefault((item.values["rule"], item.values.get("part")), []).append(item)
    return found


def cautions(strip: Strip, only: Any = None, rules: Any = None) -> list[dict[str, Any]]:
    """The rules that fire (of one part alone, or some `rules` by name), each with its items and how it stands.

    "closed_by" is the item that was closed last, where its closings answer for all that the rule looks at. None: the
    caution is open, as at first, or ("was_closed") again since something was done to the part that nobody who closed
    it had seen.
    """
    kept, found = items_by_rule(strip), []
    for each in firing(strip, only, rules):
        asking = dict(each, rests_on=rests_on(strip, each))
        found.append(with_closing(asking, kept.get((each["rule"], each["part"]), [])))
    return found


def rests_on(strip: Strip, fired: dict[str, Any]) -> list[dict[str, Any]]:
    """The entries that a closing of this caution is to answer for; of an end of the machine the last of each part."""
    part = strip.thing(fired["part"]) if fired["part"] else None
    return list(fired.get("rests_on") or ()) if part is None else done_to(part)


def with_closing(each: dict[str, Any], items: list[Thing]) -> dict[str, Any]:
    """What asks for a look, by the entries that it "rests_on", with its items and how it stands; see `cautions`."""
    closed = in_order([item for item in items if closings_of(item)], lambda item: key_of(closing_of(item)))
    closings = [closing for item in closed for closing in closings_of(item)]
    asking = each["rests_on"] or [{"at": each["latest"][0], "id": each["latest"][1]}]
    is_closed = all([any([answers(closing, entry) for closing in closings]) for entry in asking])
    return dict(each, items=items, closed_by=closed[-1] if is_closed and closed else None, was_closed=bool(closed))
