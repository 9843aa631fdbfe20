"""Locking compound that cures: how long still, by the hours that a person took from the product's own sheet.

None are shipped: what a compound needs hangs on the product, the metal, the gap and the warmth.
"""

from typing import Any

from .entries import wall_clock_ms
from .fasteners import Ledger
from .figures import plain_number
from .strip import Strip
from .thing import Thing
from .words import say

MS_AN_HOUR, MS_A_MINUTE = 3_600_000, 60_000
# Longer than this is said in days.
HOURS_TOLD = 48


def cure_of(group: Thing, ledger: Ledger, now_ms: Any) -> Any:
    """How the compound of a group stands; None where no cure time is written down, or nothing is tightened yet.

    It counts from the last tightening that still holds, by the order of the log where a phone's clock was behind: a
    compound is never told cured too early. {"state": "curing", "cured" or "clock_behind", "text",
    "compound", "hours", "from", "since_ms", "until_ms"}; `now_ms` is the moment, without which nothing is told.
    """
    hours = group.values.get("cure_hours")
    if not hours or not ledger.applied or now_ms is None:
        return None
    began = max([wall_clock_ms(entry["id"]) for entry in ledger.applied])
    since = max([began] + [entry["at"] for entry in ledger.applied])
    until = since + int(round(hours * MS_AN_HOUR))
    view = {
        "compound": group.values.get("locking_compound"),
        "hours": plain_number(hours),
        "from": group.values.get("cure_from"),
        "since_ms": since,
        "until_ms": until,
    }
    if now_ms < began:
        text = "Cure time unknown: clocks differ, the tightening says a later time than this phone. Set both."
        return dict(view, state="clock_behind", text=say(text))
    if now_ms >= until:
        return dict(view, state="cured", text=say("The cure time on its sheet is over."))
    return dict(view, state="curing", text=_left(until - now_ms))


def _left(left_ms: int) -> dict[str, Any]:
    """The time left, to the minute that has begun; in days from two of them on."""
    minutes = -(-left_ms // MS_A_MINUTE)
    hours = minutes // 60
    if hours >= HOURS_TOLD:
        return say("Cures for another {days} days and {hours} h.", days=hours // 24, hours=hours % 24)
    if hours:
        return say("Cures for another {hours} h {minutes} min.", hours=hours, minutes=minutes % 60)
    return say("Cures for another {minutes} min.", minutes=minutes)


def cures_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """Every group whose compound's cure time is written down, by its id, as `cure_of` has it at `now_ms`."""
    found = {}
    for group in strip.of_type("group"):
        if group.values.get("cure_hours"):
            cure = cure_of(group, strip.ledger(group.id), arguments.get("now_ms"))
            if cure is not None:
                found[group.id] = cure
    return {"cures": found}
