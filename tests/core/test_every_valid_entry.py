"""Whatever `entries.check` lets in, every view answers: with finite figures, and with no uncertainty below nothing.

The entries are drawn from the tables of `kinds` themselves, ends of each range and hair's breadths beside them
included, so that a field that is added is tried as well.
"""

import json
import math
from itertools import count

from hypothesis import given, settings
from hypothesis import strategies as st

from cotterbook.core import phone
from cotterbook.core.entries import check
from cotterbook.core.kinds import KINDS
from cotterbook.core.things import THINGS
from cotterbook.core.views import VIEWS
from cotterbook.core.views_tables import NAMES as TABLES
from vectors.cases import FIRST_AT, identifier

STRIP = identifier("@strip")
PARTS, GROUPS, BAGS, SCALES, TOOLS = (
    [identifier(f"@{name} {n}") for n in range(2)] for name in ("part", "group", "bag", "scale", "tool")
)
MACHINE, ITEM, SPELL = identifier("@machine"), identifier("@item"), identifier("@spell")
WAITS, PIN = [identifier(f"@wait {n}") for n in range(3)], identifier("@pin")
PHOTO = identifier("@entry 3")
SETTINGS = [identifier(f"@setting {n}") for n in range(2)]
FORESEEN, FORESEEN_GROUPS = ([identifier(f"@{name} {n}") for n in range(2)] for name in ("foreseen", "their"))
# Which thing an id of a field names.
NAMED_BY = {
    "part": PARTS, "group": GROUPS, "bag": BAGS, "from_bag": BAGS, "to_bag": BAGS, "machine": [MACHINE],
    "on_scale": SCALES, "scale": SCALES, "front_scale": SCALES, "rear_scale": SCALES, "with_tool": TOOLS,
    "spell": [SPELL], "photo": [PHOTO], "foreseen": FORESEEN,
}  # fmt: skip
THING_OF_TYPE = {
    "strip": [STRIP], "machine": [MACHINE], "part": PARTS, "group": GROUPS, "bag": BAGS, "scale": SCALES,
    "tool": TOOLS, "item": [ITEM], "wait": WAITS, "pin": [PIN], "setting": SETTINGS,
    "foreseen": FORESEEN, "foreseen_group": FORESEEN_GROUPS,
}  # fmt: skip
WORDS = {
    "thread": ["M8", "M10x1.25", "M20", "1/4-20 UNC", "1/4 BSW", "M3", "left M8", "?"],
    "grade": ["8.8", "12.9", "A2-70", "SAE 8", "4.6", "soft"],
    "key": ["6 mm hex key", "12 mm socket", "T30", "big"],
    "as_read": ["1,9 kg", "240 g", "8 lbf.ft", "0 g", "kg"],
    "torque_as_written": ["22 N.m", "16 lbf.ft", "30"],
    "tare_as_read": ["20 g"],
    "name": ["Bracket", "Front mudguard", "½ {n}"],
    "rule": ["cut_edge", "sag_front", "lost_inside", "used_again", "of a newer program"],
}


def figures(low, high):
    """Numbers that a field with these bounds may hold, its ends and hair's breadths among them."""
    ends = [high, high / 2, 1.0, 0.1, 1e-3, 1e-6]
    # What `check` refuses is tried too, seldom, or hardly an entry with many figures would be let in.
    low_ends = st.sampled_from([low, 9e-7, 1e-100, 5e-324])
    usual = [st.sampled_from(ends), st.floats(low, high), st.floats(low, min(high, 100.0))]
    return st.integers(0, 19).flatmap(lambda seldom: low_ends if seldom == 19 else st.one_of(usual))


def values_of(field):
    name, kind, _, bounds = field
    if kind == "id":
        return st.sampled_from(NAMED_BY.get(name, PARTS))
    if kind == "text":
        return st.sampled_from(WORDS.get(name, ["Bracket", "x", "½ {n}"]))
    if kind == "integer":
        return st.sampled_from([bounds[0], bounds[1]]) | st.integers(bounds[0], min(bounds[1], bounds[0] + 8))
    if kind in ("number", "measure"):
        return figures(*bounds)
    if kind == "numbers":
        return st.lists(figures(*bounds[1:]), min_size=1, max_size=bounds[0])
    if kind == "integers":
        return st.lists(st.integers(bounds[1], 8), min_size=1, max_size=4, unique=True)
    if kind == "choice":
        return st.sampled_from(bounds)
    if kind == "ids":
        return st.lists(st.sampled_from([identifier(f"@entry {n}") for n in range(16)]), max_size=3, unique=True)
    if kind == "boolean":
        return st.booleans()
    if kind == "date":
        return st.sampled_from(["1900-01-01", "2025-02-28", "2026-05-31", "2200-12-31"])
    if kind == "names":
        return st.lists(st.sampled_from(["Ann", "Bo"]), max_size=2)
    return st.just("0" * 64)


def records(fields):
    """Every needed field and some of the others, a few of them taken back."""
    needed = {field[0]: values_of(field) for field in fields if field[2]}
    others = {field[0]: st.one_of(values_of(field), values_of(field), st.none()) for field in fields if not field[2]}
    return st.fixed_dictionaries(needed, optional=others)


