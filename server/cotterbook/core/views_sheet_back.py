"""What the way-back sheet on paper shows beside the screen of the way back: boxes to tick, torques as the manual has
them, cautions where the hand is."""

from typing import Any

from . import torque
from .place_cautions import caution_at
from .shown_torque import specification_shown
from .strip import Strip
from .thing import Thing
from .torque_cautions import CLEAN, WRENCH, at_the_hand
from .views_back import back_view
from .views_group import pattern_of
from .views_torque import unit_of
from .words import say


def back_sheet_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """The view of the way back, with "before": what to mind at every fastener; for each part its
    place's "caution"; and for each group "cautions" while it
    is not done, "boxes" as `_boxes` has them, and its specification and stages in the unit of the manual."""
    view = back_view(strip, arguments)
    for part in view["parts"] + view["done"]:
        part["caution"] = caution_at(part["place"])
        part["groups"] = [_group(strip, strip.thing(part["part"]), each) for each in part["groups"]]
    return dict(view, before=[say(CLEAN), say(WRENCH)])


def _group(strip: Strip, part: Any, view: dict[str, Any]) -> dict[str, Any]:
    group: Any = strip.thing(view["group"])
    values, spec = group.values, torque.specification(group.values)
    unit = unit_of(values)
    return dict(
        view,
        boxes=_boxes(view),
        cautions=[] if view["done"] else at_the_hand(part.values, values, spec),
        specification=None if spec is None else specification_shown(spec, unit),
        pattern=pattern_of(values, view["count"], spec, unit),
        staged=_is_staged(group, spec),
    )


def _is_staged(group: Thing, spec: Any) -> bool:
    """Whether stages are to be read: the manual's own steps, or those of an order that somebody chose."""
    return spec is not None and bool(spec["steps"] or group.values.get("pattern"))


def _boxes(view: dict[str, Any]) -> list[dict[str, Any]]:
    """What is to be ticked of a group: [{"box", "done": how many are in the log already, "of", "all": whether all}].

    A clip or a pin is not tightened; a second check stands only where one is wanted and nobody decided to do without.
    """
    check, of = view["second_check"], view["count"]
    found = [("in", view["on"])]
    if view["is_tightened"]:
        found += [("tight", view["tight"]), ("marked", view["marked"])]
    if check["wanted"] and check["waived"] is None:
        found.append(("second_check", check["checked"]))
    return [{"box": box, "done": done, "of": of, "all": of > 0 and done >= of} for box, done in found]
