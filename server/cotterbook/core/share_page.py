"""The page to send: one HTML file of what became of the machine, with or without names, pictures, number and costs.

It is made of pieces: texts, and pictures that whoever calls puts in, as only he can read them. Times are in UTC.
"""

from typing import Any

from .entries import wall_clock_ms
from .mass import is_done
from .share_charts import charts_section
from .share_html import END, HEAD, POLICY, STYLE, code_words, escaped, figure
from .share_names import Discreet
from .share_open import open_section, people_section
from .share_sections import changed_section, mass_section, settings_section, torque_section
from .share_words import Told
from .spreadsheet import moment
from .strip import Strip
from .thing import Thing, key_of
from .views_sheet_build import CHANGED, MOST_PICTURES, build_sheet_view
from .words import Refused, problem

# What the one who sends it chooses, and what it is where he says nothing: the page tells as little as it can.
OPTIONS = (("names", False), ("pictures", True), ("number", False), ("costs", False), ("notes", False))
# The longer side of a picture in it, in pixels.
PICTURE_SIDE = 1_000
LEFT_OUT = {
    "names": "names of people, who stand as person 1, person 2 and so on",
    "pictures": "pictures",
    "number": "the machine’s number",
    "costs": "costs",
    "notes": "notes, reasons and the words under pictures",
}


def options_of(arguments: dict[str, Any]) -> dict[str, bool]:
    """What is told, by `OPTIONS`. Without names no notes are: nobody can tell which names stand in them.

    Raises Refused "not_yes_or_no".
    """
    found = {}
    for name, usual in OPTIONS:
        value = arguments.get(name, usual)
        if value is not True and value is not False:
            raise Refused([problem("not_yes_or_no", name, "This is yes or no.")])
        found[name] = value
    found["notes"] = found["notes"] and found["names"]
    return found


def share_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """The page: {"pieces", "picture_side": pixels, "told": by `OPTIONS`}, made at `now_ms`.

    A piece is text of the file, or a picture {"sha256", "before", "after", "instead"}: its data: URL goes between
    `before` and `after`; where it is not at hand, `instead` stands for all three.
    """
    options = options_of(arguments)
    told = Told(Discreet(strip, options["names"], options["number"]), options)
    data = build_sheet_view(strip, arguments)
    pieces = [_head(strip, told, arguments.get("now_ms"), data)]
    sections = (changed_section, mass_section, charts_section, torque_section, settings_section)
    pieces += [section(strip, told, data) for section in sections + (open_section, people_section)]
    if options["pictures"]:
        pieces += _pictures(strip, told)
    pieces.append(_foot(options))
    return {"pieces": pieces, "picture_side": PICTURE_SIDE, "told": options}


def _head(strip: Strip, told: Told, now_ms: Any, data: dict[str, Any]) -> str:
    own = strip.thing(strip.id)
    values = own.values if own is not None else {}
    machine = strip.thing(values.get("machine") or "")
    of_machine = machine.values if machine is not None else {}
    name = of_machine.get("name") or "A motorcycle"
    title = escaped(told.discreet.text(name))
    found = [HEAD.format(policy=POLICY, title=title, style=STYLE), "<h1>" + told.text(name) + "</h1>\n"]
    if values.get("name"):
        found.append("<p>" + told.text(values["name"]) + "</p>\n")
    if isinstance(now_ms, int):
        found.append('<p class="quiet">Made on ' + moment(now_ms)[:16] + " UTC.</p>\n")
    if told.options["number"] and of_machine.get("number"):
        found.append("<p>Number: " + told.text(of_machine["number"]) + "</p>\n")
    if data["open"]["not_all_read"]:
        found.append('<p class="notice">' + told.sentence(data["open"]["not_all_read"]) + "</p>\n")
    sums = data["statement"]["sums"]
    for words, key in (("Since the machine came in", "came_in"), ("Against the standard machine", "standard")):
        change = '</span><span class="figure">' + escaped(figure(sums[key], True)) + "</span></p>\n"
        found.append('<p class="spread"><span>' + words + change)
    for thing in (machine, own):
        if thing is not None:
            found.append(told.note(thing.values.get("note")))
    return "".join(found)


def _foot(options: dict[str, bool]) -> str:
    left = [LEFT_OUT[name] for name, _ in OPTIONS if not options[name]]
    said = "<p>Left out of this page: " + escaped("; ".join(left)) + ".</p>\n" if left else ""
    if not options["names"]:
        said += "<p>Notes go with the names, for nobody can tell which names stand in a note.</p>\n"
    honest = (
        "This is what was written down when it was made. Nothing on it says that the machine is fit to ride: the "
        "machine’s manual, and whoever looks it over, come first."
    )
    return '<footer class="quiet">\n<p>' + honest + "</p>\n" + said + "<p>Made with Cotterbook.</p>\n</footer>\n" + END


def _pictures(strip: Strip, told: Told) -> list[Any]:
    """The pictures of parts, of what changed first, each part's in the order they were taken."""
    parts = strip.of_type("part")
    changed = [part for part in parts if part.values.get("outcome") in CHANGED]
    ids = [part.id for part in changed]
    ordered = changed + [part for part in parts if part.id not in ids]
    found = [(part, photo) for part in ordered for photo in part.of_kind("photo")]
    if not found:
        return []
    pieces: list[Any] = ['<section>\n<h2>Pictures</h2>\n<div class="pictures">\n']
    for part, photo in found[:MOST_PICTURES]:
        pieces += _picture(told, part, photo)
    more = len(found) - MOST_PICTURES
    said = '<p class="quiet">{n} more are not in this page.</p>\n'.format(n=more) if more > 0 else ""
    size = "Each is made smaller: its longer side has at most {side} pixels.".format(side=PICTURE_SIDE)
    return pieces + ["</div>\n" + said + '<p class="quiet">' + size + "</p>\n</section>\n"]


def _picture(told: Told, part: Thing, photo: dict[str, Any]) -> list[Any]:
    when = _before_or_after(part, photo)
    name = part.values.get("name") or "Part without a name"
    words = [told.text(name)] + [each for each in (code_words(part.values.get("side") or ""), when) if each]
    shown = "<p>" + " · ".join(words) + "</p>\n"
    if told.options["notes"] and photo.get("caption"):
        shown += "<p>" + told.text(photo["caption"]) + "</p>\n"
    shown += '<p class="quiet">' + told.by_and_when(photo["who"], wall_clock_ms(photo["id"])) + "</p>\n"
    alt = escaped(told.discreet.text(name) + (", " + when if when else ""))
    return [
        "<figure>\n",
        {
            "sha256": photo["sha256"],
            "before": '<img alt="' + alt + '" src="',
            "after": '">\n',
            "instead": '<p class="missing">This picture is not at hand here.</p>\n',
        },
        "<figcaption>\n" + shown + "</figcaption>\n</figure>\n",
    ]


def _before_or_after(part: Thing, photo: dict[str, Any]) -> str:
    """Whether a picture was taken before what became of the part was done, or after; "" where nothing is done."""
    if not is_done(part.values) or "outcome_done" not in part.fields:
        return ""
    return "before" if key_of(photo) < key_of(part.fields["outcome_done"].heads[-1]) else "after"
