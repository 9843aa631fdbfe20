"""The sections of the page to send, each as HTML made of what the build sheet shows."""

from typing import Any

from .figures import shown_grams
from .share_html import table
from .share_words import Told
from .standing import weighings_of
from .strip import Strip
from .views_weigh_in import weighing_in_short


def section(title: str, inside: str) -> str:
    """A section of HTML under its heading; nothing where nothing is in it."""
    return "<section>\n<h2>" + title + "</h2>\n" + inside + "</section>\n" if inside else ""


def row(left: str, right: str, more: list[str]) -> str:
    """A line of HTML with what stands at its end, and more lines under it."""
    lines = "".join(["<p>" + line + "</p>\n" for line in more if line])
    head = '<p class="spread"><span>' + left + "</span><span>" + right + "</span></p>\n"
    return '<div class="row">' + head + lines + "</div>\n"


def named(told: Told, name: str, values: dict[str, Any]) -> str:
    """What something is called, as HTML, with its place, side and pieces."""
    where = [told.code(values[key]) for key in ("place", "side") if values.get(key)]
    if (values.get("pieces") or 1) > 1:
        where.append(told.words("{pieces} pieces", pieces=values["pieces"]))
    return " · ".join([name] + where)


def _outcome(told: Told, row: dict[str, Any]) -> str:
    what = told.code(row["outcome"])
    return told.words("{what}, done", what=what) if row["outcome_done"] else told.words("{what}, planned", what=what)


def changed_section(strip: Strip, told: Told, data: dict[str, Any]) -> str:
    """What became of the parts that do not go back as they were."""
    found = []
    for each in data["changed"]:
        lines = [_outcome(told, each)]
        if each["replacement"]:
            lines.append(told.words("What goes on: {what}", what=told.text(each["replacement"])))
        note = told.text(each["note"]) if told.options["notes"] else ""
        name = named(told, told.part(each["name"]), each)
        found.append(row(name, _change(told, each["change"]), [" · ".join(lines), note]))
    return section(told.words("What changed"), "".join(found))


def mass_section(strip: Strip, told: Told, data: dict[str, Any]) -> str:
    """The mass statement: a line for each part, the sums and what they rest on."""
    statement = data["statement"]
    rows = [(_mass_line(told, line), _change(told, line["change"])) for line in statement["lines"]]
    sums = statement["sums"]
    last = [(told.words("Change since the machine came in"), _change(told, sums["came_in"]))]
    last.append((told.words("Change against the standard machine"), _change(told, sums["standard"])))
    caption = told.words("The change of each part since the machine came in, with its uncertainty.")
    found = table(caption, (told.words("Part"), told.words("Change")), rows, last)
    found += "".join(['<p class="quiet">' + told.sentence(note) + "</p>\n" for note in statement["notes"]])
    return section(told.words("Masses"), _machine(strip, told) + found)


def _change(told: Told, shown: Any) -> str:
    return told.words("not weighed") if shown is None else told.figure(shown, True)


def _mass_line(told: Told, line: dict[str, Any]) -> str:
    said = [told.words("counted") if line["counted"] else told.words("not counted")]
    if line["off"] is not None:
        said.append(told.words("off {mass}", mass=told.figure(line["off"])))
    if line["on"] is not None:
        said.append(told.words("on {mass}", mass=told.figure(line["on"])))
    if line["standard_change"] is not None:
        said.append(told.words("against standard {mass}", mass=told.figure(line["standard_change"], True)))
    said += [told.code(each) for each in line["basis"]]
    if line["reason"] is not None:
        said.append(told.sentence(line["reason"]))
    return named(told, told.part(line["name"]), line) + '<br><span class="quiet">' + " · ".join(said) + "</span>"


def _machine(strip: Strip, told: Told) -> str:
    """The standard machine, the aim, and the newest weighing of the whole machine."""
    own = strip.thing(strip.id)
    values = own.values if own is not None else {}
    machine = strip.thing(values.get("machine") or "")
    found = []
    if machine is not None and machine.values.get("standard_grams") is not None:
        mass, source = _plain_mass(told, machine.values["standard_grams"]), machine.values.get("standard_source")
        if source:
            found.append(told.words("Standard machine: {mass}, from: {source}.", mass=mass, source=told.text(source)))
        else:
            found.append(told.words("Standard machine: {mass}.", mass=mass))
    if values.get("aim_grams") is not None:
        found.append(told.words("Aim: {mass}.", mass=_plain_mass(told, values["aim_grams"])))
    weighed = [weighing_in_short(each) for each in weighings_of(strip) if each.total is not None]
    if weighed:
        by = told.by_and_when(weighed[-1]["who"], weighed[-1]["at_ms"])
        found.append(told.words("On scales: {mass}, {by}.", mass=told.figure(weighed[-1]["total"]), by=by))
    return "".join(["<p>" + line + "</p>\n" for line in found])


