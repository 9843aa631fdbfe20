"""Two maps of one kind of machine made into one, with everything in which they differ."""

from typing import Any

from . import maps_alike as alike
from .figures import plain_number
from .maps import FORMAT, MOST_FASTENERS, MOST_PARTS, MOST_PROBLEMS, MOST_SEEN
from .second_check import same_name
from .words import Refused, problem, say

PART_FIELDS = ("place", "pieces")
OF_ONE_MACHINE = (
    ("grams_a_piece", "mass", "Two masses of one machine: {first} in the first map, {second} in the second."),
    ("minutes", "time", "Two times of one machine: {first} minutes in the first map, {second} in the second."),
)
# Both stand in what comes of it, or another choice decides: there is nothing to choose.
NO_CHOICE = ("only_first", "only_second", "order", "with_thread")


class Merging:
    """Two maps on their way into one. `second` are the numbers of differences in which the second map is right."""

    def __init__(self, second: Any = ()):
        self.second = second
        self.differences: list[dict[str, Any]] = []
        self.problems: list[dict[str, Any]] = []

    def at_most(self, limit: int, found: list[Any], text: str, **gaps: Any) -> None:
        """Writes down that both maps together say more of something than one may hold."""
        if len(found) > limit:
            self.problems.append(problem("too_many", "", text, limit=limit, **gaps))

    def differ(self, what: str, part: Any, sentence: dict[str, Any]) -> bool:
        """Writes a difference of a part down, by its name; whether the second map's answer is to stand."""
        number = len(self.differences)
        taken = number in self.second
        choice = what not in NO_CHOICE
        self.differences.append(
            {
                "number": number,
                "what": what,
                "part": part,
                "sentence": sentence,
                "choice": choice,
                "second": taken and choice,
            }
        )
        return taken


def merge(first: dict[str, Any], second: dict[str, Any], take: Any = ()) -> dict[str, Any]:
    """{"map", "differences", "of_other_kinds"}: the first map stands where both speak, the second fills what is open.

    `take` are the numbers of the differences in which the second stands instead. A difference is {"number", "what",
    "part": its name, "sentence", "choice": whether there is one, "second": whether that stands}; those of one part
    stand together but for its turn. A specification is one whole. Masses and times of all machines are kept, each
    machine once. Refused, with every reason, where all of it is more than a map holds: nothing is ever left out.
    """
    merging = Merging(take)
    matched = _matched(first["parts"], second["parts"])
    found: dict[int, dict[str, Any]] = {}
    for i in range(len(first["parts"])):
        ours, j = first["parts"][i], matched.get(i)
        if j is None:
            merging.differ("only_first", _name(ours), say("Only in the first map."))
            found[i] = ours
        else:
            found[i] = _part(ours, second["parts"][j], merging)
    turned = _turned(matched)
    for i in turned:
        text = "It comes off at another turn in the second map: as {second}, not as {first}."
        merging.differ("order", _name(first["parts"][i]), say(text, first=i + 1, second=matched[i] + 1))
    parts = _in_turn(found, first["parts"], second["parts"], matched, merging)
    merging.at_most(MOST_PARTS, parts, "Both maps together have more than {limit} parts.")
    if merging.problems:
        raise Refused(merging.problems[:MOST_PROBLEMS])
    return {
        "map": {"format": FORMAT, "machine": first["machine"], "parts": parts},
        "differences": merging.differences,
        "of_other_kinds": same_name(first["machine"]) != same_name(second["machine"]),
    }


def _name(part: dict[str, Any]) -> Any:
    side = part.get("side")
    return say("{name} ({side})", name=part["name"], side={"label": side}) if side else part["name"]


def _matched(ours: list[dict[str, Any]], theirs: list[dict[str, Any]]) -> dict[int, int]:
    """Which part of the second map each of the first is; several of one name and side in their order."""
    waiting: dict[str, list[int]] = {}
    for j in range(len(theirs)):
        waiting.setdefault(alike.part_key(theirs[j]), []).append(j)
    found = {}
    for i in range(len(ours)):
        same = waiting.get(alike.part_key(ours[i]))
        if same:
            found[i] = same.pop(0)
    return found


def _part(ours: dict[str, Any], theirs: dict[str, Any], merging: Merging) -> dict[str, Any]:
    name, found = _name(ours), dict(ours)
    for field in PART_FIELDS:
        found[field] = _settled(field, ours.get(field), theirs.get(field), name, "", merging)
    found["fasteners"] = _fasteners(ours["fasteners"], theirs["fasteners"], name, merging)
    found["seen_on"] = _seen(ours["seen_on"], theirs["seen_on"], name, merging)
    return {field: found[field] for field in found if found[field] is not None}


def _settled(field: str, one: Any, other: Any, part: Any, what: str, merging: Merging) -> Any:
    """What stands of a field; an answer where the other has none is no difference."""
    if one is None or other is None:
        return other if one is None else one
    if alike.same_value(field, one, other):
        return one
    text = "{field}: {first} in the first map, {second} in the second."
    if what:
        text = "{what}: {field}: {first} in the first map, {second} in the second."
    gaps = {"what": what, "field": {"field": field}}
    gaps.update(first=alike.shown_value(field, one), second=alike.shown_value(field, other))
    return other if merging.differ(field, part, say(text, **gaps)) else one


