"""Every fastener of a strip-down, counted by thread and length, and every difference with its part and its bag.

The habit is that of aviation's control of loose hardware (NAS 412, from memory): what was issued for a job is
accounted for before the job is left, and what cannot be found is searched for and written down, not passed over.
"""

from typing import Any

from .astray import covered, still_lost
from .going_on import is_on
from .group_needs import two_counts
from .ordering import in_order
from .stops import gaps_of, last_values, uncounted_groups
from .strip import Strip
from .thing import Thing
from .threads import is_left_hand, read_thread
from .views_group import bag_label, named
from .words import say

# What the count of a group says: of how many, and where they are. `came` and `new` are what there is in all,
# `on`, `in_bags`, `no_bag`, `spares`, `scrapped` and `lost` are where it is; the two sums are equal.
FIGURES = ("came", "new", "on", "back", "out", "in_bags", "no_bag", "spares", "scrapped", "lost", "stock")
WHERE = ("on", "in_bags", "no_bag", "spares", "scrapped", "lost")
COVERED = (
    "{n} more {what} of {part} were once taken out than were there ({place}), though the count is even again. "
    "Count them again, and strike the move that was not so."
)
# Differences that a spell is not closed over without a word.
LOST = "{n} of {count} {what} of {part} lost"
ASKED = ("lost", "no_bag", "overdrawn", "two_counts")


def count_of(strip: Strip, group: Thing) -> dict[str, int]:
    """How many of a group's fasteners are where, by FIGURES: came + new = the sum of WHERE, whatever was logged.

    `came` with the machine, `new` out of stock; `back` were put in, of those `on` the machine, and `out` are what it
    still lacks; `stock` are those of a part new to the machine that were never taken. A place that more left than were
    there counts below zero.
    """
    ledger = strip.ledger(group.id)
    came = ledger.count if ledger.begins == "machine" else 0
    from_stock = ledger.count - came - ledger.at("stock")
    no_bag = ledger.places.get(("bag", ""), 0)
    found = {where: ledger.at(where) for where in ("spares", "scrapped", "lost")}
    found.update(came=came, new=from_stock, on=ledger.on, back=ledger.back, out=ledger.out, no_bag=no_bag)
    return dict(found, in_bags=ledger.at("bag") - no_bag, stock=max(0, ledger.at("stock")))


def count_lines(strip: Strip) -> list[dict[str, Any]]:
    """One line for each thread and length: "called", the sums of FIGURES, and the "groups" that they are of.

    Threads that read as the same are one line, however they were written. In the order of their sizes, those that
    no table has last.
    """
    lines: dict[str, dict[str, Any]] = {}
    for group in strip.of_type("group"):
        size = size_of(group.values)
        line = lines.get(size["key"])
        if line is None:
            line = lines[size["key"]] = dict(size, groups=[], figures={name: 0 for name in FIGURES})
        counted = count_of(strip, group)
        for name in FIGURES:
            line["figures"][name] += counted[name]
        line["groups"].append((group, counted))
    return in_order(lines.values(), lambda line: line["order"])


def size_of(values: dict[str, Any]) -> dict[str, Any]:
    """A group's thread and length as a line of the count: {"key", "called", "order"}."""
    thread, length = read_thread(values.get("thread")), values.get("length_millimetres") or 0
    if thread is None:
        written = " ".join(str(values.get("thread") or values.get("size") or "").split())
        text = (written or "key " + str(values.get("key") or "")) + " " + str(float(length))
        return {"key": text, "called": named(dict(values, thread=written)), "order": (1, 0.0, 0.0, float(length), text)}
    name = thread.name + (" LH" if is_left_hand(values.get("thread")) else "")
    order = (0, thread.diameter, thread.pitch, float(length), name)
    return {"key": name + " " + str(float(length)), "called": named(dict(values, thread=name)), "order": order}


def differences(strip: Strip) -> list[dict[str, Any]]:
    """What does not add up, each as {"code", "part", "group", "bag", "n", "text": a sentence}, part by part."""
    found = [each for part in strip.of_type("part") for each in differences_of(strip, part)]
    return found + _lost_of_uncounted(strip)


