"""Acts about the way back: what waits for what, the order changed by hand, fasteners pinned on a picture."""

from typing import Any

from .acts_part import existing, saw_of
from .maker import Maker, given, whole
from .strip import Strip
from .thing import Thing
from .views_pins import pins_by_photo
from .way_back import Waits, still_to_go_on


def wait(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """A part waits for another: `part`, `first`, `why`, `note`."""
    part = existing(strip, make, form.get("part"), "part", "part")
    first = existing(strip, make, form.get("first"), "part", "first")
    if part is None or first is None:
        return make.done()
    waits, names = Waits(strip), {"part": _name(part), "first": _name(first)}
    if part.id == first.id:
        make.refuse("itself", "first", "A part cannot wait for itself.")
    elif first.id in waits.firsts(part.id):
        make.refuse("known", "first", "{part} waits for {first} already.", **names)
    elif waits.reaches(first.id, part.id):
        make.refuse("ring", "first", "{first} waits for {part}. Both cannot go on first.", **names)
    values = {"part": part.id, "first": first.id, "why": form.get("why") or "other", "note": given(form, "note")}
    make.put(make.new_id(), "wait", values, "")
    return make.done()


def wait_no_more(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """A part need not wait after all: `wait`."""
    return _drop(strip, make, form.get("wait"), "wait")


def move_in_order(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """A part one place earlier or later on the way back: `part`, `way` "earlier" or "later"."""
    part = existing(strip, make, form.get("part"), "part", "part")
    if part is None:
        return make.done()
    waits = Waits(strip)
    order = still_to_go_on(strip, waits)
    places = [place for place, each in enumerate(order) if each.id == part.id]
    if not places:
        make.refuse("not_open", "part", "{part} is not among the parts that still go on.", part=_name(part))
        return make.done()
    after = _new_anchor(strip.id, order, places[0], form.get("way") == "earlier", waits, make)
    make.put(part.id, "part", {"back_after": after}, "", {"back_after": saw_of(part, "back_after")})
    return make.done()


def _new_anchor(strip_id: str, order: list[Thing], place: int, earlier: bool, waits: Waits, make: Maker) -> Any:
    """After which part one comes once it has changed places with its neighbour; refused where it cannot."""
    part = order[place]
    if earlier and place == 0 or not earlier and place == len(order) - 1:
        text = "{part} goes on first already." if earlier else "{part} goes on last already."
        make.refuse("at_the_end", "part", text, part=_name(part))
        return None
    other = order[place - 1 if earlier else place + 1]
    first, second = (other, part) if earlier else (part, other)
    if waits.reaches(second.id, first.id):
        text = "{part} waits for {first}, so it stays after it. Take that back first."
        make.refuse("waits", "part", text, part=_name(second), first=_name(first))
        return None
    if not earlier:
        return other.id
    return order[place - 2].id if place > 1 else strip_id


def pin(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """A fastener of a group shown on a picture: `on_photo` (its entry), `group`, `across` and `down` in thousandths."""
    group = existing(strip, make, form.get("group"), "group", "group")
    if group is None:
        return make.done()
    part = strip.thing(group.values.get("part") or "")
    photo = form.get("on_photo")
    if part is None or photo not in [each["id"] for each in part.of_kind("photo")]:
        make.refuse("no_such_photo", "on_photo", "That picture is not one of this part.")
    pinned = [each for each in pins_by_photo(strip).get(photo or "", ()) if each.values["group"] == group.id]
    count = group.values.get("count") or 0
    if len(pinned) >= count:
        text = "All {count} are on this picture already. Tap one to take it away."
        make.refuse("all_pinned", "group", text, count=count)
    values = {
        "photo": photo,
        "group": group.id,
        "across_permille": whole(form, "across"),
        "down_permille": whole(form, "down"),
    }
    make.put(make.new_id(), "pin", values, "")
    return make.done()


def unpin(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """A pin comes off its picture: `pin`."""
    return _drop(strip, make, form.get("pin"), "pin")


def _drop(strip: Strip, make: Maker, thing: Any, thing_type: str) -> dict[str, Any]:
    found = existing(strip, make, thing, thing_type, thing_type)
    if found is not None:
        make.put(found.id, thing_type, {"dropped": True}, "")
    return make.done()


def _name(part: Thing) -> str:
    return str(part.values.get("name") or "")


WAY_BACK_ACTS = {
    "wait": wait,
    "wait_no_more": wait_no_more,
    "move_in_order": move_in_order,
    "pin": pin,
    "unpin": unpin,
}
