"""Acts about what comes after tightening: retorque and cure time written down, the machine's odometer read."""

from typing import Any

from .acts_part import existing, saw_of
from .machine_use import FAR_KILOMETRES, last_of, machine_of, shown_distance, unit_of_odometer, uses_of_machine
from .maker import Maker, given, whole
from .strip import Strip
from .typed_quantities import own_unit, written

RETORQUE = ("retorque_kilometres", "retorque_days", "retorque_heat_cycles")
# What a reading that is lower than the one before may come from.
LOWER = ("changed", "earlier_wrong")
STRUCK = "A later reading is lower, and was said to be right."


def aftercare(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """When a group is to be tightened anew, and how long its compound cures; what is blank is taken back.

    Only what changed is written. `saw` are the entries that the author saw, as `specify` has them.
    """
    group = existing(strip, make, form.get("group"), "group", "group")
    if group is None:
        return make.done()
    found = dict(_retorque(form, make), **_cure(form, make))
    values = {name: found[name] for name in found if found[name] != group.values.get(name)}
    if not values:
        return make.done()
    seen = form.get("saw") or {}
    saw = {name: seen[name] if name in seen else saw_of(group, name) for name in values}
    make.entry("set", "", thing=group.id, type="group", values=values, saw={n: saw[n] for n in saw if saw[n]})
    return make.done()


def _retorque(form: dict[str, Any], make: Maker) -> dict[str, Any]:
    unit = form.get("retorque_unit") or "km"
    far = make.figure(form, "retorque_distance", "", "distance", unit)
    found = {
        "retorque_kilometres": far,
        "retorque_unit": None if far is None else own_unit(given(form, "retorque_distance"), "distance") or unit,
        "retorque_days": whole(form, "retorque_days"),
        "retorque_heat_cycles": whole(form, "retorque_heat_cycles"),
    }
    wanted = any([given(form, name) is not None for name in ("retorque_distance",) + RETORQUE[1:]])
    found["retorque_from"] = given(form, "retorque_from") if wanted else None
    found["retorque_once"] = True if wanted and form.get("retorque_times") == "once" else None
    if wanted and found["retorque_from"] is None:
        text = "Say who wants it: the manual with its page, or the shop’s own rule."
        make.refuse("missing", "retorque_from", text)
    return found


def _cure(form: dict[str, Any], make: Maker) -> dict[str, Any]:
    found = {
        "locking_compound": given(form, "locking_compound"),
        "cure_hours": make.figure(form, "cure_hours", ""),
        "cure_from": given(form, "cure_from"),
    }
    if given(form, "cure_hours") is not None:
        if found["locking_compound"] is None:
            make.refuse("missing", "locking_compound", "Say which compound: each has its own cure time.")
        if found["cure_from"] is None:
            make.refuse("missing", "cure_from", "Say where the hours are from: the product’s own sheet or label.")
    return found


def read_machine(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """A reading of the machine's odometer or a count of its heat cycles, or both.

    One that is lower than the one before is asked about: `lower` says that the odometer was "changed", and counts anew
    from here, or that what is higher was "earlier_wrong", which strikes it.
    """
    machine = existing(strip, make, machine_of(strip), "machine", "")
    if machine is None:
        return make.done()
    uses, unit = uses_of_machine(strip), form.get("odometer_unit") or "km"
    far, cycles = make.figure(form, "odometer", "", "distance", unit), whole(form, "heat_cycles")
    if given(form, "odometer") is None and cycles is None:
        make.refuse("missing", "odometer", "Give what the odometer shows, or the count of heat cycles.")
    answer = given(form, "lower")
    low = _lower(uses, {"kilometres": far, "heat_cycles": cycles if isinstance(cycles, int) else None})
    if low and answer not in LOWER:
        name, before = low[0]
        _ask(make, uses, name, before)
    if not low and far is not None and given(form, "far") is None:
        _ask_far(make, uses, far)
    if low and answer == "earlier_wrong":
        for each in _higher(uses, {"kilometres": far, "heat_cycles": cycles}):
            make.follow(each)
            make.entry("strike", "", entry=each["id"], why=STRUCK)
    elif uses:
        # What is read now comes after what was read, whatever this phone's clock.
        make.follow(uses[-1])
    make.entry(
        "machine_use",
        "",
        machine=machine.id,
        kilometres=far,
        heat_cycles=cycles,
        as_read=None if far is None else written(given(form, "odometer"), "distance", str(unit)),
        counts_anew=True if low and answer == "changed" else None,
    )
    return make.done()


def _lower(uses: list[dict[str, Any]], read: dict[str, Any]) -> list[tuple[str, dict[str, Any]]]:
    """(name, the reading before) of each figure that is lower than it was."""
    found = []
    for name in ("kilometres", "heat_cycles"):
        before = last_of(uses, name)
        if read[name] is not None and before is not None and read[name] < before[name]:
            found.append((name, before))
    return found


def _higher(uses: list[dict[str, Any]], read: dict[str, Any]) -> list[dict[str, Any]]:
    """The readings that are wrong if this one is right: those above it, since the odometer last counted anew."""
    since: list[dict[str, Any]] = []
    for use in uses:
        since = [use] if use.get("counts_anew") else since + [use]
    return [
        use
        for use in since
        if any([read[name] is not None and (use.get(name) or 0) > read[name] for name in ("kilometres", "heat_cycles")])
    ]


def _ask(make: Maker, uses: list[dict[str, Any]], name: str, before: dict[str, Any]) -> None:
    if name == "heat_cycles":
        text = "{before} heat cycles were counted before. Say below which is right."
        make.refuse("lower_than_before", "lower", text, before=before[name])
        return
    shown = shown_distance(before[name], unit_of_odometer(uses))
    text = "The odometer was read at {before} before. Say below why it is lower now."
    make.refuse("lower_than_before", "lower", text, before=shown)


def _ask_far(make: Maker, uses: list[dict[str, Any]], far: float) -> None:
    before = last_of(uses, "kilometres")
    if before is not None and far - before["kilometres"] > FAR_KILOMETRES:
        run = shown_distance(far - before["kilometres"], unit_of_odometer(uses))
        make.refuse("far", "far", "That is {run} more than at the reading before. If it is right, say so.", run=run)


RETORQUE_ACTS = {"aftercare": aftercare, "read_machine": read_machine}
