"""What a search shows: what was found by kind, the nearest first, where each is now, and the screen that shows it."""

from typing import Any

from .fasteners import title
from .find_cautions import places_with, rules_with
from .find_docs import BAG, said
from .find_index import index_of
from .find_search import MISTYPED, Found
from .find_words import asked, is_ascii
from .going_on import NEW_THING, is_on
from .mass import outcome_of
from .open_items import before_of
from .settings import standing
from .settings_rules import setting_shown
from .shown_torque import settable
from .strip import Strip
from .thing import Thing
from .torque import specification
from .views_group import bag_label, named
from .words import say

# So many of each kind at first; all of one kind are asked for.
FIRST = 5
# So many things are folded in one call while the index is made ahead: whoever goes elsewhere waits for no more.
AT_ONCE = 200
# A note is shown in so many characters around what was found.
SHOWN_OF_A_NOTE = 140


def find_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """What has all the words in `typed`: {"typed", "ready", "count", "opens", "cautions", "kinds"}.

    A kind is {"kind", "count", "rows"}, the one with the nearest find first; with `only`, one kind with all its rows,
    else the first few of each. A row: {"kind", "id", "title", "beside": what else it is, "now": where it is,
    "mistyped", "screen", "of"}; titles and what is beside are texts, codes or sentences; "screen" and "of" are the
    address. "opens" is such an address where a bag is called just that, else None. `spoken` is a word for each of
    `find_docs.to_be_spoken` in the language that is read; None: English. "cautions" says whether
    `find_cautions.cautions_found_view` may know more. Without words nothing is looked for: some of the index is made
    for the first search, and "ready" says whether that is all of it.
    """
    index, typed, only = index_of(strip), arguments.get("typed"), arguments.get("only")
    spoken = arguments.get("spoken")
    spoken = spoken if isinstance(spoken, dict) else None
    words = asked(typed)
    if not index.refresh(strip, 0 if words else AT_ONCE, spoken):
        return {"typed": typed or "", "ready": False, "count": 0, "opens": None, "cautions": False, "kinds": []}
    found = Found(index, words)
    kinds: list[Any] = []
    for kind, first, end in index.ranges:
        if only is None or kind == only:
            count, nearest = found.nearest(first, end, FIRST if only is None else None)
            if nearest:
                rows = [_row(strip, index.docs[number], fit, words) for number, fit in nearest]
                kinds.append((nearest[0][1], len(kinds), {"kind": kind, "count": count, "rows": rows}))
    return {
        "typed": typed or "",
        "ready": True,
        "count": found.count,
        "opens": _opens(strip, words, spoken) if words else None,
        "cautions": bool(rules_with(words, spoken) or places_with(words, spoken)),
        "kinds": [kind[2] for kind in sorted(kinds)],
    }


def _opens(strip: Strip, words: list[str], spoken: Any) -> Any:
    """The bag whose label is what was typed, with or without a word for a bag."""
    bag_words = asked(said(BAG, spoken))
    for bag in strip.of_type("bag"):
        label = bag.values.get("label")
        if words[-1] in (label or "").lower() or not is_ascii(label or ""):
            called_so = asked(label)
            if words == called_so or words[:1] + called_so == words and words[0] in bag_words:
                return {"screen": "bag", "of": label}
    return None


def _row(strip: Strip, doc: Any, fit: int, words: list[str]) -> dict[str, Any]:
    kind, of, field = doc[:3]
    shown: dict[str, Any] = {"beside": [], "now": None}
    if kind == "kept":
        shown.update(title=of, now=_kept_there(strip, of), screen="kept", of=of)
    elif kind == "person":
        shown.update(title=of, now=_written_by(strip, of), screen="handover", of=None)
    elif kind == "note":
        shown.update(_note(strip, of, field, words))
    else:
        shown.update(ROWS[kind](strip, strip.thing(of)))
    return dict(shown, kind=kind, id=of + field, mistyped=fit == MISTYPED)


def _choices(*codes: Any) -> list[Any]:
    return [{"label": code} for code in codes if code]


