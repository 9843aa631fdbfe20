"""What the screens show of retorques and of the machine's odometer: readings, what is due, what is left."""

from typing import Any

from .figures import plain_number
from .machine_use import (
    DISAGREE,
    NO_START,
    falls,
    last_of,
    machine_of,
    unit_of_odometer,
    use_view,
    uses_of_machine,
)
from .retorque import retorque_of, unit_of
from .strip import Strip
from .thing import Thing
from .unit_factors import FACTORS
from .views_group import named
from .words import say

ORDER = ("due", "unknown", "left", "not_tight", "done")


def retorques(strip: Strip, now_ms: Any) -> list[dict[str, Any]]:
    """Every group with a retorque, with its part, those that are due first."""
    uses, found = uses_of_machine(strip), []
    for group in strip.of_type("group"):
        stands = retorque_of(strip, group, uses, now_ms)
        if stands is None:
            continue
        part = strip.thing(group.values.get("part") or "")
        values = {} if part is None else part.values
        stands.update(
            called=named(group.values),
            count=strip.ledger(group.id).count,
            part=None if part is None else part.id,
            part_name=values.get("name") or "",
            place=values.get("place"),
            side=values.get("side"),
        )
        found.append(stands)
    return [each for state in ORDER for each in found if each["state"] == state]


def retorque_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """{"machine", "uses": readings newest first, "notices", "form", "unit", "due": as `retorques` at `now_ms`}."""
    uses, machine = uses_of_machine(strip), strip.thing(machine_of(strip) or "")
    wrong = falls(uses, "kilometres") + falls(uses, "heat_cycles")
    cycles = last_of(uses, "heat_cycles")
    shown = [use_view(use, wrong) for use in uses]
    shown.reverse()
    return {
        "machine": None if machine is None else machine.values.get("name") or "",
        "unit": unit_of_odometer(uses),
        "heat_cycles": None if cycles is None else cycles["heat_cycles"],
        "uses": shown,
        "notices": [say(DISAGREE[name]) for name in ("kilometres", "heat_cycles") if falls(uses, name)],
        "due": retorques(strip, arguments.get("now_ms")),
    }


def form_of_aftercare(group: Thing) -> dict[str, Any]:
    """Retorque and cure time as the form of a group holds them."""
    values, unit = group.values, unit_of(group.values)
    far = values.get("retorque_kilometres")
    return {
        "retorque_distance": "" if far is None else plain_number(far / FACTORS["distance"][unit]),
        "retorque_unit": unit,
        "retorque_days": _typed(values.get("retorque_days")),
        "retorque_heat_cycles": _typed(values.get("retorque_heat_cycles")),
        "retorque_times": "once" if values.get("retorque_once") else "every_time",
        "retorque_from": values.get("retorque_from") or "",
        "locking_compound": values.get("locking_compound") or "",
        "cure_hours": _typed(values.get("cure_hours")),
        "cure_from": values.get("cure_from") or "",
    }


def _typed(value: Any) -> str:
    return "" if value is None else plain_number(value)


def open_retorques(strip: Strip, now_ms: Any) -> list[tuple[Any, dict[str, Any]]]:
    """(part, sentence) of every retorque that is due; (None, sentence) where the machine has to be read first."""
    found: list[tuple[Any, dict[str, Any]]] = []
    unread: dict[str, int] = {}
    for each in retorques(strip, now_ms):
        for line in each["lines"]:
            if line["state"] == "unknown" and not _never_read(line):
                unread[line["by"]] = unread.get(line["by"], 0) + 1
        due = [line for line in each["lines"] if line["state"] == "due" or _never_read(line)]
        if due:
            text = "Retorque {count} × {what}: {due}"
            found.append((each["part"], say(text, count=each["count"], what=each["called"], due=due[0]["text"])))
    for by, text in UNREAD:
        if by in unread:
            found.append((None, say(text, n=unread[by])))
    return found


def _never_read(line: dict[str, Any]) -> bool:
    """Whether no reading can help any more: it was not read when they were tightened."""
    return line["text"]["text"] in NO_START.values()


UNREAD = (
    ("distance", "Read the odometer: how far it is to a retorque is not known. Groups: {n}."),
    ("heat_cycles", "Count the heat cycles: how many are left to a retorque is not known. Groups: {n}."),
    ("days", "Set this phone’s clock: how long it is to a retorque is not known. Groups: {n}."),
)