def parts_of(fields):
    """Some fields alone, as where the entry with the others was struck, or can't be read here."""
    return st.fixed_dictionaries({}, optional={field[0]: values_of(field) for field in fields})


def sets_of(thing_type):
    built = st.one_of(records(THINGS[thing_type]), records(THINGS[thing_type]), parts_of(THINGS[thing_type]))
    things = st.sampled_from(THING_OF_TYPE[thing_type])
    return st.builds(lambda thing, values: {"thing": thing, "type": thing_type, "values": values}, things, built)


def look(drawn):
    """A reading with one figure, one range or litres, as `check` wants it; by luck alone few would be."""
    says = {"figure": ("grams",), "range": ("low_grams", "high_grams"), "litres": ("litres", "fluid")}[drawn["says"]]
    for name in ("grams", "low_grams", "high_grams", "litres", "fluid"):
        if name not in says:
            drawn.pop(name, None)
    if "litres" in says:
        drawn["basis"] = "worked_out"
    if "low_grams" in says:
        drawn["low_grams"], drawn["high_grams"] = sorted([drawn["low_grams"], drawn["high_grams"]])
    return {name: drawn[name] for name in drawn if name != "says"}


def own_fields(kind):
    fields = st.one_of([sets_of(each) for each in THINGS]) if kind == "set" else records(KINDS[kind])
    if kind == "weigh":
        usual = ("grams", "low_grams", "high_grams", "step_grams", "maturity", "source", "litres", "fluid")
        rows = [(name, each, needed or name in usual, bounds) for name, each, needed, bounds in KINDS[kind]]
        says = st.sampled_from(["figure", "range", "litres"])
        fields = st.tuples(records(rows), says).map(lambda drawn: look(drawn[0] | {"says": drawn[1]}))
    return fields.map(lambda drawn: {"kind": kind, **drawn})


DRAWN = st.one_of(
    sets_of("machine").map(lambda drawn: {"kind": "set", **drawn}),
    sets_of("part").map(lambda drawn: {"kind": "set", **drawn}),
    sets_of("group").map(lambda drawn: {"kind": "set", **drawn}),
    *[own_fields(kind) for kind in sorted(KINDS) if kind not in ("strike", "photo")],
    *[sets_of(thing).map(lambda drawn: {"kind": "set", **drawn})
      for thing in ("wait", "pin", "foreseen", "foreseen_group")],
    st.builds(lambda n: {"kind": "strike", "entry": identifier(f"@entry {n}"), "why": "x"}, st.integers(0, 18)),
)


@st.composite
def logs(draw):
    """A strip-down with its machine, and entries that `check` has nothing against."""
    found = [
        {"kind": "set", "thing": STRIP, "type": "strip", "values": {"name": "Bench", "machine": MACHINE}},
        {"kind": "set", "thing": PARTS[0], "type": "part", "values": {"name": "Bracket", "off": True}},
        {"kind": "set", "thing": GROUPS[0], "type": "group", "values": {"part": PARTS[0], "count": 4}},
        {"kind": "photo", "thing": PARTS[0], "sha256": "0" * 64, "media_type": "image/jpeg", "bytes": 999}
        | {"width": 640, "height": 480},
    ]
    found += draw(st.lists(DRAWN, min_size=1, max_size=14))
    stamp = {"strip": STRIP, "who": "Ann"}
    phones = st.sampled_from([identifier("@phone"), identifier("@other phone")])
    entries = [
        stamp | {"id": identifier(f"@entry {n}"), "at": FIRST_AT + n, "by": draw(phones)} | each
        for n, each in enumerate(found)
    ]
    return [entry for entry in entries if not check(entry)]


def look_into(answer):
    """Fails on a number that is none, and on a figure whose uncertainty is none."""
    if isinstance(answer, dict):
        if {"value", "plus_minus", "unit"} <= set(answer):
            assert math.isfinite(float(answer["value"])), answer
            assert answer["plus_minus"] is None or 0.0 < float(answer["plus_minus"]) < math.inf, answer
        for each in answer.values():
            look_into(each)
    elif isinstance(answer, list):
        for each in answer:
            look_into(each)
    elif isinstance(answer, float):
        assert math.isfinite(answer)


def asked_of_each_view():
    """Every view with arguments that reach what it shows."""
    now = {"now_ms": FIRST_AT + 1}
    for view in sorted(VIEWS):
        for n in range(2):
            yield "view", {"view": view, "part": PARTS[n], "group": GROUPS[n], "readings": [], "index": 0,
                          "photo": PHOTO,
                          "setting": SETTINGS[n], "table": "sums", **now}
    for table in TABLES:
        yield "view", {"view": "table", "table": table}
        yield "view", {"view": "table_csv", "table": table}
    for typed in ("bracket", "x", "½ {n}", "ann", "8", "brakcet"):
        yield "view", {"view": "find", "typed": typed}
    for until_ms in (FIRST_AT - 1, FIRST_AT + 3):
        yield "view", {"view": "settings", "until_ms": until_ms, **now}
    for state in ("running_order", "dry"):
        yield "view", {"view": "balance", "state": state}
    for baseline in ("standard", None):
        yield "view", {"view": "balance", "baseline": baseline}
    for which in ("came_in", "standard", "off"):
        yield "view", {"view": "tally", "which": which, "total": "-1.5 kg", "figures": "other"}
    yield "make_map", {"machine": "A small twin"} | now
    for group, tool in zip(GROUPS, TOOLS, strict=True):
        yield "torque_setting", {"group": group, "with_tool": tool, "torque": "22", "adapter": "50"} | now
        yield "torque_setting", {"group": group, "torque": "0.001", "lever": "10", "adapter": "3"} | now
        yield "convert_torque", {"group": group, "figure": "22", "unit": "N.m", "from": "dry", "to": "oiled"}