def _on_part(strip: Strip, thing: Thing) -> list[Any]:
    part = strip.thing(thing.values.get("part") or "")
    if part is None:
        return []
    name = part.values.get("name")
    return ([name] if name else []) + _choices(part.values.get("place"), part.values.get("side"))


def _part_row(strip: Strip, part: Thing) -> dict[str, Any]:
    values = part.values
    beside = _choices(values.get("place"), values.get("side"))
    now = _part_now(strip, values)
    return {"title": values.get("name"), "beside": beside, "now": now, "screen": "part", "of": part.id}


def _part_now(strip: Strip, values: dict[str, Any]) -> dict[str, Any]:
    if values.get("gone"):
        return say("Gone: {how}.", how={"label": values["gone"]})
    if is_on(values):
        if outcome_of(values) in NEW_THING and values.get("off"):
            return say("What takes its place is on the machine.")
        return say("On the machine.")
    if values.get("came_in") == "missing":
        return say("Was already missing when the machine came in.")
    label, kept = bag_label(strip, values.get("bag")), values.get("kept")
    if label and kept:
        return say("Off, in bag {label}: {kept}.", label=label, kept=kept)
    if label:
        return say("Off, in bag {label}.", label=label)
    if kept:
        return say("Off: {kept}.", kept=kept)
    return say("Off. Nobody wrote down where it is kept.")


def _group_row(strip: Strip, group: Thing) -> dict[str, Any]:
    ledger, values = strip.ledger(group.id), group.values
    key = values.get("key")
    beside = _choices(values.get("head")) + ([say("key {key}", key=key)] if key and key != title(values) else [])
    places = [say("{n} on the machine", n=ledger.on)] if ledger.on > 0 else []
    for where, bag, count in ledger.elsewhere() + ledger.in_stock():
        places.append(_fasteners_at(count, where, bag_label(strip, bag)))
    screen, of = ("part", values["part"]) if strip.thing(values.get("part") or "") is not None else ("off", None)
    shown = {"title": say("{n} × {what}", n=ledger.count, what=named(values)), "screen": screen, "of": of}
    return dict(shown, beside=beside + _on_part(strip, group), now=say("{places}.", places=places) if places else None)


def _fasteners_at(count: int, where: str, label: Any) -> dict[str, Any]:
    if label:
        return say("{n} in bag {label}", n=count, label=label)
    return say("{n} in no bag yet", n=count) if where == "bag" else say("{n} {place}", n=count, place={"label": where})


def _specification_row(strip: Strip, group: Thing) -> dict[str, Any]:
    values, spec = group.values, specification(group.values)
    # As the manual has it; "as written" stands for what no figure says.
    shown = values.get("torque_as_written") or (None if spec is None else settable(spec["low"]))
    beside = [named(values)] + _on_part(strip, group)
    now = say("From: {page}", page=values["torque_page"]) if values.get("torque_page") else None
    heading = say("{torque}", torque=shown) if shown else say("A page without a figure")
    return {"title": heading, "beside": beside, "now": now, "screen": "torque", "of": group.id}


def _bag_row(strip: Strip, bag: Thing) -> dict[str, Any]:
    kept, label = bag.values.get("kept"), bag.values.get("label")
    now = say("Kept: {kept}", kept=kept) if kept else say("Nobody wrote down where it is kept.")
    return {"title": say("Bag {label}", label=label), "now": now, "screen": "bag", "of": label}


def _kept_there(strip: Strip, kept: str) -> dict[str, Any]:
    bags = [bag for bag in strip.of_type("bag") if bag.values.get("kept") == kept]
    parts = [part for part in strip.of_type("part") if part.values.get("kept") == kept and part.values.get("off")]
    return say("Bags here: {bags}. Parts here: {parts}.", bags=len(bags), parts=len(parts))


