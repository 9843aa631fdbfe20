"""What the screens show of maps: one that is made, one that is looked at, two merged, and what is foreseen here."""

from typing import Any

from .figures import NEWTON_METRES_IN, plain_number
from .foreseen import all_foreseen, came_off_as, fasteners_foreseen, otherwise
from .map_masses import ordinary_words
from .map_torques import unit_as_written
from .maps import in_short, map_text, read_map
from .maps_alike import fasteners_words, specification_words
from .maps_make import disputes_of, map_of, parts_for
from .maps_merge import merge
from .strip import Strip
from .thing import Thing
from .words import Refused, problem

# Of fasteners, what the form for taking off is filled with as it is kept; a torque never is.
FILLED = ("count", "thread", "head", "key", "grade", "sits", "into", "washers", "size", "finish", "pattern",
          "replace_each_time", "outside_engine")  # fmt: skip


def make_map(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """{"text": the map of this machine as its file holds it, "short": what is in it}; `machine`: the kind in words."""
    text = map_text(map_of(strip, arguments.get("machine"), arguments.get("now_ms")))
    # What was made is read as any other map is before anybody gets it.
    short = in_short(read_map(text))
    return {"text": text, "short": dict(short, doubts=disputes_of(strip) + short["doubts"])}


def look_at_map(arguments: dict[str, Any]) -> dict[str, Any]:
    """What is in the map whose file has this `text`; Refused with everything that is wrong in it."""
    return in_short(read_map(arguments.get("text")))


def merge_maps(arguments: dict[str, Any]) -> dict[str, Any]:
    """Two maps by their files' texts, `first` and `second`, into one.

    {"text", "short", "differences", "of_other_kinds"}; `take` are the numbers of the differences in
    which the second stands. What is wrong in either is refused.
    """
    maps, problems = [], []
    for which in ("first", "second"):
        try:
            maps.append(read_map(arguments.get(which)))
        except Refused as refused:
            problems += [dict(each, field=which + "." + each["field"]) for each in refused.problems]
    take = arguments.get("take") or []
    if not isinstance(take, list):
        problems.append(problem("bad_form", "take", "This part of the form cannot be read."))
    if problems:
        raise Refused(problems)
    found = merge(maps[0], maps[1], take)
    text = map_text(found["map"])
    return {
        "text": text,
        # What was merged is read as any other map is before anybody gets it.
        "short": in_short(read_map(text)),
        "differences": found["differences"],
        "of_other_kinds": found["of_other_kinds"],
    }


def foreseen_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """What maps foresee here: {"parts" in the map's order, "left", "done", "otherwise", "dropped", "for_a_map"}.

    A part is {"foreseen", "name", "place", "side", "pieces", "fasteners": in a few signs, "ordinary": sentence or None,
    "about_minutes", "state": "left", "done" or "dropped", "part": what came off, "otherwise": sentences, "form": what
    the form for taking off begins with}. "for_a_map" is how many parts a map made here would have.
    """
    came, groups = came_off_as(strip), fasteners_foreseen(strip)
    bag = _next_bag(strip)
    parts = [_part(strip, each, came.get(each.id), groups.get(each.id, []), bag) for each in all_foreseen(strip)]
    states = [part["state"] for part in parts]
    own = strip.thing(strip.id)
    machine = strip.thing((own.values.get("machine") if own is not None else None) or "")
    return {
        "parts": parts,
        "left": states.count("left"),
        "done": states.count("done"),
        "dropped": states.count("dropped"),
        "otherwise": len([part for part in parts if part["otherwise"]]),
        "for_a_map": len(parts_for(strip)),
        "machine": (machine.values.get("name") if machine is not None else None) or "",
    }


def _part(strip: Strip, each: Thing, part: Any, rows: list[Thing], bag: str) -> dict[str, Any]:
    values = each.values
    state = "done" if part is not None else "dropped" if values.get("dropped") else "left"
    return {
        "foreseen": each.id,
        "map": values.get("map"),
        "name": values.get("name"),
        "place": values.get("place"),
        "side": values.get("side"),
        "pieces": values.get("pieces") or 1,
        "fasteners": [fasteners_words(row.values) for row in rows],
        "torques": [specification_words(row.values) for row in rows],
        "ordinary": ordinary_words(values.get("ordinary_grams"), values.get("pieces") or 1),
        "about_minutes": values.get("about_minutes"),
        "state": state,
        "part": None if part is None else part.id,
        "otherwise": [] if part is None else otherwise(strip, part, each, rows),
        "form": _form(each, rows, bag) if state == "left" else None,
    }


def _form(each: Thing, rows: list[Thing], bag: str) -> dict[str, Any]:
    form = {name: each.values.get(name) for name in ("name", "place", "side")}
    groups = []
    for row in rows:
        group = {name: row.values[name] for name in FILLED if row.values.get(name) is not None}
        if row.values.get("length_millimetres") is not None:
            group["length"] = plain_number(row.values["length_millimetres"])
        # The manual of this machine has it in the map's unit or, where that says none, in what the pages begin with.
        unit = unit_as_written(row.values.get("torque_as_written"))
        if unit in NEWTON_METRES_IN:
            group["torque_unit"] = unit
        groups.append(group)
    form.update(
        pieces=each.values.get("pieces") or 1,
        foreseen=each.id,
        groups=groups,
        bag_label=bag if groups else "",
    )
    return form


def _next_bag(strip: Strip) -> str:
    """The number after the highest on a bag: what is taken off next wants one that is empty."""
    numbers = [0]
    for each in strip.of_type("bag"):
        label = each.values.get("label") or ""
        if label and len(label) <= 6 and all([c in "0123456789" for c in label]):
            numbers.append(int(label))
    return str(max(numbers) + 1)
