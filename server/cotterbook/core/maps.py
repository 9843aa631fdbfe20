"""A map: what a kind of machine is made of, in the order it comes apart, as a plain value that travels as a file.

    {"format": "cotterbook-map/1", "machine": the kind of machine in words,
     "parts": [{"name", "place", "side", "pieces", "fasteners": [{fields of a group}],
                "seen_on": [{"machine": an id, "grams_a_piece", "minutes"}]}]}

The list of parts is the order. Each machine is known by an id alone, so that one that comes in two maps counts once. In
a map are no names of people, no number of a machine, no notes and no pictures. Every quantity has its unit in its key.
`read_map` is the only place that says what a map must hold.
"""

import json
from typing import Any

from .entries import check_kind
from .figures import plain_number
from .map_torques import torque_doubts, wrong_torque
from .maps_alike import fasteners_words, has_specification, part_key
from .ordinary_masses import ordinary_mass
from .part_names import in_english
from .values import CHECKS, is_id
from .words import Refused, problem, say

FORMAT = "cotterbook-map/1"
FAMILY = "cotterbook-map/"
# So much is read and taken on a phone before its core is held to be dead.
MOST_CHARACTERS, MOST_KINDS = 400_000, 1_000
MOST_PARTS, MOST_FASTENERS, MOST_SEEN, MOST_PROBLEMS = 400, 40, 100, 50
OF_MAP, OF_PART = ("format", "machine", "parts"), ("name", "place", "side", "pieces")
SEEN: tuple[tuple[str, str, Any], ...] = (
    ("grams_a_piece", "number", (0, 500_000)),
    ("minutes", "integer", (0, 100_000)),
)
# Any id: what a map holds is checked as the entries that it will become.
_ANY = "00000000-0000-7000-8000-000000000000"
# So far outside of what such parts weigh it is another unit, not another machine (common practice, no source).
FAR = 5.0
UNITS = (
    "A map has no field {name}. Its lengths are in millimetres, its torques in newton metres, its masses in grams, its "
    "times in minutes."
)


def read_map(text: Any) -> dict[str, Any]:
    """The map in a file's text, whole and checked; Refused with everything that is wrong, each with its place in words.

    Fields without a value are left out of what is given back.
    """
    found = _parsed(text)
    problems = _top(found)
    if problems:
        raise Refused(problems)
    parts = []
    for index, part in enumerate(found["parts"]):
        parts.append(_part(part, index, problems))
        if len(problems) >= MOST_PROBLEMS:
            break
    if problems:
        raise Refused(problems[:MOST_PROBLEMS])
    return {"format": FORMAT, "machine": found["machine"], "parts": parts}


def map_text(found: dict[str, Any]) -> str:
    """A map as the text of its file."""
    return json.dumps(found)


def _parsed(text: Any) -> Any:
    if not isinstance(text, str) or len(text) > MOST_CHARACTERS:
        raise Refused([problem("too_big", "map", "This file is too large for a map.")])
    try:
        return json.loads(text[1:] if text[:1] == "\ufeff" else text)
    except (ValueError, RuntimeError, MemoryError):
        pass
    raise Refused([problem("no_map", "map", "This file is no map: it cannot be read as one.")])


def _top(found: Any) -> list[dict[str, Any]]:
    made = found.get("format") if isinstance(found, dict) else None
    if made != FORMAT and not _is_newer(made):
        return [problem("no_map", "map", "This file is no map: it cannot be read as one.")]
    if made != FORMAT:
        return [problem("newer_map", "map", "This map was made by a newer version. Take the newer version first.")]
    wrong = [_unknown("", name) for name in sorted(found) if name not in OF_MAP]
    said = CHECKS["text"](found.get("machine"), 120)
    if said:
        wrong.append(_wrong("machine", say("The kind of machine"), say(said[1], **said[2])))
    parts = found.get("parts")
    if not isinstance(parts, list) or not parts:
        wrong.append(problem("no_parts", "parts", "This map has no parts."))
    elif len(parts) > MOST_PARTS:
        wrong.append(problem("too_many", "parts", "A map has at most {limit} parts.", limit=MOST_PARTS))
    elif sum([_how_many(part) for part in parts]) > MOST_KINDS:
        words = "A map has at most {limit} kinds of fasteners in all."
        wrong.append(problem("too_many", "parts", words, limit=MOST_KINDS))
    return wrong


def _how_many(part: Any) -> int:
    rows = part.get("fasteners") if isinstance(part, dict) else None
    return len(rows) if isinstance(rows, list) else 0


def _is_newer(made: Any) -> bool:
    number = made[len(FAMILY) :] if isinstance(made, str) and made[: len(FAMILY)] == FAMILY else ""
    return 1 <= len(number) <= 4 and all([c in "0123456789" for c in number]) and int(number) > 1


