"""The kinds of entry and what each must hold: the one rule set of phone and PC.

An entry is a flat JSON object that never changes once it is written. `check`
says what is wrong with one, all of it at once; an entry without problems may
be stored. The tables below are the rules; `check` only reads them.
"""

import json
from typing import Any

from .checked_whole import WHOLE
from .figures import plain_number, shown_grams
from .kinds import ENVELOPE, KINDS
from .limits import ENTRY_BYTES, ENTRY_DEPTH, SEEN_A_LIST
from .settings_rules import setting_shown, wrong_with
from .things import THINGS
from .values import CHECKS, is_id
from .words import problem


def wall_clock_ms(entry_id: str) -> int:
    """The writing device's own clock, in ms since 1970, as its UUIDv7 carries it.

    `at` orders entries and may run ahead of a slow clock; this is the time to show.
    """
    return int(entry_id[:8] + entry_id[9:13], 16)


def _compact(entry: Any) -> str:
    return json.dumps(entry, separators=(",", ":"), ensure_ascii=False)


def _compact_on_the_phone(entry: Any) -> str:
    # The phone's json has no such switch, and never escapes what is not ASCII.
    text = json.dumps(entry, separators=(",", ":"))
    _refuse_halves(text.encode())
    return text


def _refuse_halves(data: bytes) -> None:
    """Raise UnicodeError for half a letter of a pair, which is no text (RFC 3629, 3); the phone's Python takes it."""
    at = data.find(b"\xed")
    while at >= 0:
        if at + 1 < len(data) and data[at + 1] >= 0xA0:
            raise UnicodeError("half a letter")
        at = data.find(b"\xed", at + 1)


COMPACT = _compact
try:
    COMPACT("")
except TypeError:
    COMPACT = _compact_on_the_phone


def size_in_bytes(entry: dict[str, Any]) -> int:
    """Bytes of the entry as compact UTF-8 JSON."""
    return len(COMPACT(entry).encode())


def check(entry: Any) -> list[dict[str, Any]]:
    """What is wrong with an entry: a list of problems, empty when it may be stored.

    Each problem is {"code", "field", "text", "values"}. An entry of a kind not
    known here is checked in its envelope, size and depth alone, so that it can be kept.
    """
    if not isinstance(entry, dict):
        return [problem("not_an_object", "", "An entry must be an object with named fields.")]
    problems = _check_fields(entry, ENVELOPE, "") + _check_size(entry)
    if problems:
        return problems
    return check_kind(entry) if entry["kind"] in KINDS else _check_depth(entry)


def check_kind(entry: dict[str, Any]) -> list[dict[str, Any]]:
    """The part of `check` that a kind asks for; none for a kind not known here."""
    kind = entry["kind"]
    if kind not in KINDS:
        return []
    if not _is_fine(entry, FIELDS_OF_KIND[kind], NEEDED_OF_KIND[kind]):
        problems = _check_fields(entry, KINDS[kind], "") + _unknown(entry, FIELDS_OF_KIND[kind], "")
        if problems:
            return problems
    return _check_whole(entry)


def _check_depth(entry: dict[str, Any]) -> list[dict[str, Any]]:
    """Of a kind not known here: with more, no request could carry it, and whoever holds it could send nothing."""
    level = [entry[name] for name in entry]
    for _ in range(ENTRY_DEPTH + 1):
        level = [each for each in level if isinstance(each, (dict, list))]
        if not level:
            return []
        level = [child for each in level for child in (each.values() if isinstance(each, dict) else each)]
    return [problem("too_deep", "", "The entry has lists within lists, more than {limit} deep.", limit=ENTRY_DEPTH)]


def _check_size(entry: dict[str, Any]) -> list[dict[str, Any]]:
    try:
        if size_in_bytes(entry) > ENTRY_BYTES:
            return [problem("too_big", "", "The entry is longer than {limit} bytes.", limit=ENTRY_BYTES)]
    except (ValueError, TypeError, UnicodeError):
        return [problem("not_json", "", "The entry holds something that is no text, number or list.")]
    return []


def check_thing(thing_type: str, values: dict[str, Any], new: bool) -> list[dict[str, Any]]:
    """Problems of the values of a thing; a `new` thing needs all its needed fields."""
    if _is_fine(values, FIELDS_OF_THING[thing_type], NEEDED_OF_THING[thing_type] if new else ()):
        return []
    fields = THINGS[thing_type]
    present = fields if new else tuple(f for f in fields if f[0] in values)
    return _check_fields(values, present, "values.") + _unknown(values, FIELDS_OF_THING[thing_type], "values.")


