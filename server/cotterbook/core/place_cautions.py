"""What is minded wherever a part of one place comes off or goes on: a short line each.

Common practice, no source; the machine's own manual comes first.
"""

from typing import Any

from .words import say

PLACE_CAUTIONS = {
    "tank": say("Fuel: no flame, no spark, fresh air. Close the tap, catch what drips."),
    "intake": say("Cover the openings, so that nothing falls into the engine."),
    "exhaust": say("Hot for a long time. Let it cool."),
    "electrics": say("Battery off first: minus off first, minus on last."),
    "fork": say("The fork’s springs hold load, and the front must hang free on a support."),
    "swing_arm": say("The shock holds load. Support the rear before a bolt comes out."),
    "front_wheel": say("Support the front. Don’t touch the brake lever while the disc is out."),
    "rear_wheel": say("Support the rear. Don’t touch the brake pedal while the disc is out."),
    "front_brake": say(
        "Brake lines: keep fluid off paint and air out of the line. Don’t let a caliper hang on its hose."
    ),
    "rear_brake": say(
        "Brake lines: keep fluid off paint and air out of the line. Don’t let a caliper hang on its hose."
    ),
    "handlebar": say("Mind cables, hose and leads: note their way before they come off."),
    "cooling": say("Coolant: only when cold, and catch it."),
    "engine": say("Hot oil and edges. Support the engine before its bolts come out."),
}


def caution_at(place: Any) -> Any:
    """What is minded at a place of the machine, as a sentence; None where nothing is in particular."""
    return PLACE_CAUTIONS.get(place)