def _part(part: Any, index: int, problems: list[dict[str, Any]]) -> dict[str, Any]:
    """A part as it is taken; what is wrong with it is added to `problems`."""
    path = "parts." + str(index)
    if not isinstance(part, dict):
        problems.append(_wrong(path, say("Part {n}", n=index + 1), say("This must be an object with named fields.")))
        return {}
    where = say("Part {n}, {name}", n=index + 1, name=_short(part.get("name")))
    own = {name: part[name] for name in part if name not in ("fasteners", "seen_on") and part[name] is not None}
    _as_thing("foreseen", own, OF_PART, path, where, problems)
    rows = _list(part, "fasteners", MOST_FASTENERS, path, where, problems)
    fasteners = []
    for n, row in enumerate(rows):
        at, row_path = say("{part}, fasteners {n}", part=where, n=n + 1), path + ".fasteners." + str(n)
        if not isinstance(row, dict):
            problems.append(_wrong(row_path, at, say("This must be an object with named fields.")))
            continue
        values = {name: row[name] for name in row if row[name] is not None}
        if _as_thing("foreseen_group", dict(values, foreseen=_ANY), None, row_path, at, problems):
            if "foreseen" in row:
                problems.append(_unknown(row_path, "foreseen"))
            for name, why in wrong_torque(values):
                problems.append(_wrong(row_path + "." + name, at, why))
        fasteners.append(values)
    seen = [
        _seen(each, n, path, where, problems)
        for n, each in enumerate(_list(part, "seen_on", MOST_SEEN, path, where, problems))
    ]
    machines = [each.get("machine") for each in seen]
    if len(set(machines)) < len(machines):
        problems.append(_wrong(path + ".seen_on", where, say("The same machine stands in it twice.")))
    return dict(own, fasteners=fasteners, seen_on=seen)


def _list(part: dict[str, Any], name: str, most: int, path: str, where: Any, problems: list[Any]) -> list[Any]:
    rows = part.get(name)
    if rows is None:
        return []
    if isinstance(rows, list) and len(rows) <= most:
        return rows
    problems.append(_wrong(path + "." + name, where, say("This must be a list of at most {limit}.", limit=most)))
    return []


def _as_thing(
    kind: str, values: dict[str, Any], names: Any, path: str, where: Any, problems: list[dict[str, Any]]
) -> bool:
    """Checks values as the entry that they will become; `names` are those that a map has of it.

    Whether all fields that are known are right.
    """
    wrong = 0
    for name in sorted(values):
        if names is not None and name not in names:
            problems.append(_unknown(path, name))
    fine = {name: values[name] for name in values if names is None or name in names}
    for each in check_kind({"kind": "set", "thing": _ANY, "type": kind, "values": fine or {"pieces": 1}}):
        name = each["field"].replace("values.", "")
        if each["code"] == "unknown_field":
            problems.append(_unknown(path, name))
        else:
            wrong += 1
            problems.append(_wrong(path + "." + name, where, say(each["text"], **each["values"]), name))
    for name in ("name",) if kind == "foreseen" else ("count",):
        if values.get(name) is None:
            wrong += 1
            problems.append(_wrong(path + "." + name, where, say("This is missing."), name))
    return wrong == 0


def _seen(each: Any, n: int, path: str, where: Any, problems: list[dict[str, Any]]) -> dict[str, Any]:
    path = path + ".seen_on." + str(n)
    if not isinstance(each, dict) or not is_id(each.get("machine")):
        problems.append(_wrong(path, where, say("A machine that it was seen on has no identifier.")))
        return {}
    for name in sorted(each):
        if name != "machine" and name not in [row[0] for row in SEEN]:
            problems.append(_unknown(path, name))
    for name, kind, bounds in SEEN:
        wrong = CHECKS[kind](each[name], bounds) if each.get(name) is not None else None
        if wrong:
            problems.append(_wrong(path + "." + name, where, say(wrong[1], **wrong[2])))
    return {name: each[name] for name in each if each[name] is not None}


def _wrong(path: str, where: Any, why: dict[str, Any], name: str = "") -> dict[str, Any]:
    if name:
        return problem("wrong_in_map", path, "{where}: {what}. {why}", where=where, what={"field": name}, why=why)
    return problem("wrong_in_map", path, "{where}. {why}", where=where, why=why)


def _unknown(path: str, name: Any) -> dict[str, Any]:
    return problem("unknown_field", (path + "." + str(name)).strip("."), UNITS, name=_short(name))


def _short(text: Any) -> str:
    words = str(text if text is not None else "?")
    return words if len(words) <= 40 else words[:40] + "…"


def doubts(found: dict[str, Any]) -> list[dict[str, Any]]:
    """What may be wrong although it can be read, in sentences: a part twice, figures that no such part has, no page."""
    said: list[dict[str, Any]] = []
    known: dict[str, int] = {}
    for part in found["parts"]:
        known[part_key(part)] = known.get(part_key(part), 0) + 1
        if known[part_key(part)] == 2:
            words = "{name} stands in it more than once: it is foreseen once, with the fasteners of the first."
            said.append(say(words, name=part["name"]))
        said += torque_doubts(part["name"], part["fasteners"])
        usual = ordinary_mass(in_english(part.get("name")), part.get("place"))
        for each in part["seen_on"]:
            grams = each.get("grams_a_piece")
            if usual is not None and grams is not None and not usual["low"] / FAR <= grams <= usual["high"] * FAR:
                mass = {"value": plain_number(grams), "plus_minus": None, "unit": "g"}
                said.append(say("{name}: {mass} a piece is far from what such a part weighs. Is its unit right?",
                                name=part["name"], mass=mass))  # fmt: skip
                break
    return said


def in_short(found: dict[str, Any]) -> dict[str, Any]:
    """What a map holds, for somebody who is to say whether it is taken."""
    parts, machines = found["parts"], {}
    for part in parts:
        for each in part["seen_on"]:
            machines[each["machine"]] = True
    rows = [row for part in parts for row in part["fasteners"]]
    return {
        "machine": found["machine"],
        "parts": len(parts),
        "fasteners": sum([row["count"] for row in rows]),
        "specifications": len([row for row in rows if has_specification(row)]),
        "machines": len(machines),
        "names": [part["name"] for part in parts],
        "fasteners_of": [[fasteners_words(row) for row in part["fasteners"]] for part in parts],
        "doubts": doubts(found),
    }
