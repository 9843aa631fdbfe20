"""What people do at the bench, each act as the entries that the phone writes for it."""

from typing import Any

from cotterbook.core.torque_tool import expanded
from log import Phone

MANUAL = "workshop book"
KITCHEN = {"step_grams": 1, "scale": "kitchen scale"}
HANGING = {"step_grams": 20, "scale": "hanging scale"}
SMALL_WRENCH, LARGE_WRENCH = "torque wrench A", "torque wrench B"
Fields = dict[str, Any]
# The large one's calibration runs out between the second day and the third.
WRENCHES: dict[str, Fields] = {
    SMALL_WRENCH: {"tool_type": "click", "low_newton_metres": 5, "high_newton_metres": 25, "step_newton_metres": 0.25,
                   "lever_millimetres": 255, "calibrated_on": "2024-11-20", "certificate": "118-24"},
    LARGE_WRENCH: {"tool_type": "click", "low_newton_metres": 20, "high_newton_metres": 110, "step_newton_metres": 1,
                   "lever_millimetres": 430, "calibrated_on": "2024-03-22", "certificate": "032-24"},
}


def fasteners(count: int, thread: str, length: float | None, head: str, key: str, into: str, sits: str,
              **more: Any) -> Fields:
    """The fields of a group; what is None is left out, as the phone does."""
    fields = {"count": count, "thread": thread, "length_millimetres": length, "head": head, "key": key,
              "into": into, "sits": sits} | more
    return {name: value for name, value in fields.items() if value is not None}


def torque(low: float, page: str, high: float | None = None, **more: Any) -> Fields:
    """A specification from the manual: one value or a range, and its page."""
    return {"torque_low_newton_metres": low, "torque_high_newton_metres": high or low,
            "torque_page": f"{MANUAL} {page}"} | more


def kitchen(grams: float, pieces: int = 1, weighed_as: str = "taken_off", **more: Any) -> Fields:
    return {"weighed_as": weighed_as, "pieces": pieces, "basis": "weighed", "grams": grams} | KITCHEN | more


def hanging(grams: float, pieces: int = 1, weighed_as: str = "taken_off", **more: Any) -> Fields:
    return {"weighed_as": weighed_as, "pieces": pieces, "basis": "weighed", "grams": grams} | HANGING | more


def figure(basis: str, grams: float, pieces: int = 1, weighed_as: str = "taken_off", **more: Any) -> Fields:
    """A mass that nobody weighed: from a document, worked out or estimated."""
    return {"weighed_as": weighed_as, "pieces": pieces, "basis": basis, "grams": grams} | more


def bag(phone: Phone, label: str, kept: str) -> None:
    phone.name(f"bag {label}")
    phone.set(f"bag {label}", "bag", label=label, kept=kept)


def wrench_cards(phone: Phone) -> None:
    for name, card in WRENCHES.items():
        phone.name(name)
        phone.set(name, "tool", name=name, **card)


def log_part(phone: Phone, key: str, fields: Fields, groups: dict[str, Fields] | None = None,
             readings: tuple[Fields, ...] = ()) -> None:
    """A part with its fastener groups and readings; nothing is moved yet."""
    phone.pause()
    phone.name(key)
    phone.set(key, "part", **fields)
    for name, group in (groups or {}).items():
        phone.name(name)
        phone.set(name, "group", part=phone.log.id(key), **group)
    for reading in readings:
        weigh(phone, key, reading)
    phone.log.share()


def take_off(phone: Phone, key: str, fields: Fields, label: str, groups: dict[str, Fields],
             readings: tuple[Fields, ...] = (), lost: int = 0) -> None:
    """A part comes off and its fasteners go into the bag, save those that were lost."""
    log_part(phone, key, fields | {"off": True, "bag": phone.log.id(f"bag {label}")}, groups, readings)
    bagged(phone, label, groups, lost)
    phone.log.share()


def bagged(phone: Phone, label: str, groups: dict[str, Fields], lost: int = 0) -> None:
    for name, group in groups.items():
        move(phone, name, group["count"] - lost, "machine", "bag", to_bag=label)
        if lost:
            move(phone, name, lost, "machine", "lost")


def weigh(phone: Phone, key: str, reading: Fields) -> str:
    return phone.write("weigh", part=phone.log.id(key), **reading)


def move(phone: Phone, group: str, count: int, start: str, end: str, from_bag: str = "", to_bag: str = "") -> None:
    bags = {"from_bag": from_bag, "to_bag": to_bag}
    phone.write("move", **{"group": phone.log.id(group), "count": count, "from": start, "to": end},
                **{side: phone.log.id(f"bag {label}") for side, label in bags.items() if label})


def tighten(phone: Phone, group: str, count: int, newton_metres: float, tool: str = SMALL_WRENCH,
            mark: bool = True, **more: Any) -> None:
    phone.pause(40)
    phone.write("tighten", group=phone.log.id(group), count=count, newton_metres=newton_metres, tool=tool,
                with_tool=phone.log.id(tool), setting_newton_metres=newton_metres,
                expanded_newton_metres=expanded(newton_metres, WRENCHES[tool]), **more)
    if mark:
        phone.write("witness", group=phone.log.id(group), count=count)
    phone.log.share()


def refit(phone: Phone, group: str, count: int, label: str, newton_metres: float, tool: str = SMALL_WRENCH,
          mark: bool = True) -> None:
    """Fasteners out of their bag, back into their holes, tightened and marked."""
    phone.pause(30)
    move(phone, group, count, "bag", "machine", from_bag=label)
    tighten(phone, group, count, newton_metres, tool, mark)


def fit_new(phone: Phone, group: str, count: int, newton_metres: float, tool: str = SMALL_WRENCH) -> None:
    """New fasteners from stock into a part that was added."""
    move(phone, group, count, "stock", "machine")
    tighten(phone, group, count, newton_metres, tool)


def change(phone: Phone, key: str, type: str = "part", /, **values: Any) -> None:
    phone.pause(20)
    phone.set(key, type, **values)
    phone.log.share()


def picture(phone: Phone, key: str, caption: str, drawing: str) -> None:
    phone.pause(15)
    phone.write("photo", thing=phone.log.id(key), media_type="image/jpeg", caption=caption,
                **phone.log.pictures[drawing])
    phone.log.share()


def item(phone: Phone, key: str, what: str, text: str, part: str = "") -> None:
    phone.name(key)
    phone.set(key, "item", what=what, text=text, **({"part": phone.log.id(part)} if part else {}))
    phone.log.share()
