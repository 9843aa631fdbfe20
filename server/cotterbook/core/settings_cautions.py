"""What to mind while a setting is adjusted, by what is adjusted, and what that rests on. Never that it is safe."""

from .words import say

# fmt: off
_DAMPING = (
    "Set both sides alike, a little at a time, by the manual. Never force an adjuster at its stop.", "manual")
# (what, (sentence, basis)); "manual" and "local_rules" send to them, "common_practice" has no source.
CAUTIONS = {
    "preload": (
        "Set both sides alike, then measure the sag again with the rider on, by the manual. Support the machine; a "
        "spring under load can jump.", "manual"),
    "compression_damping": _DAMPING,
    "rebound_damping": _DAMPING,
    "lever": (
        "Leave the free play that the manual asks for: a brake or clutch lever without it may not let go.", "manual"),
    "handlebar": (
        "Turn it from lock to lock: no hose, cable or lead may pull or be pinched, nothing may touch. The clamps have "
        "their torque in the manual.", "common_practice"),
    "chain_slack": (
        "Measure where it is tightest, the way the manual says. Line up the wheel, and give the axle nut its torque.",
        "manual"),
    "lamp_aim": ("Aim it by the manual, loaded as you ride, and check your local rules.", "local_rules"),
    "tyre_pressure": (
        "Measure while the tyre is cold. How much, alone and loaded, is on the machine’s label and in its manual.",
        "manual"),
    "idle": ("Set it on a warm engine, by the manual. Work in the open: exhaust gas is poison.", "manual"),
    "other": ("Look into the machine’s manual first.", "manual"),
}
# fmt: on


def caution_of(adjusted: str) -> dict[str, object]:
    """{"sentence", "basis"} of what to mind."""
    text, basis = CAUTIONS.get(adjusted, CAUTIONS["other"])
    return {"sentence": say(text), "basis": basis}
