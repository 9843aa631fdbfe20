"""The sections of the page to send, each as HTML made of what the build sheet shows."""

from typing import Any

from .figures import shown_grams
from .share_html import code_words, escaped, figure, table
from .share_words import Told
from .standing import weighings_of
from .strip import Strip
from .views_weigh_in import weighing_in_short
from .words import label_words

NOT_WEIGHED = "not weighed"


def section(title: str, inside: str) -> str:
    """A section of HTML under its heading; nothing where nothing is in it."""
    return "<section>\n<h2>" + title + "</h2>\n" + inside + "</section>\n" if inside else ""


def row(left: str, right: str, more: list[str]) -> str:
    """A line of HTML with what stands at its end, and more lines under it."""
    lines = "".join(["<p>" + line + "</p>\n" for line in more if line])
    head = '<p class="spread"><span>' + left + "</span><span>" + right + "</span></p>\n"
    return '<div class="row">' + head + lines + "</div>\n"


def named(told: Told, name: Any, values: dict[str, Any]) -> str:
    """What something is called, with its place, side and pieces."""
    where = [code_words(values[key]) for key in ("place", "side") if values.get(key)]
    if (values.get("pieces") or 1) > 1:
        where.append(str(values["pieces"]) + " pieces")
    return " · ".join([told.text(name or "Part without a name")] + where)


def _outcome(row: dict[str, Any]) -> str:
    return code_words(row["outcome"]) + (", done" if row["outcome_done"] else ", planned")


def changed_section(strip: Strip, told: Told, data: dict[str, Any]) -> str:
    """What became of the parts that do not go back as they were."""
    found = []
    for each in data["changed"]:
        change = NOT_WEIGHED if each["change"] is None else figure(each["change"], True)
        lines = [_outcome(each)]
        if each["replacement"]:
            lines.append("What goes on: " + told.text(each["replacement"]))
        note = told.text(each["note"]) if told.options["notes"] else ""
        found.append(row(named(told, each["name"], each), change, [" · ".join(lines), note]))
    return section("What changed", "".join(found))


def mass_section(strip: Strip, told: Told, data: dict[str, Any]) -> str:
    """The mass statement: a line for each part, the sums and what they rest on."""
    statement = data["statement"]
    rows = [(_mass_line(told, line), _change(line["change"])) for line in statement["lines"]]
    sums = statement["sums"]
    last = [("Change since the machine came in", _change(sums["came_in"]))]
    last.append(("Change against the standard machine", _change(sums["standard"])))
    caption = "The change of each part since the machine came in, with its uncertainty."
    found = table(caption, ("Part", "Change"), rows, last)
    found += "".join(['<p class="quiet">' + told.sentence(note) + "</p>\n" for note in statement["notes"]])
    return section("Masses", _machine(strip, told) + found)


def _change(shown: Any) -> str:
    return NOT_WEIGHED if shown is None else escaped(figure(shown, True))


def _mass_line(told: Told, line: dict[str, Any]) -> str:
    figures = [key + " " + figure(line[key]) for key in ("off", "on") if line[key] is not None]
    if line["standard_change"] is not None:
        figures.append("against standard " + figure(line["standard_change"], True))
    said = ["counted" if line["counted"] else "not counted"] + figures + [code_words(each) for each in line["basis"]]
    reason = "" if line["reason"] is None else " · " + told.sentence(line["reason"])
    more = '<br><span class="quiet">' + escaped(" · ".join(said)) + reason + "</span>"
    return named(told, line["name"], line) + more


def _machine(strip: Strip, told: Told) -> str:
    """The standard machine, the aim, and the newest weighing of the whole machine."""
    own = strip.thing(strip.id)
    values = own.values if own is not None else {}
    machine = strip.thing(values.get("machine") or "")
    found = []
    if machine is not None and machine.values.get("standard_grams") is not None:
        found.append("Standard machine: " + _plain_mass(machine.values["standard_grams"]))
        if machine.values.get("standard_source"):
            found[-1] += ", from: " + told.text(machine.values["standard_source"])
    if values.get("aim_grams") is not None:
        found.append("Aim: " + _plain_mass(values["aim_grams"]))
    weighed = [weighing_in_short(each) for each in weighings_of(strip) if each.total is not None]
    if weighed:
        by = told.by_and_when(weighed[-1]["who"], weighed[-1]["at_ms"])
        found.append("On scales: " + escaped(figure(weighed[-1]["total"])) + ", " + by)
    return "".join(["<p>" + line + ".</p>\n" for line in found])


