"""Acts about what is open: writing it down, closing it with a word of how, and the same for a caution of the rules."""

from typing import Any

from .acts_part import ITEM_CHARACTERS, existing, put_item, saw_of
from .astray import losses
from .follows import alone, done_to, firing
from .maker import Maker, given
from .open_items import items_by_rule, rests_on, seen_lists
from .replaced import new_ones
from .stops import GROUP_RULES, LOST_INSIDE, USED_AGAIN
from .strip import Strip
from .thing import Thing
from .words import spoken


def item(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """Something still to do, for a part or for the whole strip-down."""
    part = form.get("part") or None
    if part is None or existing(strip, make, part, "part", "part") is not None:
        put_item(make, part, form, "")
    return make.done()


def close_item(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """An open item is done, and how."""
    found = existing(strip, make, form.get("item"), "item", "item")
    if found is not None:
        put_again(make, found, closing(make, form), _answered_by(strip, found))
    return make.done()


def _answered_by(strip: Strip, item: Thing) -> list[dict[str, Any]]:
    """The entries that closing an item of a rule answers for, should the rule ask again: what was done to its part."""
    rule, of = item.values.get("rule"), item.values.get("group" if item.values.get("rule") in GROUP_RULES else "part")
    thing = strip.thing(of or "")
    if rule is None or thing is None:
        fired = [each for each in firing(strip) if each["rule"] == rule and each["part"] is None] if rule else []
        return rests_on(strip, fired[0]) if fired else []
    if rule == USED_AGAIN:
        return new_ones(thing).used_by
    return losses(thing) if rule == LOST_INSIDE else done_to(thing)


def close_caution(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """A caution was looked at, and how: `rule` and `part` name it; it is kept as an item that is done."""
    return _of_caution(strip, form, make, closing(make, form))


def plan_caution(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """Who looks at a caution, before what or by which day: `for_whom`, `before`, `due_on`."""
    values = {name: given(form, name) for name in ("for_whom", "before", "due_on")}
    if not any([values[name] is not None for name in values]):
        make.refuse("missing", "for_whom", "Say who, before what or by when.")
    return _of_caution(strip, form, make, values)


def closing(make: Maker, form: dict[str, Any]) -> dict[str, Any]:
    """The values by which an item is closed with a word of how; without one the act is refused."""
    how = given(form, "how")
    if how is None:
        make.refuse("missing", "how", "Say how it was done or looked at.")
    return {"closed": True, "closed_how": how}


def put_again(make: Maker, thing: Thing, values: dict[str, Any], rests_on: Any = ()) -> None:
    """New values for an item that is there, with the entries whose values they follow, and those they answer for."""
    saw = {name: saw_of(thing, name) for name in values if values[name] is not None and saw_of(thing, name)}
    for seen in seen_lists(values, rests_on):
        make.put(thing.id, "item", values, "", dict(saw, **(seen or {})) or None)


def put_new(make: Maker, values: dict[str, Any], text: str, rests_on: Any) -> None:
    """An item that the program words itself, cut where a text of an item ends, with the entries it answers for."""
    item = make.new_id()
    for at, seen in enumerate(seen_lists(values, rests_on)):
        own: dict[str, Any] = {"closed": values.get("closed"), "closed_how": values.get("closed_how")}
        if at == 0:
            own = dict(values, what="check", text=text[:ITEM_CHARACTERS])
        make.put(item, "item", own, "", seen)


def _of_caution(strip: Strip, form: dict[str, Any], make: Maker, values: dict[str, Any]) -> dict[str, Any]:
    """Values for the item of a caution, which is made where there is none yet."""
    rule, part = form.get("rule"), form.get("part") or None
    fired = [each for each in firing(strip) if each["rule"] == rule and each["part"] == part]
    if not fired:
        make.refuse("no_such_caution", "rule", "This caution no longer follows. Look at the list again.")
        return make.done()
    items = items_by_rule(strip).get((fired[0]["rule"], part), [])
    seen = rests_on(strip, fired[0])
    if items:
        put_again(make, items[0], values, seen)
    else:
        own = {"part": part, "rule": fired[0]["rule"]}
        put_new(make, dict(own, **values), spoken(alone(strip, fired[0])), seen)
    return make.done()


OPEN_ACTS = {"item": item, "close_item": close_item, "close_caution": close_caution, "plan_caution": plan_caution}
