"""A tightening out of a form: what the wrench was set to, what the fastener got, how well that is known."""

from typing import Any

from . import torque_tool
from .maker import Maker, given, whole
from .shown_torque import settable
from .strip import Strip
from .thing import Thing, key_of
from .tool_uses import NO_USES, calibrated_as_of, uses_of_tools
from .torque import specification
from .typed_quantities import written
from .words import Refused, say

NUMBERS = (("lever", "lever", "length"), ("adapter", "adapter", "length"), ("adapter_degrees", "degrees", ""))


def of_form(strip: Strip, group: Thing, form: dict[str, Any], make: Maker) -> Any:
    """Figures of a tightening from a form, in N.m, mm and degrees; None with the reasons noted in `make`.

    The form gives either `torque`, wanted over and above the prevailing torque, or
    `setting`, what the wrench was set to or showed; the other follows.
    """
    unit, before = form.get("torque_unit") or "N.m", len(make.problems)
    found: dict[str, Any] = {"torque": make.figure(form, "torque", "", "torque", unit)}
    found["setting"] = make.figure(form, "setting", "", "torque", unit)
    for name, called, measure in NUMBERS:
        found[called] = make.figure(form, name, "", measure)
    found["prevailing"] = make.figure(form, "prevailing", "", "torque", unit)
    found["own_prevailing"] = found["prevailing"]
    if given(form, "prevailing") is None:
        found["prevailing"] = group.values.get("prevailing_newton_metres")
    if given(form, "torque") is None and given(form, "setting") is None:
        make.refuse("missing", "torque", "Give the torque applied.")
    for name in ("torque", "setting"):
        if found[name] is not None and found[name] <= 0.0:
            make.refuse("out_of_range", name, "A torque must be more than 0.")
    if given(form, "torque") is not None and given(form, "setting") is not None:
        make.refuse("torque_or_setting", "setting", "Give the torque, or what the wrench was set to, not both.")
    found["step"] = _step(group, form, make)
    found["tool"] = _tool(strip, form, make)
    if len(make.problems) > before:
        return None
    try:
        return _worked_out(found)
    except Refused as refused:
        for each in refused.problems:
            make.refuse(each["code"], each["field"], each["text"], **each["values"])
        return None


def _step(group: Thing, form: dict[str, Any], make: Maker) -> Any:
    step, spec = whole(form, "step"), specification(group.values)
    last = len(spec["steps"]) + 1 if spec is not None else 1
    if step is not None and (isinstance(step, bool) or not isinstance(step, int) or not 1 <= step <= last):
        make.refuse("no_such_step", "step", "There are {last} steps.", last=last)
        return None
    # Where the manual gives no steps before it, the last one needs no number.
    return step if last > 1 else None


def _tool(strip: Strip, form: dict[str, Any], make: Maker) -> Any:
    chosen = given(form, "with_tool")
    if chosen is None:
        return None
    tool = strip.thing(chosen) if isinstance(chosen, str) else None
    if tool is None or tool.type != "tool" or not tool.alive:
        make.refuse("no_such_tool", "with_tool", "That wrench is not in this strip-down.")
        return None
    return tool


def _worked_out(found: dict[str, Any]) -> dict[str, Any]:
    tool = found["tool"].values if found["tool"] is not None else torque_tool.NO_TOOL
    adapter, degrees = found["adapter"], found["degrees"] or 0.0
    lever = found["lever"] if found["lever"] is not None else tool.get("lever_millimetres")
    prevailing = found["prevailing"] or 0.0
    if found["setting"] is not None:
        setting = found["setting"]
        applied = torque_tool.applied_by(setting, lever, adapter, degrees)
    else:
        applied = found["torque"] + prevailing
        exact = torque_tool.setting_for(applied, lever, adapter, degrees)
        setting = torque_tool.on_its_step(exact, tool)
        if abs(setting - exact) > 1e-9 * exact:
            applied = torque_tool.applied_by(setting, lever, adapter, degrees)
    found["deviation"] = torque_tool.deviation_of(tool, setting)[1]
    found["expanded"] = torque_tool.expanded(setting, tool, lever, adapter, degrees)
    found["prevailing_expanded"] = None
    if found["own_prevailing"]:
        # Read with the same wrench and adapter, so known as what they show of it is.
        read = min(torque_tool.setting_for(prevailing, lever, adapter, degrees), torque_tool.TORQUE_NEWTON_METRES[1])
        found["prevailing_expanded"] = torque_tool.expanded(read, tool, lever, adapter, degrees)
    found.update(newton_metres=applied, setting=setting, lever=lever if adapter else None)
    found["degrees"] = degrees if adapter else None
    return found


