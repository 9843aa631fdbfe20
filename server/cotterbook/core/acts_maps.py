"""Taking a map into a strip-down, and saying of what it foresees that this machine has no such part."""

from typing import Any

from .acts_part import existing, saw_of
from .foreseen import fasteners_foreseen, from_the_map
from .maker import Maker
from .maps import read_map
from .maps_alike import has_specification, pairs, part_key, specification_of, specification_words
from .second_check import same_name
from .strip import Strip
from .things import OF_FORESEEN_FASTENERS
from .words import Refused


def take_map(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """What the map in `map` (the text of its file) foresees, as entries; what is foreseen already is not again.

    A map of another kind of machine than this is called asks for `other_machine`: a person who says that it fits.
    """
    try:
        found = read_map(form.get("map"))
    except Refused as refused:
        for each in refused.problems:
            make.problems.append(each)
        return make.done()
    ours = _machine_name(strip)
    if ours and same_name(ours) != same_name(found["machine"]) and not form.get("other_machine"):
        text = "This map is of {map}, and this machine is {machine}. Take it only if they are built alike."
        make.refuse("other_machine", "other_machine", text, map=found["machine"], machine=ours)
        return make.done()
    known = {part_key(each.values): each for each in strip.of_type("foreseen")}
    groups, turn = fasteners_foreseen(strip), max([0] + [each.values.get("turn") or 0 for each in known.values()])
    for part in found["parts"]:
        turn += 1
        _foresee(part, found["machine"], turn, known, groups, make)
    if not make.entries and not make.problems:
        make.refuse("nothing_new", "", "All that this map foresees is foreseen here already.")
    return make.done()


def _machine_name(strip: Strip) -> str:
    own = strip.thing(strip.id)
    machine = strip.thing((own.values.get("machine") if own is not None else None) or "")
    return str((machine.values.get("name") if machine is not None else None) or "")


def _foresee(
    part: dict[str, Any], kind: str, turn: int, known: dict[str, Any], groups: dict[str, Any], make: Maker
) -> None:
    here = known.get(part_key(part))
    thing = make.new_id() if here is None else here.id
    if here is None:
        grams = [each["grams_a_piece"] for each in part["seen_on"] if each.get("grams_a_piece") is not None]
        minutes = [each["minutes"] for each in part["seen_on"] if each.get("minutes") is not None]
        values = {name: part.get(name) for name in ("name", "place", "side", "pieces")}
        values.update(map=kind, turn=turn, ordinary_grams=grams or None)
        values.update(about_minutes=int(sum(minutes) / len(minutes) + 0.5) if minutes else None)
        make.put(thing, "foreseen", values, "")
        known[part_key(part)] = make
    elif here is make:
        # A map with the same part twice foresees it once.
        return
    rows = [each.values for each in groups.get(thing, ())]
    for i, j in pairs(rows, part["fasteners"]):
        if i is None:
            row = part["fasteners"][j]
            make.put(make.new_id(), "foreseen_group", dict(_of_fasteners(row), foreseen=thing), "")


def _of_fasteners(row: dict[str, Any]) -> dict[str, Any]:
    return {name: row.get(name) for name in OF_FORESEEN_FASTENERS}


def drop_foreseen(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """This machine has no such part; or, with `dropped` False, it has after all."""
    found = existing(strip, make, form.get("foreseen"), "foreseen", "foreseen")
    if found is not None:
        dropped = form.get("dropped") is not False
        make.put(found.id, "foreseen", {"dropped": dropped}, "", saw={"dropped": saw_of(found, "dropped")})
    return make.done()


def confirm_specification(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """The map's torque for a group, which a person found the same in this machine's own manual, and at which `page`."""
    group = existing(strip, make, form.get("group"), "group", "group")
    if group is None:
        return make.done()
    found = from_the_map(strip, group)
    page = str(form.get("page") or "").strip()
    if has_specification(group.values):
        stands = specification_words(group.values)
        text = "Another torque stands there: {torque}. Change it on its card."
        make.refuse("stands_already", "group", text, torque=stands)
    elif found is None:
        make.refuse("no_specification", "group", "The map says no torque for these.")
    elif not page:
        make.refuse("missing", "page", "Say where in this machine’s manual it stands: manual and page.")
    else:
        values = dict(specification_of(found), torque_page=page)
        saw = {name: saw_of(group, name) for name in values}
        make.put(group.id, "group", values, "", saw={name: saw[name] for name in saw if saw[name]} or None)
    return make.done()


MAP_ACTS = {"take_map": take_map, "drop_foreseen": drop_foreseen, "confirm_specification": confirm_specification}