def _plain_mass(grams: float) -> str:
    return escaped(figure(shown_grams(grams, 0.0)))


def torque_section(strip: Strip, told: Told, data: dict[str, Any]) -> str:
    """Each group that was tightened: what the manual asks for, what was done with what, by whom, marked, looked at."""
    return section("Torques", "".join([_torque(told, group) for group in data["torques"]]))


def _what(told: Told, what: Any) -> str:
    return told.sentence(what) if isinstance(what, dict) and "text" in what else told.text(what) or "fasteners"


def _torque(told: Told, group: dict[str, Any]) -> str:
    spec, check = group["specification"], group["check"]
    side = [code_words(group["side"])] if group["side"] else []
    what = str(group["count"]) + "\u00a0×\u00a0" + _what(told, group["what"])
    left = " · ".join([told.text(group["part"] or "Part without a name")] + side + [what])
    state = "{on} of {count} on, {tight} tight, {marked} marked".format(
        on=group["on"], count=group["count"], tight=group["tight"], marked=group["marked"]
    )
    lines = [state]
    if spec is not None and spec["page"]:
        lines.append("from: " + told.text(spec["page"]))
    if check["wanted"] and check["waived"] is None:
        lines.append("second check: {n} of {of}".format(n=check["checked"], of=check["of"]))
    more = [" · ".join(lines)] + [_done(told, each) for each in group["done"]]
    if check["last"] is not None:
        right = "Looked at and found right" if check["last"]["found"] == "right" else "Looked at and found not right"
        more.append(right + ", " + told.by_and_when(check["last"]["who"], check["last"]["at_ms"]))
    if check["waived"] is not None:
        why = ": " + told.text(check["waived"]["why"]) if told.options["notes"] else ""
        by = told.by_and_when(check["waived"]["who"], check["waived"]["at_ms"])
        more.append("No second check, as decided" + why + ", " + by)
    if check["notice"] is not None and (told.options["notes"] or "looked_at" not in check["notice"]["values"]):
        more.append(told.sentence(check["notice"]))
    return row(left, _specified(spec), more)


def _specified(spec: Any) -> str:
    if spec is None:
        return "no torque from the manual"
    shown = spec["shown"]
    if shown["high"] is not None:
        return escaped(shown["low"]["own"]["value"] + " to " + figure(shown["high"]["own"]))
    low = dict(shown["low"]["own"])
    if shown["tolerance"] is not None:
        low["plus_minus"] = shown["tolerance"]["own"]["value"]
    return escaped(figure(low))


def _done(told: Told, each: dict[str, Any]) -> str:
    said = [str(each["count"]) + "\u00a0×\u00a0" + escaped(figure(each["shown"]))]
    if each["tool"]:
        said.append(told.text(each["tool"]))
    judged = each["judged"]
    if judged == "refused" and each["side"]:
        judged = "below the specification" if each["side"] == "low" else "above the specification"
    said.append(code_words(judged))
    if each["reason"] is not None:
        said.append(told.sentence(each["reason"]))
    return " · ".join(said + [told.by_and_when(each["who"], each["at_ms"])])


def settings_section(strip: Strip, told: Told, data: dict[str, Any]) -> str:
    """How each setting stands, and how it was found."""
    return section("Settings", "".join([_setting(told, card) for card in data["settings"]]))


def _stands(told: Told, shown: Any) -> str:
    return told.text(shown) if isinstance(shown, str) else escaped(figure(shown))


def _setting(told: Told, card: dict[str, Any]) -> str:
    now = "two answers" if card["disputed"] else _stands(told, card["now"])
    found = "nobody knows how it was found" if card["nobody_knows"] else "found: " + _stands(told, card["found"])
    last = told.by_and_when(card["last"]["who"], card["last"]["at_ms"]) if card["last"] else ""
    notes = [card["why"], card["note"]] if told.options["notes"] else []
    name = card["name"] or label_words(card["adjusted"] or "setting")
    more = [" · ".join([each for each in (found, last) if each])] + [told.text(each) for each in notes if each]
    return row(named(told, name, card), now, more)
