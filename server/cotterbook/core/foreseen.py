"""What a map foresees of a machine that is being taken apart: which of it came off, and what was otherwise.

A part is the one that was foreseen where somebody took it off as such, or where name and side are the same. A map taken
twice, or by two phones, foresees each part once.
"""

from typing import Any

from . import maps_alike as alike
from .figures import shown_amount
from .map_masses import ordinary_words, outside
from .maps_make import piece_of
from .strip import Strip
from .thing import Thing
from .words import say

# Of fasteners, what is told when it is otherwise; what nobody wrote down is no difference.
TOLD = ("count", "thread", "length_millimetres", "key", "head", "size", "replace_each_time")


def all_foreseen(strip: Strip) -> list[Thing]:
    """Every foreseen part once, in the map's order, those that were dropped among them."""
    found: dict[str, Thing] = {}
    for each in strip.of_type("foreseen"):
        if each.values.get("name"):
            found.setdefault(alike.part_key(each.values), each)
    turns = [(found[key].values.get("turn") or 0, found[key].id) for key in found]
    by_id = {found[key].id: found[key] for key in found}
    return [by_id[thing] for _, thing in sorted(turns)]


def fasteners_foreseen(strip: Strip) -> dict[str, list[Thing]]:
    """The foreseen fasteners of each foreseen part, by its id."""
    found: dict[str, list[Thing]] = {}
    for each in strip.of_type("foreseen_group"):
        if each.values.get("count") is not None:
            found.setdefault(each.values.get("foreseen") or "", []).append(each)
    return found


def came_off_as(strip: Strip) -> dict[str, Thing]:
    """The part of each foreseen one that came off, by the foreseen one's id."""
    rows = strip.of_type("foreseen")
    if not rows:
        return {}
    found: dict[str, Thing] = {}
    by_key: dict[str, Thing] = {}
    by_id: dict[str, Thing] = {}
    for part in strip.of_type("part"):
        by_key.setdefault(alike.part_key(part.values), part)
        if part.values.get("foreseen"):
            by_id.setdefault(part.values["foreseen"], part)
    # Of a map taken twice, any of the rows may be the one that somebody tapped.
    keys = {row.id: alike.part_key(row.values) for row in rows}
    tapped: dict[str, Thing] = {}
    for row in rows:
        if row.id in by_id:
            tapped.setdefault(keys[row.id], by_id[row.id])
    for row in rows:
        came = by_id.get(row.id) or tapped.get(keys[row.id]) or by_key.get(keys[row.id])
        if came is not None:
            found[row.id] = came
    return found


def foreseen_of(strip: Strip, part: Thing) -> Any:
    """The foreseen part that this one is, or None."""
    came = came_off_as(strip)
    for each in all_foreseen(strip):
        if each.id in came and came[each.id].id == part.id:
            return each
    return None


def otherwise(strip: Strip, part: Thing, foreseen: Thing, rows: list[Thing]) -> list[dict[str, Any]]:
    """In what a part was otherwise than foreseen, in sentences."""
    found = []
    for field in ("pieces", "place", "side"):
        was, thought = part.values.get(field), foreseen.values.get(field)
        if was is not None and thought is not None and was != thought:
            found.append(_differs(field, thought, was))
    ours, theirs = [group.values for group in strip.groups_of(part.id)], [row.values for row in rows]
    for i, j in alike.pairs(ours, theirs):
        if j is None:
            found.append(say("Not foreseen: {what}.", what=alike.fasteners_words(ours[i])))
        elif i is None:
            found.append(say("Foreseen, and not written down: {what}.", what=alike.fasteners_words(theirs[j])))
        else:
            found += _like(ours[i], theirs[j])
    mass, ordinary = piece_of(strip, part), foreseen.values.get("ordinary_grams") or []
    if mass is not None and outside(mass.grams, mass.standard, ordinary):
        words = ordinary_words(ordinary, part.values.get("pieces") or 1)
        found.append(say("Mass of a piece: {mass}. {ordinary}", mass=shown_amount(mass), ordinary=words))
    return found


def _differs(field: str, thought: Any, was: Any, what: str = "") -> dict[str, Any]:
    gaps = {"field": {"field": field}}
    gaps.update(foreseen=alike.shown_value(field, thought), was=alike.shown_value(field, was))
    if what:
        return say("{what}: {field}: {was}, foreseen {foreseen}.", what=what, **gaps)
    return say("{field}: {was}, foreseen {foreseen}.", **gaps)


def _like(ours: dict[str, Any], theirs: dict[str, Any]) -> list[dict[str, Any]]:
    found = []
    for field in TOLD:
        was, thought = ours.get(field), theirs.get(field)
        if was is not None and thought is not None and not alike.same_value(field, was, thought):
            found.append(_differs(field, thought, was, alike.fasteners_words(ours)))
    if alike.has_specification(ours) and alike.has_specification(theirs) and not alike.same_specification(ours, theirs):
        text = "{what}: torque: {was} from this machine’s manual, {foreseen} in the map."
        gaps = {"was": alike.specification_words(ours), "foreseen": alike.specification_words(theirs)}
        found.append(say(text, what=alike.fasteners_words(ours), **gaps))
    return found


def from_the_map(strip: Strip, group: Thing) -> Any:
    """The map's specification for a group of fasteners: its fields; None where it says none for such a thread."""
    part = strip.thing(group.values.get("part") or "")
    foreseen = foreseen_of(strip, part) if part is not None and part.type == "part" else None
    if foreseen is None:
        return None
    rows = [row.values for row in fasteners_foreseen(strip).get(foreseen.id, ())]
    groups = strip.groups_of(part.id)
    for i, j in alike.pairs([each.values for each in groups], rows):
        if i is not None and j is not None and groups[i].id == group.id and alike.has_specification(rows[j]):
            thread = group.values.get("thread")
            other = thread and rows[j].get("thread") and not alike.same_value("thread", thread, rows[j]["thread"])
            return None if other else rows[j]
    return None
