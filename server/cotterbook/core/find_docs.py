"""What can be found of each thing: what it is called, and what else it is found by, as folded words."""

from typing import Any

from .figures import plain_number
from .find_words import fold, fold_kept
from .find_writings import called, writings
from .follows import ENDS, RULES
from .place_cautions import PLACE_CAUTIONS
from .strip import Strip
from .thing import Thing
from .things import THINGS

# What is found, in the order of the answer where nothing else ranks it.
FOUND = ("bag", "kept", "part", "fasteners", "specification", "note", "item", "setting", "tool", "scale", "person")
# The types of thing of which something is found.
TYPES = ("bag", "part", "group", "item", "setting", "tool", "scale", "strip", "machine", "wait")
# Texts of each type of thing that are found as notes of it.
NOTES = {
    "strip": ("note",), "machine": ("note", "standard_source"), "part": ("note", "early_why"), "group": ("note",),
    "wait": ("note",), "scale": ("note",), "tool": ("note",), "setting": ("note", "why", "how_to_undo"),
}  # fmt: skip
# Choices of things that are found by their words, as (type, field).
CHOICES = (
    ("part", "place"), ("part", "side"), ("part", "outcome"), ("part", "gone"), ("group", "head"), ("group", "finish"),
    ("group", "into"), ("group", "replace_each_time"), ("group", "torque_condition"), ("item", "what"),
    ("setting", "adjusted"), ("tool", "tool_type"),
)  # fmt: skip
# What each of its kind is found by, beside its own words.
BAG, KEY, WRENCH, SCALE = "Bag", "key {key}", "Torque wrench", "Scales"
# Between what a thing is called and what else it is found by; no word has it.
BEHIND_NAME = b"\x1f"


def doc(kind: str, of: str, field: str, name: str, more: str) -> Any:
    """(kind, what it is of, which text, its name, its line), the last two as bytes with a space around each word."""
    called_so = (" " + name + " ").encode()
    return (kind, of, field, called_so, called_so + BEHIND_NAME + (" " + more + " ").encode())


def to_be_spoken() -> dict[str, Any]:
    """What a search takes in the words of the language that is read, if it is told them as `spoken`.

    {"choices": [[field, code]], "texts": those in English}; "spoken" is a word for each code and each text.
    """
    codes = [[field, code] for type_, field in CHOICES for row in THINGS[type_] if row[0] == field for code in row[3]]
    sentences = [rule[2] for rule in RULES + ENDS] + [each["text"] for each in PLACE_CAUTIONS.values()]
    return {"choices": codes, "texts": [BAG, KEY, WRENCH, SCALE] + sentences}


def said(text: str, spoken: Any) -> str:
    """A text of the program in English and as it is `spoken`, without its gaps."""
    own = (spoken or {}).get(text)
    return " ".join([_without_gaps(each) for each in (text, own) if isinstance(each, str)])


def _without_gaps(text: str) -> str:
    return " ".join([piece.split("}")[-1] for piece in text.split("{")])


def docs_of(thing: Thing, part: Any, spoken: Any = None) -> list[Any]:
    """All that is found of a thing; `part` is the part that it is of, or None; `spoken` as in `to_be_spoken`."""
    values = thing.values
    owner = _owner(part, spoken)
    found: list[Any] = OF_TYPE[thing.type](thing.id, values, owner, spoken) if thing.type in OF_TYPE else []
    captions = thing.of_kind("photo")
    texts = [(field, values[field]) for field in NOTES.get(thing.type, ()) if values.get(field)]
    texts += [(photo["id"], photo["caption"]) for photo in captions if photo.get("caption")]
    if texts:
        name = fold(values.get("name") or values.get("label") or "")
        for field, text in texts:
            found.append(doc("note", thing.id, field, fold(text), name + " " + owner))
    return found


def _owner(part: Any, spoken: Any) -> str:
    """The part that something is of, as words: its place, its side and its name."""
    if part is None:
        return ""
    return _choices(part.values, spoken, "place", "side") + " " + fold_kept(part.values.get("name") or "")


def _all(values: dict[str, Any], *fields: str) -> str:
    """The texts of several fields as one."""
    return fold_kept(" ".join([values[field] for field in fields if values.get(field)]))


