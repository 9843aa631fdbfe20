"""What the screens show of a group's second check: whether it is wanted, how far it is, who looked."""

from typing import Any

from .apart import group_words
from .entries import wall_clock_ms
from .fasteners import Ledger
from .hangs_on import life_hangs_on_either
from .strip import Strip
from .thing import Thing
from .words import say


def second_check_view(strip: Strip, group: Thing, ledger: Ledger) -> dict[str, Any]:
    """Whether one is `wanted` by part and place, and how many `of` those that went in are `checked`.

    `open` are those that can be checked now; `workers` tightened or marked them, so may not; `last` is the last look,
    `waived` the owner's decision to do without.
    """
    part, check = strip.thing(group.values.get("part") or ""), ledger.check
    wanted = life_hangs_on_either(part, group)
    last = None if check.last is None else _by(check.last, ("count", "looked_at", "found"))
    if last is not None:
        last["counts"] = not check.own
    return {
        "wanted": wanted,
        "checked": check.checked,
        "of": ledger.loose + ledger.tight,
        "open": ledger.checkable - check.checked,
        "workers": check.workers,
        "last": last,
        "waived": None if check.waived is None else _by(check.waived, ("why",)),
        "notice": _notice(ledger, wanted),
    }


def _by(entry: dict[str, Any], names: Any) -> dict[str, Any]:
    view = {"entry": entry["id"], "who": entry["who"], "at_ms": wall_clock_ms(entry["id"])}
    view.update({name: entry[name] for name in names})
    return view


def _notice(ledger: Ledger, wanted: bool) -> Any:
    """What stands against the last look, in words; None where nothing does."""
    last, check = ledger.check.last, ledger.check
    if last is not None and last["found"] == "not_right":
        text = "{who} found {n} not right: {looked_at}"
        return say(text, who=last["who"], n=last["count"], looked_at=last["looked_at"])
    if check.blind is not None and wanted and check.waived is None and check.checked < ledger.loose + ledger.tight:
        return group_words(check.blind)
    if check.own and wanted and check.waived is None:
        if ledger.is_tightened:
            return say("Checked by the one who tightened it: a second person is still needed.")
        return say("Checked by the one who put it in: a second person is still needed.")
    return None
