"""What fasteners ask for before the machine runs: a lost one is searched for before anything else.

As with cautions, what asks has no entry of its own until a person answers: it follows from where the fasteners are,
and phones apart can make no doubles of it. The habit is NAS 412's (from memory): while something is missing, the place
where it may lie is not closed up before it is found, or somebody answers for its not being there.
"""

from typing import Any

from .astray import losses, still_lost
from .open_items import with_closing
from .replaced import new_each_time, new_ones
from .strip import Strip
from .thing import Thing, key_of
from .views_group import named
from .words import say

LOST_INSIDE, USED_AGAIN = "lost_inside", "used_again"
GROUP_RULES = (LOST_INSIDE, USED_AGAIN)
INSIDE = "Lost inside the machine? {n} of {count} {what} of {part} lost. Find it, or rule out that it is inside."

AGAIN = "{n} of {count} {what} of {part} were used before, and are new each time. Put new ones in, or say why not."


def stops(strip: Strip) -> list[dict[str, Any]]:
    """All that stops the machine, open or ruled out, part by part.

    Each as {"rule", "part", "group", "n", "sentence", "rests_on", "latest"}, with what `open_items.with_closing` adds.
    """
    # Every screen asks, and in most logs nothing is lost.
    if not strip.counts()["fasteners_lost"]:
        return []
    return _asked(strip, _groups(strip) + uncounted_groups(strip), _lost)


def used_again(strip: Strip) -> list[dict[str, Any]]:
    """What is new each time and was put in again without a reason, as `stops` gives the lost; it stops nothing."""
    return _asked(strip, _groups(strip), _used)


def _groups(strip: Strip) -> list[Thing]:
    return [group for part in strip.of_type("part") for group in strip.groups_of(part.id)]


def uncounted_groups(strip: Strip) -> list[Thing]:
    """Groups of which nothing counts but what was lost: struck ones, and those whose part is not known here."""
    parts = [(group, strip.thing(group.values.get("part") or "")) for group in strip.of_type("group")]
    return strip.struck_groups() + [group for group, part in parts if part is None or part.type != "part"]


def _asked(strip: Strip, groups: list[Thing], of_group: Any) -> list[dict[str, Any]]:
    items, found = items_of_groups(strip), [of_group(strip, group) for group in groups]
    return [with_closing(each, items.get((each["rule"], each["group"]), [])) for each in found if each is not None]


def open_stops(strip: Strip) -> list[dict[str, Any]]:
    """Those that nobody has ruled out since."""
    return [each for each in stops(strip) if each["closed_by"] is None]


def ruled_out(strip: Strip) -> list[str]:
    """The groups whose lost fasteners somebody answered for."""
    return [each["group"] for each in stops(strip) if each["closed_by"] is not None]


def items_of_groups(strip: Strip) -> dict[tuple[str, Any], list[Thing]]:
    """The items by which somebody answered for fasteners, by (rule, group)."""
    found: dict[tuple[str, Any], list[Thing]] = {}
    for item in strip.of_type("item"):
        if item.values.get("rule") and item.values.get("group"):
            found.setdefault((item.values["rule"], item.values["group"]), []).append(item)
    return found


def _lost(strip: Strip, group: Thing) -> Any:
    n = still_lost(strip, group)
    return _asking(strip, group, LOST_INSIDE, INSIDE, n, losses(group)) if n > 0 else None


def _used(strip: Strip, group: Thing) -> Any:
    if new_each_time(strip, group) is None:
        return None
    ones = new_ones(group)
    n = min(ones.used, max(0, strip.ledger(group.id).on))
    return _asking(strip, group, USED_AGAIN, AGAIN, n, ones.used_by) if n > 0 else None


def _asking(strip: Strip, group: Thing, rule: str, text: str, n: int, rests_on: Any) -> dict[str, Any]:
    part, sentence = last_values(strip, group).get("part"), say(text, n=n, **gaps_of(strip, group))
    about = {"rule": rule, "part": part, "group": group.id, "n": n, "sentence": sentence}
    return dict(about, rests_on=rests_on, latest=list(key_of(rests_on[-1])))


def gaps_of(strip: Strip, group: Thing) -> dict[str, Any]:
    """What fills "{count} {what} of {part}" for a group; that it is struck, or its part, is said beside its name."""
    values = last_values(strip, group)
    part = strip.thing(values.get("part") or "")
    what, name = named(values), "" if part is None else last_values(strip, part).get("name") or ""
    return {
        "count": values.get("count") or 0,
        "what": what if group.alive else say("{what} (struck)", what=what),
        "part": _called(part, name),
    }


def _called(part: Any, name: str) -> Any:
    if part is None or part.type != "part":
        # Its entry was struck, is of a newer program, or has not come yet.
        return say("a part that is not known here")
    return name if part.alive else say("{part} (struck)", part=name)


def last_values(strip: Strip, thing: Thing) -> dict[str, Any]:
    """The values of a thing; of one that is struck, those that it had."""
    if thing.alive:
        return thing.values
    found: dict[str, Any] = {}
    for entry in strip.filed(thing.id):
        found.update(entry["values"] if entry["kind"] == "set" else {})
    return found