def _choices(values: dict[str, Any], spoken: Any, *fields: str) -> str:
    return " ".join([fold_kept(called(values[field], spoken)) for field in fields if values.get(field)])


def _part(part: str, values: dict[str, Any], owner: str, spoken: Any) -> list[Any]:
    more = [_choices(values, spoken, "place", "side", "outcome", "gone"), _all(values, "replacement", "kept")]
    return [doc("part", part, "", fold_kept(values.get("name") or ""), " ".join(more))]


def _group(group: str, values: dict[str, Any], owner: str, spoken: Any) -> list[Any]:
    first, rest = writings(values)
    key, words = values.get("key") or "", _choices(values, spoken, "head", "finish", "into", "replace_each_time")
    # A key is named by its size; most people leave out the unit.
    of_key = fold_kept(said(KEY, spoken) + " " + key + " mm") if key else ""
    more = " ".join([rest, words, of_key, _all(values, "sits", "grade", "washers"), owner])
    found = [doc("fasteners", group, "", first, more)]
    low, high = values.get("torque_low_newton_metres"), values.get("torque_high_newton_metres")
    if low is not None or high is not None or values.get("torque_page"):
        treated = [_choices(values, spoken, "torque_condition"), _all(values, "locking_compound")]
        more = " ".join([first, rest] + treated + [owner])
        value = low or high
        figure = values.get("torque_as_written") or (plain_number(value) + " nm" if value else "")
        found.append(doc("specification", group, "", fold_kept(figure + " " + (values.get("torque_page") or "")), more))
    return found


def _bag(bag: str, values: dict[str, Any], owner: str, spoken: Any) -> list[Any]:
    more = fold_kept(said(BAG, spoken)) + " " + _all(values, "kept")
    return [doc("bag", bag, "", "bag " + fold(values.get("label") or ""), more)]


def _item(item: str, values: dict[str, Any], owner: str, spoken: Any) -> list[Any]:
    if not values.get("text"):
        return []
    more = " ".join([_choices(values, spoken, "what"), _all(values, "for_whom", "closed_how"), owner])
    return [doc("item", item, "", fold(values["text"]), more)]


def _setting(setting: str, values: dict[str, Any], owner: str, spoken: Any) -> list[Any]:
    name = _all(values, "name") + " " + _choices(values, spoken, "adjusted")
    more = [_choices(values, spoken, "place", "side"), _all(values, "in_words", "as_found_in_words", "read_how"), owner]
    return [doc("setting", setting, "", name.strip(), " ".join(more))]


def _tool(tool: str, values: dict[str, Any], owner: str, spoken: Any) -> list[Any]:
    more = [_choices(values, spoken, "tool_type"), _all(values, "certificate"), "tool", fold_kept(said(WRENCH, spoken))]
    return [doc("tool", tool, "", _all(values, "name"), " ".join(more))]


def _scale(scale: str, values: dict[str, Any], owner: str, spoken: Any) -> list[Any]:
    more = _all(values, "certificate") + " " + fold_kept(said(SCALE, spoken))
    return [doc("scale", scale, "", _all(values, "name"), more)]


OF_TYPE = {
    "part": _part, "group": _group, "bag": _bag, "item": _item, "setting": _setting, "tool": _tool, "scale": _scale,
}  # fmt: skip


def loose_docs(strip: Strip) -> list[Any]:
    """What is found and is no thing: places, people, what was said at the end of a spell and of a weighing."""
    kept = [bag.values.get("kept") for bag in strip.of_type("bag")]
    kept += [part.values.get("kept") for part in strip.of_type("part") if part.values.get("off")]
    people = set([entry["who"] for entry in strip.entries.values()])
    for spell in strip.spells():
        people.update(spell["people"])
    found = [doc("kept", name, "", fold(name), "") for name in sorted(set([name for name in kept if name]))]
    found += [doc("person", name, "", fold(name), "") for name in sorted(people)]
    ends = [spell["ends"] for spell in strip.spells() if spell["ends"] is not None]
    texts = [(entry, field) for entry in ends for field in ("missing", "next")]
    texts += [(entry, "note") for entry in strip.weigh_ins()]
    return found + [
        doc("note", entry["id"], field, fold(entry[field]), "") for entry, field in texts if entry.get(field)
    ]
