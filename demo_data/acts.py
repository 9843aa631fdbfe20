"""What people do at the bench, each act as the entries that the phone writes for it."""

from typing import Any

from cotterbook.core import torque_tool
from log import Phone

MANUAL = "workshop book"
KITCHEN_SCALE, HANGING_SCALE = "kitchen scale", "hanging scale"
KITCHEN = {"step_grams": 1, "scale": KITCHEN_SCALE}
HANGING = {"step_grams": 20, "scale": HANGING_SCALE}
SMALL_WRENCH = "torque wrench A"
LARGE_WRENCH = "torque wrench B"
Fields = dict[str, Any]


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
    # The spring balance has no card.
    on = {"on_scale": phone.log.ids[reading["scale"]]} if reading.get("scale") in phone.log.ids else {}
    return phone.write("weigh", part=phone.log.id(key), **reading, **on)


def drained(fluid: str, litres: float, plus_minus: float, weighed_as: str, as_read: str) -> Fields:
    """A fluid by its litres."""
    return {"weighed_as": weighed_as, "pieces": 1, "basis": "worked_out", "fluid": fluid, "litres": litres,
            "plus_minus_litres": plus_minus, "as_read": as_read}


def move(phone: Phone, group: str, count: int, start: str, end: str, from_bag: str = "", to_bag: str = "") -> None:
    bags = {"from_bag": from_bag, "to_bag": to_bag}
    phone.write("move", **{"group": phone.log.id(group), "count": count, "from": start, "to": end},
                **{side: phone.log.id(f"bag {label}") for side, label in bags.items() if label})


def wrench_for(newton_metres: float) -> str:
    """The smaller wrench where it reaches; small screws get it too, though it is marked from 5 N.m on."""
    return SMALL_WRENCH if newton_metres <= 25 else LARGE_WRENCH


def tighten(phone: Phone, group: str, count: int, newton_metres: float, mark: bool = True, adapter: float = 0,
            prevailing: float = 0, **more: Any) -> None:
    """With the tool that reaches, whose card stands in the log; what that is worth the phone works out as it saves.

    `adapter` in mm lengthens the wrench in line; `prevailing` in N.m is what a locking nut wants on top.
    """
    phone.pause(40)
    name = wrench_for(newton_metres)
    card, lever = phone.values(name), phone.values(name).get("lever_millimetres")
    setting = torque_tool.on_its_step(torque_tool.setting_for(newton_metres + prevailing, lever, adapter), card)
    fields = {"newton_metres": torque_tool.applied_by(setting, lever, adapter), "setting_newton_metres": setting,
              "expanded_newton_metres": torque_tool.expanded(setting, card, lever, adapter)}
    if prevailing:
        fields["prevailing_newton_metres"] = prevailing
    if adapter:
        fields.update(adapter_millimetres=adapter, lever_millimetres=lever, adapter_degrees=0)
    phone.write("tighten", group=phone.log.id(group), count=count, tool=name, with_tool=phone.log.id(name),
                **fields, **more)
    if mark:
        phone.write("witness", group=phone.log.id(group), count=count)
    phone.log.share()


def second_check(phone: Phone, group: str, count: int, looked_at: str, found: str = "right") -> None:
    """Another person than the one who tightened looks at fasteners that are tight and marked."""
    phone.pause(25)
    phone.write("second_check", group=phone.log.id(group), count=count, looked_at=looked_at, found=found)
    phone.log.share()


def refit(phone: Phone, group: str, count: int, label: str, newton_metres: float,
          mark: bool = True, **more: Any) -> None:
    """Fasteners out of their bag, back into their holes, tightened and marked."""
    phone.pause(30)
    move(phone, group, count, "bag", "machine", from_bag=label)
    tighten(phone, group, count, newton_metres, mark, **more)


def fit_new(phone: Phone, group: str, count: int, newton_metres: float, **more: Any) -> None:
    """New fasteners from stock into a part that was added."""
    move(phone, group, count, "stock", "machine")
    tighten(phone, group, count, newton_metres, **more)


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
