"""The way back to standard as a strip-down of its own: what comes off and goes on, planned from another's state."""

from typing import Any

from .maker import Maker, given
from .mass import outcome_of
from .strip import Strip
from .thing import Thing
from .to_standard import fasteners_of, is_standard, to_put_on, to_take_off

# What a planned part takes over of the one that it is the same thing as.
OF_PART = ("name", "place", "side", "pieces", "kept", "note", "along_millimetres", "up_millimetres", "carried")
OF_GROUP = (
    "count", "thread", "length_millimetres", "head", "key", "grade", "sits", "into", "washers", "pattern", "finish",
    "torque_low_newton_metres", "torque_high_newton_metres", "torque_angle_degrees", "torque_condition",
    "torque_as_written", "torque_page", "torque_tolerance_newton_metres", "torque_steps_newton_metres",
    "prevailing_newton_metres", "engagement_millimetres", "outside_engine", "grams_each",
)  # fmt: skip
# What is said of one look at a scale, with which scale it was left out: its card stays in the other strip-down.
OF_READING = (
    "pieces", "basis", "grams", "low_grams", "high_grams", "step_grams", "plus_minus_grams", "maturity",
    "with_fasteners", "scale", "source", "as_read", "tare_grams",
)  # fmt: skip


def plan_to_standard(source: Strip, strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """A new strip-down, `name`, of the same machine, with what brings the machine of another back to standard.

    Parts that come off are planned to stay off; standard parts are planned to go on, their fasteners in the bags where
    they lie. What cannot come back is a thing to buy. The masses weighed there are taken over.
    """
    own, take_off, put_on = source.thing(source.id), to_take_off(source), to_put_on(source)
    if given(form, "name") is None:
        make.refuse("missing", "name", "Give the strip-down a name.")
    if not take_off and not put_on:
        make.refuse("standard", "", "As far as is written down, this machine is standard. There is nothing to plan.")
    _machine(source, strip, own, given(form, "name"), make)
    bags: dict[str, str] = {}
    # What is written down last is what a way back begins with.
    for part in reversed(take_off):
        _comes_off(source, part, make)
    for part, fate in reversed(put_on):
        _goes_on(source, part, fate, bags, make)
    return make.done(strip=strip.id)


def _machine(source: Strip, strip: Strip, own: Any, name: Any, make: Maker) -> None:
    machine = source.thing(own.values.get("machine") or "") if own is not None else None
    if machine is not None and machine.alive:
        make.put(machine.id, "machine", machine.values, "")
    make.put(strip.id, "strip", {"name": name, "machine": None if machine is None else machine.id}, "")


def _comes_off(source: Strip, part: Thing, make: Maker) -> None:
    """What is on and not standard: here it is an accessory that is to stay off."""
    planned = make.new_id()
    values = {name: part.values.get(name) for name in OF_PART}
    replaces = is_standard(part)
    if replaces:
        values["name"], values["kept"] = part.values.get("replacement") or part.values.get("name"), None
    make.put(planned, "part", dict(values, came_in="accessory", off=False, outcome="stays_off"), "")
    went_on = replaces or outcome_of(part.values) == "added"
    _readings(source, part, planned, "going_on" if went_on else "taken_off", "taken_off", make)


def _goes_on(source: Strip, part: Thing, fate: str, bags: dict[str, str], make: Maker) -> None:
    """A standard part that is not on as it was: here it is missing, and planned to go on."""
    planned = make.new_id()
    values = {name: part.values.get(name) for name in OF_PART}
    if fate == "moved":
        # It is on, somewhere else; where it sat is where it is to go.
        make.put(planned, "part", dict(values, came_in="fitted", outcome="moved"), "")
        _item("move", values, planned, make)
        return
    make.put(planned, "part", dict(values, came_in="missing", outcome="added"), "")
    _readings(source, part, planned, "taken_off", "going_on", make)
    for each in fasteners_of(source, part):
        _group(source, each, planned, bags, make)
    if fate in ("gone", "cut", "missing"):
        _item("buy", values, planned, make)


def _item(what: str, values: dict[str, Any], part: str, make: Maker) -> None:
    make.put(make.new_id(), "item", {"what": what, "text": values.get("name"), "part": part}, "")


def _group(source: Strip, each: dict[str, Any], part: str, bags: dict[str, str], make: Maker) -> None:
    """A group with as many fasteners in bags as lie there, and the rest to come from stock."""
    group, planned = each["group"], make.new_id()
    make.put(planned, "group", dict({name: group.values.get(name) for name in OF_GROUP}, part=part), "")
    left = each["count"]
    for bag, count in each["bags"]:
        count = min(count, left)
        if count > 0:
            left -= count
            ends = {"from": "stock", "to": "bag", "to_bag": _bag(source, bag, bags, make)}
            make.entry("move", "", group=planned, count=count, **ends)
    lost = min(left, each["buy"])
    for count, where in ((left - lost, "bag"), (lost, "scrapped")):
        if count > 0:
            make.entry("move", "", group=planned, count=count, **{"from": "stock", "to": where})


def _bag(source: Strip, bag: str, bags: dict[str, str], make: Maker) -> Any:
    """The same bag in the new strip-down; None for fasteners that are in none."""
    thing = source.thing(bag) if bag else None
    if thing is None:
        return None
    if bag not in bags:
        bags[bag] = make.new_id()
        make.put(bags[bag], "bag", {"label": thing.values.get("label"), "kept": thing.values.get("kept")}, "")
    return bags[bag]


def _readings(source: Strip, part: Thing, planned: str, weighed_as: str, here: str, make: Maker) -> None:
    """What a part weighed there in one state is what the planned part weighs `here` in another."""
    for entry in part.of_kind("weigh"):
        if entry["basis"] != "worked_out" and entry["weighed_as"] == weighed_as:
            taken = {name: entry.get(name) for name in OF_READING}
            make.entry("weigh", "", part=planned, weighed_as=here, **taken)


STANDARD_ACTS = {"plan_to_standard": plan_to_standard}
