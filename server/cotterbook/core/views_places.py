"""Where each part sits, and what the side view is drawn with, for the screen of balance."""

from typing import Any

from .figures import shown_amount
from .mass import outcome_of
from .ordering import in_order
from .places import USUAL_AXLE, USUAL_WHEELBASE, machine_measures, usual_place
from .standing import Standing
from .strip import Strip
from .thing import Thing
from .views_group import fields_view
from .words import say

OF_A_PLACE = (
    "along_millimetres",
    "up_millimetres",
    "to_along_millimetres",
    "to_up_millimetres",
    "position_plus_minus_millimetres",
    "carried",
)
LACKS = {
    "mass": say("Not weighed yet."),
    "place": say("Where it sits is not known."),
    "to_place": say("Where it went is not known."),
    "height": say("How high it sits is not known: without it there is no height of the centre."),
}


def drawing_of(machine: Any) -> dict[str, Any]:
    """What the side view is drawn with, in mm: measures as said, or usual ones, which `usual` names."""
    measures, usual = machine_measures(machine), {"wheelbase": USUAL_WHEELBASE}
    usual.update(front_axle=USUAL_AXLE, rear_axle=USUAL_AXLE)
    found: dict[str, Any] = {"usual": []}
    for name in sorted(usual):
        said = measures[name]
        found[name] = round(usual[name] if said is None else said.grams)
        if said is None:
            found["usual"].append(name)
    return found


def parts_of(strip: Strip, machine: Any, out: Standing) -> list[dict[str, Any]]:
    """Every part with its place, those whose place is missing first."""
    lacks: dict[str, list[str]] = {}
    counted: dict[str, bool] = {}
    for change in out.changes_before + out.changes_now + out.changes_up:
        counted[change.part.id] = True
        own = lacks.setdefault(change.part.id, [])
        own += [lack for lack in change.missing if lack not in own]
    measures = machine_measures(machine)
    found = [_part(strip, part, measures, lacks.get(part.id, []), part.id in counted) for part in strip.of_type("part")]
    return in_order(found, lambda part: (not part["lacks"], not part["counts"]))


def _part(strip: Strip, part: Thing, measures: dict[str, Any], lacks: list[str], counts: bool) -> dict[str, Any]:
    values, fields = part.values, fields_view(part)
    outcome = outcome_of(values)
    view = {name: values.get(name) for name in OF_A_PLACE}
    view.update(
        part=part.id,
        name=values.get("name") or "",
        side=values.get("side"),
        place=values.get("place"),
        pieces=values.get("pieces") or 1,
        outcome=outcome,
        outcome_done=bool(values.get("outcome_done")),
        goes_elsewhere=outcome == "moved" or values.get("to_along_millimetres") is not None,
        usual=usual_place(values.get("place"), measures),
        change=shown_amount(strip.line(part.id).change),
        lacks=[{"lack": lack, "sentence": LACKS[lack]} for lack in lacks],
        counts=counts,
        fields={name: fields[name] for name in OF_A_PLACE if name in fields},
        disputed=any(fields[name]["disputed"] for name in OF_A_PLACE if name in fields),
    )
    return view
