"""Labels to print for bags, boxes and parts: what stands on each, and what its code opens."""

from typing import Any

from .entries import wall_clock_ms
from .strip import Strip
from .tag_papers import TAGS_AT_ONCE, lines_on, paper_of
from .views_bag import Contents, part_row
from .views_group import bag_label, named
from .words import Refused, problem, require, say

WHAT = ("bags", "parts", "boxes", "empty")


def tags_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """{"what", "paper", "tags", "passed", "left_out", "next_number", "most", "of"}; `what` is of WHAT,
    `paper` a code; `passed` ones were printed before.

    `empty` bags are numbered from `first`, or the first number that no bag has, and are `count`. A tag is {"key",
    "kind", "name": its number or what it is called, "title", "lines", "at_ms": the day of its last change or None,
    "opens": {"screen", "id"}}. Refused, by field: more than TAGS_AT_ONCE, or a number that is none.
    """
    paper, following = paper_of(arguments.get("paper")), next_number(strip)
    what = arguments.get("what") or "bags"
    if what == "empty":
        first = _whole("first", _given(arguments, "first", following), 1, 99_999)
        tags = [_empty(first + n) for n in range(_whole("count", _given(arguments, "count", 20), 1, TAGS_AT_ONCE))]
    elif what == "parts":
        tags = _tags_of_parts(strip, paper)
    else:
        tags = _tags_of_bags(strip, paper) if what == "bags" else _tags_of_boxes(strip, paper)
    passed = min(_whole("passed", arguments.get("passed") or 0, 0, 99_999), len(tags))
    own = strip.thing(strip.id)
    return {
        "what": what,
        "paper": paper,
        "tags": tags[passed : passed + TAGS_AT_ONCE],
        "passed": passed,
        "left_out": max(0, len(tags) - passed - TAGS_AT_ONCE),
        "next_number": following,
        "most": TAGS_AT_ONCE,
        "of": (own.values.get("name") if own is not None else None) or "",
    }


def next_number(strip: Strip) -> int:
    """The first number above those of all bags."""
    labels = [bag.values.get("label") or "" for bag in strip.of_type("bag")]
    numbers = [int(each) for each in labels if each and len(each) < 6 and all([c in "0123456789" for c in each])]
    return max(numbers + [0]) + 1


def _given(arguments: dict[str, Any], name: str, otherwise: int) -> Any:
    given = arguments.get(name)
    return otherwise if given is None or given == "" else given


def _whole(field: str, typed: Any, low: int, high: int) -> int:
    text = str(typed).strip()
    if not text or len(text) > 9 or not all([c in "0123456789" for c in text]):
        raise Refused([problem("not_a_number", field, "Type a whole number here.")])
    if field == "count" and int(text) > high:
        sentence = "At most {high} labels at once. Print these, then the next."
        raise Refused([problem("too_many", field, sentence, high=high)])
    return int(require(field, int(text), low, high))


def _tags_of_bags(strip: Strip, paper: dict[str, Any]) -> list[dict[str, Any]]:
    tags, contents, first = [], Contents(strip), []
    labelled: dict[str, list[str]] = {}
    for bag in strip.of_type("bag"):
        label = bag.values.get("label") or ""
        if label not in labelled:
            first.append(bag)
        labelled.setdefault(label, []).append(bag.id)
    for bag in first:
        label = bag.values.get("label") or ""
        ids = labelled[label]
        groups, last = contents.groups_in(ids), contents.last_move(ids)
        parts = [part_row(part) for part in contents.parts_in(ids)]
        own = set([part["part"] for part in parts])
        rows = parts + [row for row in groups if row.get("part") not in own]
        title = _called(rows[0]) if rows else say("empty")
        lines = [_count_line(row, len(rows) > 1) for row in groups] + _places(rows)
        lines += [say("kept: {place}", place=bag.values["kept"])] if bag.values.get("kept") else []
        at_ms = None if last is None else last["at_ms"]
        tags.append(_tag("bag", label, title, _fitting(lines, paper), at_ms, {"screen": "bag", "id": label}))
    return tags


def _tags_of_parts(strip: Strip, paper: dict[str, Any]) -> list[dict[str, Any]]:
    tags = []
    for part in strip.of_type("part"):
        if part.values.get("off"):
            label = bag_label(strip, part.values.get("bag"))
            counts = [(strip.ledger(group.id).count, group) for group in strip.groups_of(part.id)]
            lines = _places([part_row(part)])
            lines += [_count_line({"count": n, "what": named(group.values)}, False) for n, group in counts if n]
            lines += [say("fasteners in bag {bag}", bag=label)] if label else []
            lines += [say("kept: {place}", place=part.values["kept"])] if part.values.get("kept") else []
            at_ms = wall_clock_ms(part.first["id"])
            opens = {"screen": "part", "id": part.id}
            tags.append(_tag("part", part.id, _called(part_row(part)), _fitting(lines, paper), at_ms, opens))
    return tags


def _tags_of_boxes(strip: Strip, paper: dict[str, Any]) -> list[dict[str, Any]]:
    kept: dict[str, list[Any]] = {}
    for bag in strip.of_type("bag"):
        if bag.values.get("kept"):
            kept.setdefault(bag.values["kept"], []).append(say("bag {bag}", bag=bag_label(strip, bag.id) or ""))
    for part in strip.of_type("part"):
        if part.values.get("kept") and part.values.get("off"):
            kept.setdefault(part.values["kept"], []).append(_called(part_row(part)))
    return [
        _tag("box", name, name, _fitting(kept[name], paper), None, {"screen": "kept", "id": name})
        for name in sorted(kept)
    ]


def _empty(number: int) -> dict[str, Any]:
    return _tag("bag", str(number), None, [], None, {"screen": "bag", "id": str(number)})


def _tag(kind: str, name: str, title: Any, lines: list[Any], at_ms: Any, opens: dict[str, Any]) -> dict[str, Any]:
    key = kind + " " + name
    return {"key": key, "kind": kind, "name": name, "title": title, "lines": lines, "at_ms": at_ms, "opens": opens}


def _called(row: dict[str, Any]) -> Any:
    """A part's name, with its side where it has one."""
    name = row.get("name") or say("Part without a name")
    return say("{part}, {side}", part=name, side={"label": row["side"]}) if row.get("side") else name


def _count_line(row: dict[str, Any], of_its_part: bool) -> Any:
    if of_its_part and row.get("part"):
        return say("{n} × {what}, {part}", n=row["count"], what=row["what"], part=_called(row))
    return say("{n} × {what}", n=row["count"], what=row["what"])


def _places(rows: list[dict[str, Any]]) -> list[Any]:
    """Where on the machine they belong, once each."""
    places: list[str] = []
    for row in rows:
        if row.get("place") and row["place"] not in places:
            places.append(row["place"])
    return [say("goes to: {places}", places=[{"label": place} for place in places])] if places else []


def _fitting(lines: list[Any], paper: dict[str, Any]) -> list[Any]:
    """As many lines as the label holds, the last saying how many more there are: its code opens them all."""
    room = lines_on(paper)
    if room == 1:
        return lines[:1]
    return lines if len(lines) <= room else lines[: room - 1] + [say("and {n} more", n=len(lines) - room + 1)]
