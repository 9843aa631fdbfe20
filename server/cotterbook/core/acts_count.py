"""Acts about what is missing: a lost fastener is answered for with a word of how."""

from typing import Any

from .acts_open import closing, put_again, put_new
from .acts_part import existing
from .maker import Maker, whole
from .shopping import wanted_of
from .stops import stops, used_again
from .strip import Strip
from .words import spoken


def rule_out(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """Somebody answers for it that a group's lost fasteners are not inside the machine: `group`, `how`."""
    return _answered(strip, form, make, stops(strip), "None of these is lost any more. Look at the count again.")


def excuse(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """Somebody says why fasteners that are new each time stay in used: `group`, `how`."""
    return _answered(
        strip, form, make, used_again(strip), "None of these is used again any more. Look at the list again."
    )


def arrived(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """New fasteners of a `group` are here, `count` of them: in the bag of their part, else in spares."""
    group = existing(strip, make, form.get("group"), "group", "group")
    if group is None:
        return make.done()
    count, part = whole(form, "count"), strip.thing(group.values.get("part") or "")
    wanted = wanted_of(strip, group)["to_buy"]
    if isinstance(count, int) and count > wanted:
        make.refuse(
            "not_that_many",
            "count",
            "To buy: {wanted}. Put more than that in spares on the part’s page.",
            wanted=wanted,
        )
    bag = None if part is None else part.values.get("bag")
    ends = {"from": "stock", "to": "bag" if bag else "spares", "to_bag": bag}
    make.entry("move", "", group=group.id, count=count, **ends)
    return make.done()


def _answered(
    strip: Strip, form: dict[str, Any], make: Maker, asked: list[dict[str, Any]], text: str
) -> dict[str, Any]:
    found = [each for each in asked if each["group"] == form.get("group")]
    values = closing(make, form)
    if not found:
        make.refuse("nothing_asked", "group", text)
        return make.done()
    answer(make, found[0], values)
    return make.done()


def answer(make: Maker, each: dict[str, Any], values: dict[str, Any]) -> None:
    """Values for the item of something that a group asks for, which is made where there is none yet."""
    if each["items"]:
        put_again(make, each["items"][0], values, each["rests_on"])
        return
    own = {"rule": each["rule"], "part": each["part"], "group": each["group"]}
    put_new(make, dict(own, **values), spoken(each["sentence"]), each["rests_on"])


COUNT_ACTS = {"rule_out": rule_out, "excuse": excuse, "arrived": arrived}