def _plain_mass(told: Told, grams: float) -> str:
    return told.figure(shown_grams(grams, 0.0))


def torque_section(strip: Strip, told: Told, data: dict[str, Any]) -> str:
    """Each group that was tightened: what the manual asks for, what was done with what, by whom, marked, looked at."""
    return section(told.words("Torques"), "".join([_torque(told, group) for group in data["torques"]]))


def _what(told: Told, what: Any) -> str:
    if isinstance(what, dict) and "text" in what:
        return told.sentence(what)
    return told.text(what) or told.words("fasteners")


def _torque(told: Told, group: dict[str, Any]) -> str:
    spec, check = group["specification"], group["check"]
    side = [told.code(group["side"])] if group["side"] else []
    what = str(group["count"]) + "\u00a0×\u00a0" + _what(told, group["what"])
    left = " · ".join([told.part(group["part"])] + side + [what])
    lines = [told.words("{on} of {count} on, {tight} tight, {marked} marked", on=group["on"], count=group["count"],
                        tight=group["tight"], marked=group["marked"])]  # fmt: skip
    if spec is not None and spec["page"]:
        lines.append(told.words("from: {source}", source=told.text(spec["page"])))
    if check["wanted"] and check["waived"] is None:
        lines.append(told.words("Second check: {checked} of {of}", checked=check["checked"], of=check["of"]))
    more = [" · ".join(lines)] + [_done(told, each) for each in group["done"]]
    if check["last"] is not None:
        right, by = check["last"]["found"] == "right", told.by_and_when(check["last"]["who"], check["last"]["at_ms"])
        found = told.words("Looked at and found right") if right else told.words("Looked at and found not right")
        more.append(found + ", " + by)
    if check["waived"] is not None:
        more.append(_waived(told, check["waived"]))
    if check["notice"] is not None and (told.options["notes"] or "looked_at" not in check["notice"]["values"]):
        more.append(told.sentence(check["notice"]))
    return row(left, _specified(told, spec), more)


def _waived(told: Told, waived: dict[str, Any]) -> str:
    said = told.words("No second check, as decided")
    if told.options["notes"]:
        said = told.words("No second check, as decided: {why}", why=told.text(waived["why"]))
    return said + ", " + told.by_and_when(waived["who"], waived["at_ms"])


def _specified(told: Told, spec: Any) -> str:
    if spec is None:
        return told.words("no torque from the manual")
    shown = spec["shown"]
    if shown["high"] is not None:
        lowest = told.language.number(shown["low"]["own"]["value"])
        return told.words("{low} to {high}", low=lowest, high=told.figure(shown["high"]["own"]))
    low = dict(shown["low"]["own"])
    if shown["tolerance"] is not None:
        low["plus_minus"] = shown["tolerance"]["own"]["value"]
    return told.figure(low)


def _done(told: Told, each: dict[str, Any]) -> str:
    said = [str(each["count"]) + "\u00a0×\u00a0" + told.figure(each["shown"])]
    if each["tool"]:
        said.append(told.text(each["tool"]))
    judged = each["judged"]
    if judged == "refused" and each["side"]:
        judged = "below" if each["side"] == "low" else "above"
    said.append(told.code(judged))
    if each["reason"] is not None:
        said.append(told.sentence(each["reason"]))
    return " · ".join(said + [told.by_and_when(each["who"], each["at_ms"])])


def settings_section(strip: Strip, told: Told, data: dict[str, Any]) -> str:
    """How each setting stands, and how it was found."""
    return section(told.words("Settings"), "".join([_setting(told, card) for card in data["settings"]]))


def _stands(told: Told, shown: Any) -> str:
    return told.text(shown) if isinstance(shown, str) else told.figure(shown)


def _setting(told: Told, card: dict[str, Any]) -> str:
    now = told.words("two answers") if card["disputed"] else _stands(told, card["now"])
    found = told.words("nobody knows how it was found")
    if not card["nobody_knows"]:
        found = told.words("found: {figure}", figure=_stands(told, card["found"]))
    last = told.by_and_when(card["last"]["who"], card["last"]["at_ms"]) if card["last"] else ""
    notes = [card["why"], card["note"]] if told.options["notes"] else []
    more = [" · ".join([each for each in (found, last) if each])] + [told.text(each) for each in notes if each]
    name = told.text(card["name"]) or told.code(card["adjusted"]) or told.words("setting")
    return row(named(told, name, card), now, more)