def _lost_of_uncounted(strip: Strip) -> list[dict[str, Any]]:
    """Of what was written down by mistake nothing counts, but what was lost of it is not found by that.

    The same holds of fasteners whose part is not known here.
    """
    found: list[dict[str, Any]] = []
    for group in uncounted_groups(strip) if strip.counts()["fasteners_lost"] else ():
        n = still_lost(strip, group)
        if n > 0:
            text, part = say(LOST, n=n, **gaps_of(strip, group)), last_values(strip, group).get("part")
            found.append({"code": "lost", "part": part, "group": group.id, "bag": None, "n": n, "text": text})
    return found


def asked(strip: Strip, answered: Any = ()) -> list[dict[str, Any]]:
    """The differences that a spell is not closed over in silence; without the lost of groups that are `answered`."""
    return [each for each in differences(strip) if each["code"] in ASKED and not _is_answered(each, answered)]


def asked_of(strip: Strip, group: str) -> list[dict[str, Any]]:
    """Those of one group."""
    thing = strip.thing(group)
    part = strip.thing(thing.values.get("part") or "") if thing is not None else None
    found = differences_of(strip, part) if part is not None and part.alive else _lost_of_uncounted(strip)
    return [each for each in found if each["group"] == group and each["code"] in ASKED]


def _is_answered(each: dict[str, Any], answered: Any) -> bool:
    return each["code"] == "lost" and each["group"] in answered


def differences_of(strip: Strip, part: Thing) -> list[dict[str, Any]]:
    """The differences of the groups of one part, the gravest of each group first."""
    return [each for group in strip.groups_of(part.id) for each in _of_group(strip, part, group)]


def _of_group(strip: Strip, part: Thing, group: Thing) -> list[dict[str, Any]]:
    ledger, counted = strip.ledger(group.id), count_of(strip, group)
    what = {"count": ledger.count, "what": named(group.values), "part": part.values.get("name") or ""}
    found: list[dict[str, Any]] = []

    def add(code: str, n: int, text: str, in_bag: Any = None, **more: Any) -> None:
        sentence = say(text, **dict(what, n=n, **more))
        found.append({"code": code, "part": part.id, "group": group.id, "bag": in_bag, "n": n, "text": sentence})

    lost = still_lost(strip, group)
    if lost > 0:
        add("lost", lost, LOST)
    for where, bag in ledger.overdrawn():
        n = -ledger.places[(where, bag)]
        text = "{n} more {what} of {part} were taken out than were there ({place}). Count them again."
        in_bag = "{n} more {what} of {part} were taken out of bag {bag} than were in it. Count them again."
        label = bag_label(strip, bag)
        add("overdrawn", n, in_bag if label else text, bag or None, place={"label": where}, bag=label)
    for where, bag, n in covered(strip, group):
        place = {"label": where} if not bag_label(strip, bag) else say("bag {bag}", bag=bag_label(strip, bag))
        add("overdrawn", n, COVERED, bag or None, place=place)
    counts = two_counts(group)
    if counts:
        text = "Two counts of {what} of {part}: {counts}. Settle which is right."
        add("two_counts", ledger.count, text, counts=", ".join([str(each) for each in counts]))
    if counted["no_bag"] > 0:
        add("no_bag", counted["no_bag"], "{n} of {count} {what} of {part} out, in no bag")
    if counted["on"] > ledger.count:
        add("too_many", counted["on"] - ledger.count, "{n} {what} too many on {part}")
    elif counted["out"] and is_on(part.values):
        add("short", counted["out"], "{part} is on, and {n} of {count} {what} are not")
    if not counted["out"] and is_on(part.values):
        for where, bag, n in ledger.elsewhere():
            if where == "bag" and bag and n > 0:
                text = "{n} {what} left over in bag {bag}: {part} has all of its own"
                add("left_over", n, text, bag, bag=bag_label(strip, bag) or "")
    return found
