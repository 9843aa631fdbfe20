"""What to mind while a group is tightened, in the words of the trade, at the place where the hand is."""

from typing import Any

from .hangs_on import life_hangs_on, load_hangs_on
from .words import say

MANUAL = (
    "The machine’s manual first: its torque, its order, its steps, its compound, new parts where it wants them. "
    "Where it differs from this card, it is right. Local rules and licensed practice too."
)
LIFE = "A life hangs on these. A second person looks at every one; if in doubt, somebody who is licensed to."
LOAD = (
    "A passenger or a load hangs on these: the manual’s torque, or that of the maker of what is fitted, and no more "
    "weight than it allows. Look at them again after the first ride."
)
CLEAN = "Clean threads and faces. Dry, oiled or with compound, as the manual says: its torque is for that alone."
ANGLE = (
    "Tightened by angle, a bolt is stretched: new ones, unless the manual lets them be used again (common practice)."
)
STEP_ABOVE = (
    "A step lies above the last torque. Some manuals tighten, loosen and tighten again; look whether this one does."
)
COMPOUND = (
    "Locking compound: on clean, dry threads, and no load until it is cured. "
    "Its label says how long; many need a day (common practice, no source)."
)
CURED = (
    "A retorque breaks locking compound that has cured. Ask the manual: out, clean and new compound, or leave it be "
    "(common practice, no source)."
)
SELF_LOCKING = (
    "A self-locking nut: one handbook wants a new one each time (TB 43-0218), another lets it be used again while it "
    "still drags as much as its prevailing torque (AC 43.13-1B, table 7-2). The manual decides."
)
WRENCH = "Pull the wrench slowly and stop at its click. No torque wrench for loosening. Mark what is tight at once."
HEAT = "Cold, not hot: a torque is for parts at room temperature. Hot ones burn, and loosen as they cool."
UNWRITTEN = "Without the manual’s figure this group is not done, even when it is tight."


def cautions_of(part: dict[str, Any], group: dict[str, Any], spec: Any) -> list[dict[str, Any]]:
    """The cautions for a group with these values on a part with these, the weightiest first."""
    found = [MANUAL]
    if life_hangs_on(part, group):
        found.append(LIFE)
    if load_hangs_on(part, group):
        found.append(LOAD)
    if spec is None:
        found.append(UNWRITTEN)
    found.append(CLEAN)
    if part.get("place") in ("engine", "exhaust", "cooling"):
        found.append(HEAT)
    if spec is not None and any([step > spec["high"] for step in spec["steps"]]):
        found.append(STEP_ABOVE)
    if group.get("torque_angle_degrees"):
        found.append(ANGLE)
    if group.get("torque_condition") == "locking_compound":
        found.append(COMPOUND)
    if group.get("retorque_from") and group.get("torque_condition") == "locking_compound":
        found.append(CURED)
    if group.get("prevailing_newton_metres"):
        found.append(SELF_LOCKING)
    found.append(WRENCH)
    return [say(text) for text in found]


# Said once for a whole sheet, or of the part itself: not with each of its groups.
_SAID_BEFORE = (MANUAL, LIFE, UNWRITTEN, CLEAN, WRENCH)


def at_the_hand(part: dict[str, Any], group: dict[str, Any], spec: Any) -> list[dict[str, Any]]:
    """The cautions that stand with one group on paper: of `cautions_of` those that not every group has."""
    return [each for each in cautions_of(part, group, spec) if each["text"] not in _SAID_BEFORE]