def _is_fine(record: dict[str, Any], fields: dict[str, Any], needed: Any) -> bool:
    """Whether nothing is wrong with any field: by the fields that are there, for there may be many more that could be.

    Where it is not, `_check_fields` says what is, in the order of the table.
    """
    for name in record:
        if name not in fields:
            return False
        field, value = fields[name], record[name]
        if field is not None and (value is None or CHECKS[field[1]](value, field[3])):
            return False
    return all([name in record for name in needed])


def _unknown(record: dict[str, Any], names: Any, prefix: str) -> list[dict[str, Any]]:
    return [
        problem("unknown_field", prefix + str(name), "The field {name} is not known here.", name=str(name)[:40])
        for name in sorted(name for name in record if name not in names)
    ]


def _check_fields(record: dict[str, Any], fields: Any, prefix: str) -> list[dict[str, Any]]:
    found = []
    for field in fields:
        name, value = field[0], record.get(field[0])
        if value is None:
            if field[2]:
                found.append(problem("missing", prefix + name, "This is missing."))
            continue
        wrong = CHECKS[field[1]](value, field[3])
        if wrong:
            found.append(_with_unit(problem(wrong[0], prefix + name, wrong[1], **wrong[2]), name, field[3]))
    return found


def _with_unit(found: dict[str, Any], name: str, bounds: Any) -> dict[str, Any]:
    """A limit of a mass or a torque said with its unit; any other problem as it is."""
    if found["code"] == "out_of_range" and (name.endswith("_grams") or name == "grams"):
        text, most = "A mass here is more than 0 and at most {most}.", shown_grams(bounds[1], 0.0)
    elif found["code"] == "out_of_range" and name.endswith("newton_metres"):
        text = "A torque here is more than 0 and at most {most}."
        most = {"value": plain_number(bounds[1]), "plus_minus": None, "unit": "N.m"}
    elif found["code"] == "out_of_range" and name.endswith("kilopascals"):
        text, most = "A pressure here is 0 or more and at most {most}.", setting_shown("kilopascals", bounds[1])
    else:
        return found
    return dict(found, text=text, values={"most": most})


def _by_name(fields: Any, envelope: Any = ()) -> dict[str, Any]:
    """Fields by name; those of the envelope, which is checked apart, stand there as None."""
    found = {field[0]: field for field in fields}
    found.update({field[0]: None for field in envelope})
    return found


def _needed(fields: Any) -> Any:
    return tuple(field[0] for field in fields if field[2])


FIELDS_OF_KIND = {kind: _by_name(KINDS[kind], ENVELOPE) for kind in KINDS}
FIELDS_OF_THING = {thing: _by_name(THINGS[thing]) for thing in THINGS}
NEEDED_OF_KIND = {kind: _needed(KINDS[kind]) for kind in KINDS}
NEEDED_OF_THING = {thing: _needed(THINGS[thing]) for thing in THINGS}


def _check_whole(entry: dict[str, Any]) -> list[dict[str, Any]]:
    """Rules that join several fields, once each field is right by itself."""
    rule = _set if entry["kind"] == "set" else WHOLE.get(entry["kind"])
    return rule(entry) if rule else []


def _set(entry: dict[str, Any]) -> list[dict[str, Any]]:
    if not entry["values"]:
        return [problem("missing", "values", "The entry sets nothing.")]
    found = check_thing(entry["type"], entry["values"], False)
    for name, heads in sorted((entry.get("saw") or {}).items()):
        if not isinstance(heads, list) or len(heads) > SEEN_A_LIST or not all(is_id(head) for head in heads):
            found.append(problem("not_an_id", "saw." + name[:40], "This is no identifier."))
    if found:
        return found
    for low, high in RANGES:
        if (entry["values"].get(low) or 0) > (entry["values"].get(high) or 1e9):
            found.append(problem("range_reversed", "values." + low, "The range begins above its end."))
    if entry["type"] == "setting":
        found += [dict(each, field="values." + each["field"]) for each in wrong_with(entry["values"])]
    return found


RANGES = (
    ("torque_low_newton_metres", "torque_high_newton_metres"),
    ("low_newton_metres", "high_newton_metres"),
)
