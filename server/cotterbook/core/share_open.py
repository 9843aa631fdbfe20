"""What is open on the page to send, what was and is done, and who worked on the machine when."""

from typing import Any

from .entries import wall_clock_ms
from .figures import plain_number
from .limits import BEFORE_WHAT
from .ordering import in_order
from .share_html import escaped
from .share_sections import named, section
from .share_words import Told
from .spells import began_ms, ended_ms
from .spreadsheet import moment
from .strip import Strip
from .thing import key_of
from .words import say

OPEN_BEFORE = {
    "riding": say("Open, before riding"),
    "next_spell": say("Open, before the next spell of work"),
    "some_day": say("Open, some day"),
}
NEEDS = {
    "on": say("it is not on yet"),
    "count": say("fasteners are out"),
    "torque": say("torque is missing"),
    "mark": say("a mark is missing"),
    "not_right": say("some were found not right"),
    "second_check": say("a second check is missing"),
}


def open_section(strip: Strip, told: Told, data: dict[str, Any]) -> str:
    """What is still open, first what stops the machine; the cautions; and what was open and is done."""
    view, found = data["open"], ""
    stops = [told.sentence(stop["sentence"]) for stop in view["stops"]]
    if stops:
        title = "<h2>" + told.words("Stop: before all else") + "</h2>\n"
        found += '<section class="notice">\n' + title + _points(stops) + "</section>\n"
    order = [group for before in BEFORE_WHAT for group in view["groups"] if group["before"] == before]
    for group in [each for each in order if each["count"]]:
        title = told.sentence(OPEN_BEFORE[group["before"]])
        found += section(title, "".join([_still_open(told, part) for part in group["parts"]]))
    if view["nothing"] is not None:
        found += section(told.words("Open"), "<p>" + told.sentence(view["nothing"]) + "</p>\n")
    return found + _dealt_with(told, view)


def _points(lines: list[str]) -> str:
    return "<ul>" + "".join(["<li>" + line + "</li>\n" for line in lines]) + "</ul>\n"


def _still_open(told: Told, part: dict[str, Any]) -> str:
    name = named(told, told.part(part["name"]), part) if part["part"] else told.words("The machine as a whole")
    lines = []
    if part["needs"]:
        needs = [told.sentence(NEEDS[need]) if need in NEEDS else told.code(need) for need in part["needs"]]
        lines.append(told.words("The way back: {needs}", needs=", ".join(needs)))
    sentences = [each["sentence"] for each in part["used_again"]] + part["retorque"] + part["waits"]
    lines += [told.sentence(each) for each in sentences]
    lines += [told.words("Caution: {caution}", caution=told.sentence(each["sentence"])) for each in part["cautions"]]
    lines += [_item(told, item) for item in part["items"]]
    return '<div class="row"><h3>' + name + "</h3>\n" + _points(lines) + "</div>\n"


def _item(told: Told, item: dict[str, Any]) -> str:
    now = item["now"]
    words = told.text(item["text"]) if now is None else _now(told, now)
    what = told.code(item["what"])
    said = [what[:1].upper() + what[1:] + ": " + words]
    if item["for_whom"]:
        said.append(told.people([item["for_whom"]]))
    if item["due_on"]:
        said.append(told.words("by {day}", day=escaped(item["due_on"])))
    cost, paid = [_amount(told, item, key) for key in ("cost", "paid")]
    if cost:
        said.append(told.words("costs {amount}", amount=cost))
    if paid:
        said.append(told.words("came to {amount}", amount=paid))
    return " · ".join(said)


def _amount(told: Told, item: dict[str, Any], key: str) -> str:
    """An amount of money with its currency, where costs are told; nothing where none is known."""
    amount = item["fields"].get(key, {}).get("value")
    if not told.options["costs"] or amount is None:
        return ""
    return (told.language.number(plain_number(amount, 2)) + " " + told.text(item["currency"])).strip()


def _now(told: Told, now: Any) -> str:
    return " ".join([told.sentence(each) for each in now]) if isinstance(now, list) else told.sentence(now)


def _dealt_with(told: Told, view: dict[str, Any]) -> str:
    """Cautions and things to do that are closed, with how, where notes are told, by whom and when."""
    lines = []
    for caution in [each for each in view["cautions"] if each["closed"] is not None]:
        lines.append(told.sentence(caution["sentence"]) + _closed(told, caution["closed"]))
    for item in [each for each in view["done"] if not each["rule"]]:
        lines.append(_item(told, item) + _closed(told, item["closing"]))
    return section(told.words("Was open, and is done"), _points(lines) if lines else "")


def _closed(told: Told, closed: Any) -> str:
    if closed is None:
        return ""
    how = [told.text(closed["how"])] if closed["how"] and told.options["notes"] else []
    return " · " + " · ".join([told.words("done")] + how + [told.by_and_when(closed["who"], closed["at_ms"])])


def people_section(strip: Strip, told: Told, data: dict[str, Any]) -> str:
    """Who wrote things down, and who worked on it spell by spell."""
    lines = []
    for spell in strip.spells():
        ends = ended_ms(spell)
        when = moment(began_ms(spell))[:16]
        if ends is not None:
            when = told.words("{low} to {high}", low=when, high=moment(ends)[:16])
        lines.append(": ".join([each for each in (when, told.people(spell["people"])) if each]))
    aside = set(strip.not_understood)
    entries = in_order([entry for entry in strip.entries.values() if entry["id"] not in aside], key_of)
    ends = [wall_clock_ms(entry["id"]) for entry in entries]
    first = ""
    if ends:
        said = told.words(
            "Written down from {first} to {last} by {people}. All times are UTC.", first=moment(min(ends))[:16],
            last=moment(max(ends))[:16], people=told.people([entry["who"] for entry in entries])
        )
        first = "<p>" + said + "</p>\n"
    return section(told.words("Who and when"), first + (_points(lines) if lines else ""))