def _item_row(strip: Strip, item: Thing) -> dict[str, Any]:
    values = item.values
    beside = _choices(values.get("what")) + _on_part(strip, item)
    if values.get("closed"):
        now = say("Done: {how}", how=values["closed_how"]) if values.get("closed_how") else say("Done.")
    elif values.get("for_whom"):
        now = say("Open, {before}, for {who}.", before={"label": before_of(values)}, who=values["for_whom"])
    else:
        now = say("Open, {before}.", before={"label": before_of(values)})
    return {"title": values.get("text"), "beside": beside, "now": now, "screen": "open", "of": None}


def _setting_row(strip: Strip, setting: Thing) -> dict[str, Any]:
    values, stands = setting.values, standing(strip, setting)
    shown = setting_shown(stands.unit, stands.now)
    # What is adjusted is a name where it has no other.
    adjusted = {"label": values.get("adjusted")}
    beside = ([adjusted] if values.get("name") else []) + _choices(values.get("place"), values.get("side"))
    now = say("Not measured yet.") if shown is None else say("Now: {value}", value=shown)
    return {"title": values.get("name") or adjusted, "beside": beside, "now": now, "screen": "settings", "of": None}


def _gear_row(strip: Strip, thing: Thing) -> dict[str, Any]:
    values = thing.values
    now = say("Put away.") if values.get("put_away") else None
    return {"title": values.get("name"), "beside": _choices(values.get("tool_type")), "now": now, "screen": "gear",
            "of": None}  # fmt: skip


def _written_by(strip: Strip, name: str) -> dict[str, Any]:
    count = len([entry for entry in strip.entries.values() if entry["who"] == name])
    spells = len([spell for spell in strip.spells() if name in spell["people"]])
    return say("Entries: {count}. Spells there: {spells}.", count=count, spells=spells)


ROWS = {
    "part": _part_row, "fasteners": _group_row, "specification": _specification_row, "bag": _bag_row,
    "item": _item_row, "setting": _setting_row, "tool": _gear_row, "scale": _gear_row,
}  # fmt: skip
# The screen on which a note of a type of thing stands.
NOTED_ON = {
    "strip": "off", "machine": "off", "wait": "back", "scale": "gear", "tool": "gear", "setting": "settings",
    "item": "open", "bag": "off",
}  # fmt: skip


def _note(strip: Strip, of_what: str, field: str, words: list[str]) -> dict[str, Any]:
    """A note, or the words under a picture: its text where the words stand, and what it is of."""
    thing, entry = strip.thing(of_what), strip.entries.get(field)
    if thing is None:
        said = strip.entries[of_what]
        screen, of = ("weigh_in", None) if said["kind"] == "weigh_in" else ("handover", None)
        text, now = said[field], say("By {who}.", who=said["who"])
        return {"title": around(text, words), "now": now, "screen": screen, "of": of}
    text = entry["caption"] if entry is not None else thing.values[field]
    values, part = thing.values, thing.id if thing.type == "part" else thing.values.get("part")
    beside = _on_part(strip, thing)
    if thing.type == "group":
        beside = [named(values)] + beside
    elif values.get("name"):
        beside = [values["name"]] + beside
    screen, of = ("part", part) if part and thing.type in ("part", "group") else (NOTED_ON.get(thing.type, "off"), None)
    under = say("Words under a picture.") if entry is not None else None
    return {"title": around(text, words), "beside": beside, "now": under, "screen": screen, "of": of}


def around(text: str, words: list[str]) -> str:
    """As much of a long text as is shown, where the first of the words stands in it."""
    if len(text) <= SHOWN_OF_A_NOTE:
        return text
    low, at = text.lower(), -1
    for word in words:
        if at < 0:
            at = low.find(word)
    begins = max(0, min(at - SHOWN_OF_A_NOTE // 3, len(text) - SHOWN_OF_A_NOTE))
    # From a space to a space, where there are any.
    space = text.find(" ", begins) + 1 if begins else 0
    begins = space if 0 < space < begins + 20 else begins
    ends = begins + SHOWN_OF_A_NOTE
    space = text.rfind(" ", begins + 20, ends) if ends < len(text) else -1
    ends = space if space > 0 else ends
    return ("…" if begins else "") + text[begins:ends].strip() + ("…" if ends < len(text) else "")
