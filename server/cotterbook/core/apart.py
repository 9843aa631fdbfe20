"""Work on one group by phones that did not have each other's entries: what each did not know, and what follows.

Each entry about a group's fasteners names in `seen_last` the last ones of that group that its phone knew, as a `set`
names in `saw` what it replaces. What stands before it in the log, is by another phone, and is behind none of those,
its phone did not know: clocks that are wrong change nothing about that. Entries of older programs, without the field,
are taken to know all that stands before them.
"""

from typing import Any

from .limits import SEEN_LAST
from .second_check import same_name
from .words import say

HANDLING = ("move", "tighten", "witness", "second_check", "waive")


def unseen_of(filed: list[dict[str, Any]], counted: list[dict[str, Any]]) -> dict[str, list[dict[str, Any]]]:
    """By the id of an entry, those before it that its phone did not know, in order; only where there are any.

    `filed` is all that was filed under the group, struck entries too, since those were known as well; `counted` the
    entries of it that count.
    """
    missed = _missed([entry for entry in filed if entry["kind"] in HANDLING])
    found = {}
    for entry in counted:
        ids = missed.get(entry["id"])
        if ids:
            found[entry["id"]] = [each for each in counted if each["id"] in ids]
    return found


def unseen_at_goings(placed: list[dict[str, Any]], unseen: dict[str, Any]) -> dict[str, list[dict[str, Any]]]:
    """By the id of a part's going off or on, among its fasteners' entries, those before it that its phone did not know.

    Entries of parts do not say what was known of fasteners. What the phone did not know when it next wrote of these, it
    did not know before either.
    """
    found = {}
    for n, going in enumerate(placed):
        if going["kind"] not in HANDLING:
            ids = [each["id"] for each in placed[:n]]
            own = [each for each in placed[n:] if each["by"] == going["by"] and each["kind"] in HANDLING]
            if own:
                found[going["id"]] = [each for each in unseen.get(own[0]["id"], ()) if each["id"] in ids]
    return found


def last_known(filed: list[dict[str, Any]]) -> list[str]:
    """Ids of the entries about fasteners of a group that no other one of them knew of, in order."""
    handling = [entry for entry in filed if entry["kind"] in HANDLING]
    missed = _missed(handling)
    last: list[str] = []
    for entry in reversed(handling):
        if all([entry["id"] in missed.get(later, ()) for later in last]):
            last.append(entry["id"])
    return list(reversed(last[:SEEN_LAST]))


def say_what_was_known(strip: Any, entries: list[dict[str, Any]]) -> None:
    """Puts `seen_last` into the entries that an act made about fasteners of a group that this phone knows."""
    before: dict[str, list[str]] = {}
    for entry in entries:
        if entry["kind"] in HANDLING and strip.filed(entry["group"]):
            group = entry["group"]
            entry["seen_last"] = before[group] if group in before else last_known(strip.filed(group))
            before[group] = [entry["id"]]


def _missed(handling: list[dict[str, Any]]) -> dict[str, set[str]]:
    """By the id of an entry, the ids before it that its phone did not know; only where there are any."""
    if len(set([entry["by"] for entry in handling])) < 2:
        return {}
    missed: dict[str, set[str]] = {}
    place: dict[str, int] = {}
    for n, entry in enumerate(handling):
        ids = _missed_by(handling, n, place, missed)
        if ids:
            missed[entry["id"]] = ids
        place[entry["id"]] = n
    return missed


def _missed_by(handling: list[dict[str, Any]], n: int, place: dict[str, int], missed: Any) -> set[str]:
    by, last = handling[n]["by"], handling[n].get("seen_last")
    # What it knew may stand after it, where a clock was days ahead: then nothing is said against it.
    if last is None or any([each not in place for each in last]):
        return set()

    def others(entries: list[dict[str, Any]]) -> set[str]:
        return set([each["id"] for each in entries if each["by"] != by])

    if not last:
        return others(handling[:n])
    found: Any = None
    for known in last:
        since = others(handling[place[known] + 1 : n] + [handling[place[each]] for each in missed.get(known, ())])
        found = since if found is None else found & since
    return set(found)


