"""The page to send: one HTML file of what became of the machine, with or without names, pictures, number and costs.

It is made of pieces: texts, and pictures that whoever calls puts in, as only he can read them. Times are in UTC.
"""

from typing import Any

from .entries import wall_clock_ms
from .language import Language, language_of
from .mass import is_done
from .share_charts import charts_section
from .share_html import END, HEAD, POLICY, STYLE, escaped
from .share_names import Discreet
from .share_open import open_section, people_section
from .share_sections import changed_section, mass_section, settings_section, torque_section
from .share_words import Told
from .spreadsheet import moment
from .strip import Strip
from .thing import Thing, key_of
from .views_sheet_build import CHANGED, MOST_PICTURES, build_sheet_view
from .words import Refused, problem, say

# What the one who sends it chooses, and what it is where he says nothing: the page tells as little as it can.
OPTIONS = (("names", False), ("pictures", True), ("number", False), ("costs", False), ("notes", False))
# The longer side of a picture in it, in pixels.
PICTURE_SIDE = 1_000
LEFT_OUT = {
    "names": say("names of people, who stand as person 1, person 2 and so on"),
    "pictures": say("the pictures"),
    "number": say("the machine’s number"),
    "costs": say("what it costs"),
    "notes": say("notes, reasons and the words under pictures"),
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
    """The page as of `share_page`, by `OPTIONS`, `now_ms` and `language`, as `language_of` takes it."""
    language = language_of(arguments.get("language"))
    return share_page(strip, options_of(arguments), arguments.get("now_ms"), language)


def share_page(strip: Strip, options: dict[str, bool], now_ms: Any, language: Language) -> dict[str, Any]:
    """The page: {"pieces", "picture_side": pixels, "told": by `OPTIONS`}, made at `now_ms`.

    A piece is text of the file, or a picture {"sha256", "before", "after", "instead"}: its data: URL goes between
    `before` and `after`; where it is not at hand, `instead` stands for all three.
    """
    told = Told(Discreet(strip, options["names"], options["number"], language), options, language)
    data = build_sheet_view(strip, {"now_ms": now_ms})
    pieces = [_head(strip, told, now_ms, data)]
    sections = (changed_section, mass_section, charts_section, torque_section, settings_section)
    pieces += [section(strip, told, data) for section in sections + (open_section, people_section)]
    if options["pictures"]:
        pieces += _pictures(strip, told)
    pieces.append(_foot(told))
    return {"pieces": pieces, "picture_side": PICTURE_SIDE, "told": options}


def _head(strip: Strip, told: Told, now_ms: Any, data: dict[str, Any]) -> str:
    own = strip.thing(strip.id)
    values = own.values if own is not None else {}
    machine = strip.thing(values.get("machine") or "")
    of_machine = machine.values if machine is not None else {}
    name = of_machine.get("name")
    title = escaped(told.discreet.text(name)) if name else told.words("A motorcycle")
    head = HEAD.format(language=escaped(told.language.code), policy=POLICY, title=title, style=STYLE)
    found = [head, "<h1>" + (told.text(name) or title) + "</h1>\n"]
    if values.get("name"):
        found.append("<p>" + told.text(values["name"]) + "</p>\n")
    if isinstance(now_ms, int):
        made = told.words("Made on {moment} UTC.", moment=moment(now_ms)[:16])
        found.append('<p class="quiet">' + made + "</p>\n")
    if told.options["number"] and of_machine.get("number"):
        found.append("<p>" + told.words("Number: {number}", number=told.text(of_machine["number"])) + "</p>\n")
    if data["open"]["not_all_read"]:
        found.append('<p class="notice">' + told.sentence(data["open"]["not_all_read"]) + "</p>\n")
    sums = data["statement"]["sums"]
    sums_told = (
        (told.words("Since the machine came in"), "came_in"),
        (told.words("Against the standard machine"), "standard"),
    )
    for words, key in sums_told:
        change = '</span><span class="figure">' + told.figure(sums[key], True) + "</span></p>\n"
        found.append('<p class="spread"><span>' + words + change)
    for thing in (machine, own):
        if thing is not None:
            found.append(told.note(thing.values.get("note")))
    return "".join(found)


def _foot(told: Told) -> str:
    left = [told.sentence(LEFT_OUT[name]) for name, _ in OPTIONS if not told.options[name]]
    said = [
        told.words(
            "This is what was written down when it was made. Nothing on it says that the machine is fit to ride: the "
            "machine’s manual, and whoever looks it over, come first."
        )
    ]
    if left:
        said.append(told.words("Left out of this page: {what}.", what="; ".join(left)))
    if not told.options["names"]:
        said.append(told.words("Notes go with the names, for nobody can tell which names stand in a note."))
    said.append(told.words("Made with Cotterbook."))
    return '<footer class="quiet">\n' + "".join(["<p>" + each + "</p>\n" for each in said]) + "</footer>\n" + END


def _pictures(strip: Strip, told: Told) -> list[Any]:
    """The pictures of parts, of what changed first, each part's in the order they were taken."""
    parts = strip.of_type("part")
    changed = [part for part in parts if part.values.get("outcome") in CHANGED]
    ids = [part.id for part in changed]
    ordered = changed + [part for part in parts if part.id not in ids]
    found = [(part, photo) for part in ordered for photo in part.of_kind("photo")]
    if not found:
        return []
    title = told.words("Pictures")
    pieces: list[Any] = ["<section>\n<h2>" + title + '</h2>\n<div class="pictures">\n']
    for part, photo in found[:MOST_PICTURES]:
        pieces += _picture(told, part, photo)
    more = len(found) - MOST_PICTURES
    said = [told.words("{n} more are not in this page.", n=more)] if more > 0 else []
    said.append(told.words("Each is made smaller: its longer side has at most {side} pixels.", side=PICTURE_SIDE))
    return pieces + ["</div>\n" + "".join(['<p class="quiet">' + each + "</p>\n" for each in said]) + "</section>\n"]


def _picture(told: Told, part: Thing, photo: dict[str, Any]) -> list[Any]:
    when, name = _before_or_after(told, part, photo), part.values.get("name")
    words = [told.part(name)] + [each for each in (told.code(part.values.get("side")), when) if each]
    shown = "<p>" + " · ".join(words) + "</p>\n"
    if told.options["notes"] and photo.get("caption"):
        shown += "<p>" + told.text(photo["caption"]) + "</p>\n"
    shown += '<p class="quiet">' + told.by_and_when(photo["who"], wall_clock_ms(photo["id"])) + "</p>\n"
    alt = escaped(told.discreet.text(name)) if name else told.part(name)
    return [
        "<figure>\n",
        {
            "sha256": photo["sha256"],
            "before": '<img alt="' + ", ".join([each for each in (alt, when) if each]) + '" src="',
            "after": '">\n',
            "instead": '<p class="missing">' + told.words("This picture is not at hand here.") + "</p>\n",
        },
        "<figcaption>\n" + shown + "</figcaption>\n</figure>\n",
    ]


def _before_or_after(told: Told, part: Thing, photo: dict[str, Any]) -> str:
    """Whether a picture was taken before what became of the part was done, or after; "" where nothing is done."""
    if not is_done(part.values) or "outcome_done" not in part.fields:
        return ""
    is_before = key_of(photo) < key_of(part.fields["outcome_done"].heads[-1])
    return told.words("before") if is_before else told.words("after")
