"""The scales and torque wrenches of the shed: their cards, and what they were checked against."""

from acts import HANGING_SCALE, KITCHEN_SCALE, LARGE_WRENCH, SMALL_WRENCH, change
from log import Log, Phone

PLATFORM_SCALE = "platform scale"


def scales(log: Log, ilvane: Phone) -> None:
    """Three scales. Only the hanging one came with a card that says how true it is."""
    for name in (KITCHEN_SCALE, HANGING_SCALE, PLATFORM_SCALE):
        ilvane.name(name)
    ilvane.set(KITCHEN_SCALE, "scale", name=KITCHEN_SCALE, step_grams=1, capacity_grams=5_000)
    ilvane.set(HANGING_SCALE, "scale", name=HANGING_SCALE, step_grams=20, capacity_grams=25_000, gain_percent=0.5,
               calibrated_on="2024-09-12", certificate="Shed's own sheet of scales, line 4")
    ilvane.set(PLATFORM_SCALE, "scale", name=PLATFORM_SCALE, step_grams=500, capacity_grams=180_000, gain_percent=0.4,
               note="Two of a kind, bought together: taken as one, so that what one gets wrong the other does too.")
    ilvane.pause(120)
    ilvane.write("scale_check", scale=log.id(KITCHEN_SCALE), against="coin", known_grams=8.2, grams=8, step_grams=1,
                 note="A coin, to see whether it wakes up.")
    ilvane.write("scale_check", scale=log.id(HANGING_SCALE), against="reference_weight", known_grams=5_000,
                 known_plus_minus_grams=1, grams=5_020, step_grams=20, note="The 5 kg weight of the honey scale.")
    log.share()


def wrenches(log: Log, torrec: Phone) -> None:
    """Two wrenches. The large one is overdue."""
    for name in (SMALL_WRENCH, LARGE_WRENCH):
        torrec.name(name)
    torrec.set(SMALL_WRENCH, "tool", name=SMALL_WRENCH, tool_type="click", low_newton_metres=5, high_newton_metres=25,
               step_newton_metres=0.5, deviation_percent=4, lever_millimetres=210, calibrated_on="2024-10-21",
               certificate="A 2210")
    torrec.set(LARGE_WRENCH, "tool", name=LARGE_WRENCH, tool_type="click", low_newton_metres=20,
               high_newton_metres=110, step_newton_metres=1, deviation_percent=4, lever_millimetres=380,
               calibrated_on="2024-02-10", certificate="B 0977")
    log.share()


def large_wrench_checked(torrec: Phone) -> None:
    """Between the second and the third day the large wrench was away to be checked."""
    change(torrec, LARGE_WRENCH, "tool", calibrated_on="2025-03-24", certificate="B 1102")