class Unseen:
    """What one entry did not know, counted: how far it can be of the same fasteners as what others did."""

    def __init__(self, entry: dict[str, Any], unseen: Any, steps: int):
        self._entry, self._unseen, self._steps = entry, unseen, steps

    def _of_step(self, each: dict[str, Any]) -> int:
        """The step of a tightening; each one after those before the last is the last."""
        return min(self._steps, (each.get("step") or self._steps + 1) - 1) + 1

    def work(self) -> list[dict[str, Any]]:
        """Moves on or off the machine, tightenings and marks."""
        return [
            each
            for each in self._unseen
            if each["kind"] in ("tighten", "witness")
            or each["kind"] == "move"
            and "machine" in (each["from"], each["to"])
        ]

    def same_step(self) -> list[dict[str, Any]]:
        """Tightenings of the same step that may be of the same ones: all but those of other places of one order."""
        entry, places = self._entry, set(self._entry.get("positions") or ())
        return [
            each
            for each in self._unseen
            if each["kind"] == "tighten"
            and self._of_step(each) == self._of_step(entry)
            and not (places and each.get("positions") and each["pattern"] == entry["pattern"])
        ]

    def looks(self) -> list[dict[str, Any]]:
        """Looks that found them right."""
        return [each for each in self._unseen if each.get("found") == "right"]

    def came_loose(self, end: str) -> list[dict[str, Any]]:
        """What moved some `to` or `from` the machine, or loosened them: a step before the last, or "not right"."""
        return [
            each
            for each in self._unseen
            if each["kind"] == "move"
            and each[end] == "machine"
            or each["kind"] == "tighten"
            and self._of_step(each) <= self._steps
            or each.get("found") == "not_right"
        ]

    def marks(self) -> list[dict[str, Any]]:
        """Marks."""
        return [each for each in self._unseen if each["kind"] == "witness"]

    def found_not_right(self) -> list[dict[str, Any]]:
        """Looks that found some not right."""
        return [each for each in self._unseen if each.get("found") == "not_right"]

    def same_source(self) -> list[dict[str, Any]]:
        """Moves from the same place."""
        entry = self._entry
        return [
            each
            for each in self._unseen
            if each["kind"] == "move"
            and (each["from"], each.get("from_bag")) == (entry["from"], entry.get("from_bag"))
        ]


def many(entries: list[dict[str, Any]]) -> int:
    """How many fasteners these entries are of, counted one beside the other."""
    return sum([each["count"] for each in entries])


def noted(code: str, entry: dict[str, Any], others: list[dict[str, Any]]) -> dict[str, Any]:
    """What follows from what an entry did not know: a code of `LINES` and `GROUPS`, and the last of the others."""
    return {"code": code, "entry": entry, "other": others[-1]}


def line_words(note: dict[str, Any]) -> dict[str, Any]:
    """What the record says at an entry that did not know of another."""
    return say(LINES[note["code"]], other=_other(note), n=note["other"]["count"])


def group_words(note: dict[str, Any]) -> dict[str, Any]:
    """What is said of the group, and what to do."""
    return say(GROUPS[note["code"]], who=note["entry"]["who"], other=_other(note), n=note["entry"].get("count") or 0)


def _other(note: dict[str, Any]) -> Any:
    who = note["other"]["who"]
    if same_name(who) == same_name(note["entry"]["who"]):
        return say("{who} on another phone", who=who)
    return who


LINES = {
    "same": "Not known then: {other} tightened {n}. They are taken to be the same, as far as can be.",
    "loose": "Not known then: {other} had {n} of them out or loose. So many are not taken to be tight.",
    "same_marked": "Not known then: {other} marked {n}. They are taken to be the same.",
    "loose_marked": "Not known then: {other} had {n} of them out or loose. So many marks do not count.",
    "turned_marked": "Not known then: {other} tightened {n} once more. So many marks do not count.",
    "looked": "Not known then: the work of {other}. So this look does not count.",
    "waived": "Not known then: {other} had found {n} not right. So this decision does not count.",
    "same_looked": "Not known then: {other} looked at {n}. They are taken to be the same.",
    "moved": "Not known then: {other} moved {n} from there, and there were not so many. "
    "If it was once, strike this one.",
}
GROUPS = {
    "same": "{who} and {other} tightened these apart, perhaps the same ones. Tighten all once more, or those left out.",
    "loose": "{who} tightened these without knowing that {other} had some out or loose. Tighten them again.",
    "same_marked": "{who} and {other} marked these apart, perhaps the same ones. Mark those that have no mark.",
    "loose_marked": "{who} marked these without knowing that {other} had some out or loose. Mark them again.",
    "turned_marked": "{who} marked these without knowing that {other} tightened some once more. Mark them again.",
    "looked": "{who} looked before the work of {other} was known. Look again.",
    "waived": "{who} did without a second check before what {other} found not right was known. Decide again.",
    "same_looked": "{who} and {other} looked at these apart, perhaps the same ones. Look at the others.",
    "moved": "{who} and {other} both wrote down that {n} of these moved. If it was once, strike the one of {who} "
    "in the record.",
}
