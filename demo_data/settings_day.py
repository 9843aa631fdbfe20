"""The same Sunday: what was turned for the sidecar, as it was found and as it stands now."""

from typing import Any

from log import Log, Phone


def note(phone: Phone, key: str, unit: str, found: Any, now: Any = None, why: str = "", **described: Any) -> None:
    """A setting as it was found, None where nobody knows, and what it was set to, None where it was left."""
    as_found = {"as_found_unknown": True} if found is None else {"as_found_" + unit: found}
    phone.name(key)
    phone.pause()
    phone.set(key, "setting", measured_in=unit, **described, **as_found)
    if now is not None:
        phone.set(key, "setting", **{unit: now}, **({"why": why} if why else {}))


def play(log: Log, ilvane: Phone, torrec: Phone) -> None:
    rebound = {"adjusted": "rebound_damping", "place": "fork", "counted": "out_from_in", "inwards_is": "harder"}
    note(torrec, "rebound left", "clicks", 12, 8, "For the weight beside her", side="left", **rebound)
    # He was called away before the other leg.
    note(torrec, "rebound right", "clicks", 12, side="right", **rebound)
    note(torrec, "rear preload", "steps", 2, 4, adjusted="preload", place="swing_arm", side="both",
         how_to_undo="Hook spanner from the tool kit, one unit after the other.", part=log.id("rear units"))
    note(ilvane, "rear tyre", "kilopascals", 225, 250, "Hives on", adjusted="tyre_pressure", place="rear_wheel",
         read_how="cold")
    note(ilvane, "slack", "millimetres", None, 25, adjusted="chain_slack", place="rear_wheel",
         read_how="at its tightest place, wheels on the ground")
    note(ilvane, "beam", "percent", -1.2, adjusted="lamp_aim", place="front_end",
         note="To be set when the sidecar is on.")
    note(ilvane, "front brake lever", "in_words", "second notch", "first notch", "Thick gloves", adjusted="lever",
         place="handlebar", side="right")
    log.share()