def fields_of(found: dict[str, Any]) -> dict[str, Any]:
    """What a `tighten` entry keeps of figures that `of_form` gave."""
    tool, adapter = found["tool"], found["adapter"] or None
    return {
        "newton_metres": found["newton_metres"],
        "expanded_newton_metres": found["expanded"] or None,
        "setting_newton_metres": found["setting"] if tool is not None or adapter else None,
        "prevailing_newton_metres": found["own_prevailing"],
        "prevailing_expanded_newton_metres": found["prevailing_expanded"],
        "with_tool": tool.id if tool is not None else None,
        "lever_millimetres": found["lever"],
        "adapter_millimetres": adapter,
        "adapter_degrees": found["degrees"],
        "step": found["step"],
    }


def as_read(form: dict[str, Any]) -> Any:
    """The torque or the setting as it was typed, with its unit."""
    typed = given(form, "setting") if given(form, "torque") is None else given(form, "torque")
    return None if typed is None else written(typed, "torque", str(form.get("torque_unit") or "N.m"))


def basis_of_prevailing(found: dict[str, Any]) -> Any:
    """How well the prevailing torque of figures that `of_form` gave is known, as a sentence; None without one."""
    if not found["prevailing"]:
        return None
    if found["own_prevailing"]:
        return say("The prevailing torque counts as read with this wrench too: its deviation and its step.")
    text = "The prevailing torque is the one written down for these, and counts as read with any wrench. {deviation}"
    return say(text, deviation=torque_tool.deviation_of(torque_tool.NO_TOOL, found["prevailing"])[1])


def written_later(group: Thing, entry: dict[str, Any]) -> Any:
    """A sentence where the group's prevailing torque was written down or changed after a tightening, else None."""
    field = group.fields.get("prevailing_newton_metres")
    if field is None or entry.get("prevailing_newton_metres") is not None or key_of(field.heads[-1]) < key_of(entry):
        return None
    if not field.value:
        return say("The prevailing torque was taken back after this tightening, and none is counted.")
    text = (
        "The prevailing torque, {prevailing}, was written down after this tightening, and is counted as it stands now."
    )
    return say(text, prevailing=settable(field.value))


def doubts(strip: Strip, entry: Any, at_ms: Any, uses: Any = None) -> list[dict[str, Any]]:
    """Sentences on the wrench of a tightening (or of figures like one) that speak against relying on it.

    `uses` are those of `tool_uses.uses_of_tools`, for who asks about many.
    """
    tool = strip.thing(entry["with_tool"]) if entry is not None and entry.get("with_tool") else None
    if tool is None or tool.type != "tool":
        return []
    setting = entry.get("setting_newton_metres") or entry["newton_metres"]
    outside = torque_tool.out_of_range(tool.values, setting)
    found = [outside] if outside is not None else []
    dated = calibrated_as_of(tool, at_ms)
    of_tools = uses_of_tools(strip) if uses is None else uses
    cycles = of_tools.get(tool.id, NO_USES).since(dated, key_of(entry) if "id" in entry else None)
    if torque_tool.calibration(dated, at_ms)["overdue"]:
        text = "The wrench’s calibration of {date} was more than 12 months old. Have it checked, then tighten again."
        found.append(say(text, date=dated))
    elif torque_tool.calibration(dated, at_ms, cycles)["overdue"]:
        text = (
            "Since its calibration of {date} the wrench had been used {cycles} times, and was due at {due} "
            "(ISO 6789-1). Have it checked, then tighten again."
        )
        found.append(say(text, date=dated, cycles=cycles, due=torque_tool.CYCLES_OF_A_CALIBRATION))
    if outside is None and torque_tool.is_below_tested(tool.values, setting):
        text = (
            "Below a fifth of the wrench’s top: many are not tested there. See what its certificate covers (ISO 6789)."
        )
        found.append(say(text))
    return found