def _fasteners(ours: list[Any], theirs: list[Any], part: Any, merging: Merging) -> list[dict[str, Any]]:
    if not ours or not theirs:
        # Where one map wrote none down, the other fills what is open.
        return list(ours or theirs)
    found = []
    for i, j in alike.pairs(ours, theirs):
        if i is not None and j is not None:
            found.append(_like(ours[i], theirs[j], part, merging))
        elif i is not None:
            sentence = say("{what} only in the first map.", what=alike.fasteners_words(ours[i]))
            # Where the second is right, there are none.
            if not merging.differ("fasteners", part, sentence):
                found.append(ours[i])
        else:
            sentence = say("{what} only in the second map.", what=alike.fasteners_words(theirs[j]))
            if merging.differ("fasteners", part, sentence):
                found.append(theirs[j])
    text = "{part}: both maps together have more than {limit} kinds of fasteners here. Take fewer from the second."
    merging.at_most(MOST_FASTENERS, found, text, part=part)
    return found


def _like(ours: dict[str, Any], theirs: dict[str, Any], part: Any, merging: Merging) -> dict[str, Any]:
    what, found = alike.fasteners_words(ours), {}
    for field in alike.COMPARED:
        found[field] = _settled(field, ours.get(field), theirs.get(field), part, what, merging)
    both = alike.has_specification(ours) and alike.has_specification(theirs)
    gaps = {"first": alike.specification_words(ours), "second": alike.specification_words(theirs)}
    stands = alike.specification_of(ours if alike.has_specification(ours) else theirs)
    threads = [each.get("thread") for each in (ours, theirs)]
    if None not in threads and not alike.same_value("thread", threads[0], threads[1]):
        # A torque is one of its thread: that of the map whose thread stands.
        stands = alike.specification_of(ours if found["thread"] == ours["thread"] else theirs)
        if not alike.same_specification(ours, theirs):
            text = "{what}: its torque goes with its thread: {first} in the first map, {second} in the second."
            merging.differ("with_thread", part, say(text, what=what, **gaps))
    elif both:
        same = alike.same_specification(ours, theirs)
        if not same or ours.get("torque_page") != theirs.get("torque_page"):
            text = "{what}: torque: {first} in the first map, {second} in the second."
            if same:
                text = "{what}: one torque, from two places: {first} in the first map, {second} in the second."
            if merging.differ("specification", part, say(text, what=what, **gaps)):
                stands = alike.specification_of(theirs)
    found.update(stands)
    return {field: found[field] for field in found if found[field] is not None}


def _seen(ours: list[Any], theirs: list[Any], part: Any, merging: Merging) -> list[dict[str, Any]]:
    """What each machine said, each once; one that stands in both maps with two masses is a difference."""
    found, by_machine = [dict(each) for each in ours], {each["machine"]: each for each in theirs}
    for each in found:
        other = by_machine.pop(each["machine"], {})
        for field, what, text in OF_ONE_MACHINE:
            mine, own = each.get(field), other.get(field)
            if mine is None or own is None:
                each[field] = own if mine is None else mine
            elif abs(mine - own) > 1e-6:
                shown = [_of_one_machine(field, value) for value in (mine, own)]
                if merging.differ(what, part, say(text, first=shown[0], second=shown[1])):
                    each[field] = own
    found = [{name: each[name] for name in each if each[name] is not None} for each in found]
    found += [each for each in theirs if each["machine"] in by_machine]
    text = "{part}: both maps together know more than {limit} machines."
    merging.at_most(MOST_SEEN, found, text, part=part)
    return found


def _of_one_machine(field: str, value: Any) -> Any:
    return {"value": plain_number(value), "plus_minus": None, "unit": "g"} if field == "grams_a_piece" else value


def _turned(matched: dict[int, int]) -> list[int]:
    """Of the parts in both maps those that come at another turn: all but a longest run in the same order."""
    order = sorted(matched)
    # best[n] is how long a run can be that ends with the nth of them, before[n] the one it follows.
    best, before = [1] * len(order), [-1] * len(order)
    for n in range(len(order)):
        for m in range(n):
            if matched[order[m]] < matched[order[n]] and best[m] + 1 > best[n]:
                best[n], before[n] = best[m] + 1, m
    if not best:
        return []
    at, kept = best.index(max(best)), {}
    while at >= 0:
        kept[order[at]] = True
        at = before[at]
    return [i for i in order if i not in kept]


def _in_turn(
    found: dict[int, Any], first: list[Any], second: list[Any], matched: dict[int, int], merging: Merging
) -> list[dict[str, Any]]:
    """The parts in the first map's order, those that only the second has behind the one that they follow there."""
    following: dict[int, list[Any]] = {}
    last, back = -1, {matched[i]: i for i in matched}
    for j in range(len(second)):
        if j in back:
            last = back[j]
            continue
        merging.differ("only_second", _name(second[j]), say("Only in the second map."))
        following.setdefault(last, []).append(second[j])
    parts = list(following.get(-1, ()))
    for i in range(len(first)):
        parts.append(found[i])
        parts += following.get(i, ())
    return parts