@given(logs())
@settings(max_examples=150, deadline=None)
def test_every_view_answers_any_log_of_valid_entries(entries):
    numbers = count()
    call = phone.start(lambda: identifier(f"new {next(numbers)}"))
    call("load", json.dumps({"strip": STRIP, "entries": entries}))
    for name, arguments in asked_of_each_view():
        answer = json.loads(call(name, json.dumps({"strip": STRIP} | arguments)))
        assert ("result" in answer) != ("problems" in answer)
        look_into(answer)


def test_what_is_left_of_a_thing_whose_first_entry_cannot_be_read_stops_no_screen():
    """A newer program's first entry is kept aside; what an older one wrote of the same thing afterwards is not."""
    pin = {"group": GROUPS[0], "photo": PHOTO, "across_permille": 0, "down_permille": 0}
    rest = [
        {"thing": WAITS[0], "type": "wait", "values": {"part": PARTS[0], "first": PARTS[1]}},
        {"thing": PARTS[1], "type": "part", "values": {"name": "Screen", "off": True}},
        *[{"thing": identifier(f"@pin without {name}"), "type": "pin",
           "values": {each: pin[each] for each in pin if each != name}} for name in pin],
        {"thing": PIN, "type": "pin", "values": pin},
    ]  # fmt: skip
    photo = {"kind": "photo", "thing": PARTS[0], "sha256": "0" * 64, "media_type": "image/jpeg", "bytes": 999}
    found = [
        {"kind": "set", "thing": PARTS[0], "type": "part", "values": {"name": "Bracket", "off": True}},
        {"kind": "set", "thing": GROUPS[0], "type": "group", "values": {"part": PARTS[0], "count": 4}},
        {"kind": "set", "thing": SETTINGS[0], "type": "setting", "values": {"note": "x"}},
        photo | {"width": 640, "height": 480},
        *[{"kind": "set"} | each for each in rest],
    ]
    stamp = {"strip": STRIP, "who": "Ann", "by": identifier("@phone")}
    entries = [stamp | {"id": identifier(f"@entry {n}"), "at": FIRST_AT + n} | each for n, each in enumerate(found)]
    assert not [check(entry) for entry in entries if check(entry)]
    call = phone.start(lambda: identifier("new"))
    call("load", json.dumps({"strip": STRIP, "entries": entries}))
    for name, arguments in asked_of_each_view():
        assert "result" in json.loads(call(name, json.dumps({"strip": STRIP} | arguments))) or name != "view"
    back = json.loads(call("view", json.dumps({"strip": STRIP, "view": "back"})))["result"]
    pins = [pin["pin"] for part in back["parts"] for each in part["photos"] for pin in each["pins"]]
    assert pins == [PIN]
    assert [len(part["blockers"]) for part in back["parts"] if part["part"] == PARTS[0]] == [1]


def test_next_to_nothing_is_refused_and_a_milligram_is_not():
    """A scale's card with a step of 1e-300 g once ended in a division by nothing."""
    stamp = {"strip": STRIP, "by": identifier("@phone"), "who": "Ann", "id": identifier("@entry"), "at": FIRST_AT}
    for step, codes in ((1e-300, ["out_of_range"]), (9e-7, ["out_of_range"]), (0.001, []), (1e-6, [])):
        entry = {"kind": "set", "thing": SCALES[0], "type": "scale", "values": {"name": "Bench", "step_grams": step}}
        assert [each["code"] for each in check(stamp | entry)] == codes


def test_entries_of_every_kind_and_thing_get_through():
    """So that the test above does not throw away what it draws."""
    stamp = {"strip": STRIP, "by": identifier("@phone"), "who": "Ann", "id": identifier("@entry"), "at": FIRST_AT}

    # The same draws each time: it is the drawing that is looked at here, not the luck of it.
    @given(st.data())
    @settings(max_examples=120, deadline=None, derandomize=True, database=None)
    def some_are_fine(data):
        for kind in sorted(set(KINDS) - {"strike", "photo"}):
            if not check(stamp | data.draw(own_fields(kind))):
                fine.add(kind)
        for thing in THINGS:
            if not check(stamp | {"kind": "set"} | data.draw(sets_of(thing))):
                fine.add(thing)

    fine: set[str] = set()
    some_are_fine()
    assert fine == set(KINDS) - {"strike", "photo"} | set(THINGS)
