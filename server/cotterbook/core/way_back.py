"""The order in which parts go on again, and what stands in the way of one.

The order is worked out from three things. Last off goes on first, as it came to pieces. Where a person moved a part
by hand it stands where they put it. And a part that waits for another stands after it, whatever the rest says.
"""

from typing import Any

from .fields import Field
from .going_on import came_off, goes_on, is_disputed, is_on
from .mass import outcome_of
from .ordering import in_order
from .strip import Strip
from .thing import Thing, key_of
from .words import say

# After these two nobody gets at the other any more, so it must be done and not
# only on (common practice, no source).
COVERS = ("behind", "reached")

_NOT_ON = {
    "behind": "{first} first: it sits behind {part}.",
    "reached": "{first} first: with {part} on, nobody reaches it.",
    "hangs_on": "{first} first: {part} hangs on it.",
    "loom": "{first} first: it holds the loom.",
    "other": "{first} first.",
}
_NOT_DONE = {
    "behind": "{first} sits behind {part}, and is not done: {needs}.",
    "reached": "With {part} on, nobody reaches {first}, and it is not done: {needs}.",
}
NEEDS = ("count", "torque", "mark", "not_right", "second_check")
_LACKS = {
    "on": "two people wrote apart whether it is on",
    "count": "fasteners are out",
    "torque": "torque is missing",
    "mark": "a mark is missing",
    "not_right": "some were found not right",
    "second_check": "a second check is missing",
}


def was_handled(strip: Strip, part: Thing) -> bool:
    """Whether the part, or a fastener of it, ever came off or went on; one that only is planned to is not here yet."""
    field = part.fields.get("off")
    if field is not None and any([entry["values"]["off"] for entry in field.writers]):
        return True
    if part.values.get("outcome_done") or outcome_of(part.values) == "added":
        return True
    ledgers = [strip.ledger(group.id) for group in strip.groups_of(part.id)]
    return any([ledger.untouched < ledger.count for ledger in ledgers])


def needs_of(strip: Strip, part: Thing) -> list[str]:
    """What a part lacks before it is done: of "on", also where nobody knows whether it is, and NEEDS."""
    wanted = [strip.needs(group.id) for group in strip.groups_of(part.id)]
    needs = [] if is_on(part.values) and not is_disputed(part) else ["on"]
    return needs + [need for need in NEEDS if any([need in each for each in wanted])]


def is_on_the_way_back(strip: Strip, part: Thing) -> bool:
    """Whether the way back shows the part: it is to go on, or is on again though it was to stay off."""
    if not goes_on(part) and (part.values.get("came_in") == "missing" or not is_on(part.values)):
        return False
    return was_handled(strip, part)


def still_to_go_on(strip: Strip, waits: Any) -> list[Thing]:
    """The parts that are not done yet, in the order in which they go on."""
    parts = [part for part in strip.of_type("part") if is_on_the_way_back(strip, part)]
    return in_way_back_order(strip, [part for part in parts if needs_of(strip, part)], waits)[0]


class Waits:
    """Which parts wait for which, as people wrote down; struck parts and ends taken back are left out."""

    def __init__(self, strip: Strip):
        self.strip = strip
        self.of: dict[str, list[Thing]] = {}
        for wait in strip.of_type("wait"):
            ends = [strip.thing(wait.values.get(end) or "") for end in ("part", "first")]
            if wait.values.get("dropped") or any([end is None or not end.alive for end in ends]):
                continue
            self.of.setdefault(ends[0].id, []).append(wait)

    def firsts(self, part: str) -> list[str]:
        """The parts that this one waits for, each once, by when it was written down."""
        found: list[str] = []
        for wait in self.of.get(part, ()):
            if wait.values["first"] not in found:
                found.append(wait.values["first"])
        return found

    def reaches(self, part: str, first: str) -> bool:
        """Whether `part` waits for `first`, or for what waits for it, and so on."""
        seen: dict[str, bool] = {}
        ahead = [part]
        while ahead:
            for each in self.firsts(ahead.pop()):
                if each == first:
                    return True
                if each not in seen:
                    seen[each] = True
                    ahead.append(each)
        return False

    def blockers(self, part: Thing) -> list[dict[str, Any]]:
        """What stands in the way of a part: {"first": id, "wait": id, "sentence"}, one for each part it waits for."""
        found, named = [], {}
        for wait in self.of.get(part.id, ()):
            first = self.strip.thing(wait.values["first"])
            sentence = sentence_of(self.strip, part, first, why_of(wait))
            if sentence is not None and first.id not in named:
                named[first.id] = True
                found.append({"first": first.id, "wait": wait.id, "sentence": sentence})
        return found


def why_of(wait: Thing) -> str:
    """Why a part waits; where the entry that said so was struck, or can't be read here, no more than that it does."""
    return str(wait.values.get("why") or "other")


def sentence_of(strip: Strip, part: Thing, first: Thing, why: str) -> Any:
    """Why a part waits for another now; None once it need not, or where the other is not to go on at all."""
    names = {"part": part.values.get("name") or "", "first": first.values.get("name") or ""}
    if not goes_on(first):
        return None
    if not is_on(first.values):
        return say(_NOT_ON[why], **names)
    if why not in COVERS:
        return None
    needs = [say(_LACKS[need]) for need in needs_of(strip, first)]
    return say(_NOT_DONE[why], needs=needs, **names) if needs else None


def in_way_back_order(strip: Strip, parts: list[Thing], waits: Waits) -> tuple[list[Thing], list[Thing]]:
    """(the parts in the order in which they go on, those of them that wait for one another in a ring).

    A ring can come about where two people wrote apart. Its first part then waits for none.
    """
    wanted = _placed_by_hand(strip.id, in_order(parts, came_off, reverse=True))
    open_ = {part.id: True for part in wanted}
    ordered: list[Thing] = []
    waiting: list[Thing] = []
    ring: list[Thing] = []

    def place(at: Any) -> None:
        while at is not None:
            ordered.append(waiting.pop(at))
            del open_[ordered[-1].id]
            at = _first_free(waiting, open_, waits)

    for part in wanted:
        waiting.append(part)
        place(_first_free(waiting, open_, waits))
    while waiting:
        rings = [at for at, part in enumerate(waiting) if waits.reaches(part.id, part.id)]
        ring += [waiting[at] for at in rings if not ring]
        place(rings[0])
    return ordered, ring


def _first_free(waiting: list[Thing], open_: dict[str, bool], waits: Waits) -> Any:
    """The place of the first part that waits for none of those still to be placed, or None."""
    for place, part in enumerate(waiting):
        if not any([first in open_ for first in waits.firsts(part.id)]):
            return place
    return None


def _placed_by_hand(strip_id: str, parts: list[Thing]) -> list[Thing]:
    """The parts with those that a person moved where they were put, the latest move last.

    "back_after" holds the part that one comes right after, or the strip-down's own id for the very first.
    """
    moved = [part for part in parts if part.values.get("back_after")]
    if not moved:
        return parts
    # Only where each stands at the moment matters; of two moves the later has its way.
    found = list(parts)
    for part in in_order(moved, lambda each: key_of(_last_of(each.fields["back_after"]))):
        after = part.values["back_after"]
        places = [place for place, each in enumerate(found) if each.id == after]
        if after == part.id or (after != strip_id and not places):
            continue
        found.remove(part)
        place = 0 if after == strip_id else 1 + [each.id for each in found].index(after)
        found.insert(place, part)
    return found


def _last_of(field: Field) -> Any:
    return field.heads[-1]
