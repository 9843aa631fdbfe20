"""What the screen of settings shows: how each stands and was found, what changed, an earlier day, and the way back."""

from typing import Any

from .days import MS_A_DAY
from .entries import wall_clock_ms
from .settings import Standing, alike, at_end_of, settings_of, standing, uneven_pairs, unit_of, written_twice
from .settings_cautions import caution_of
from .settings_rules import AS_FOUND, also_shown, setting_shown
from .settings_words import way_back
from .strip import Strip
from .thing import Thing, key_of
from .views_group import fields_view, parts_to_choose
from .views_history import history, photos_view
from .words import Refused, problem, say

UNEVEN = (
    "Left {left}, right {right}: the two sides differ. They are usually set alike, unless the machine’s manual says "
    "otherwise."
)
TWICE = "This is written down twice. Keep one, and strike the entries of the other in its history."


def settings_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """{"settings": cards, "parts": what one can be of, "changed", "changed_in_spell": how many, "day", "struck"}.

    "day" is None or, with `until_ms`, the end of a day, and `now_ms`, {"settings": [{"setting", "shown", "also",
    "disputed", "back"}], "before_log": whether the log begins later}, in the order of the cards. "back" is the way
    back of `settings_words`, to as found in a card and to the day in its row.
    """
    settings, spell = settings_of(strip), strip.last_spell()
    begins = None if spell is None else key_of(spell["begins"])
    uneven, twice = _uneven(strip, settings), written_twice(settings)
    cards = [_card(strip, each, begins, uneven.get(each.id), each.id in twice) for each in settings]
    return {
        "settings": cards,
        "parts": parts_to_choose(strip.of_type("part")),
        "changed": len([card for card in cards if card["changed"]]),
        "changed_in_spell": len([card for card in cards if card["changed_in_spell"]]),
        "day": _day(strip, settings, arguments),
        "struck": [_named(each.id, _last(strip, each.id)) for each in strip.struck_of_type("setting")],
    }


def setting_view(strip: Strip, arguments: dict[str, Any]) -> Any:
    """The history of one setting, newest first; None when it is not in the log."""
    setting = strip.thing(arguments.get("setting") or "")
    if setting is None or setting.type != "setting":
        return None
    return {"setting": setting.id, "struck": not setting.alive, "history": history(strip, setting.id)}


def settings_of_part(strip: Strip, part: str) -> list[dict[str, Any]]:
    """The settings that are of one part: {"setting", "adjusted", "name", "place", "side", "now": as shown} each."""
    return [
        dict(_named(each.id, each.values), now=setting_shown(unit_of(each), standing(strip, each).now))
        for each in settings_of(strip)
        if each.values.get("part") == part
    ]


def settings_to_take_back(strip: Strip) -> list[dict[str, Any]]:
    """What takes each setting that stands otherwise, or may do so, back to how it came in: its name and place, "back",
    "how_to_undo" and "caution" as a card has them, in the order of the cards."""
    cards = settings_view(strip, {})["settings"]
    names = ("setting", "adjusted", "name", "place", "side", "back", "how_to_undo", "caution")
    return [{name: card[name] for name in names} for card in cards if card["back"]["state"] != "same"]


def settings_in_short(strip: Strip) -> dict[str, int]:
    """How many settings are written down, and how many stand otherwise than they were found."""
    settings = settings_of(strip)
    return {"count": len(settings), "changed": len([each for each in settings if standing(strip, each).changed])}


def adjusted_since(strip: Strip, begins: Any) -> list[dict[str, Any]]:
    """Settings that stand otherwise than just before an entry with this (at, id), or than found where it is None.

    {"setting", "adjusted", "name", "place", "side", "from", "to"} each; only where it is known how they stood.
    """
    found = []
    for setting in settings_of(strip):
        now = standing(strip, setting)
        then = now.found if begins is None else standing(strip, setting, begins).now
        if then is not None and not alike(now.unit, then, now.now):
            ends = {"from": setting_shown(now.unit, then), "to": setting_shown(now.unit, now.now)}
            found.append(dict(_named(setting.id, setting.values), **ends))
    return found


def _named(setting: str, values: dict[str, Any]) -> dict[str, Any]:
    names = ("adjusted", "name", "place", "side")
    return dict({name: values.get(name) for name in names}, setting=setting)


def _last(strip: Strip, setting: str) -> dict[str, Any]:
    """The fields that a struck setting had."""
    found: dict[str, Any] = {}
    for entry in strip.filed(setting):
        found.update(entry["values"] if entry["kind"] == "set" else {})
    return found


def _card(strip: Strip, setting: Thing, begins: Any, uneven: Any, twice: bool) -> dict[str, Any]:
    values, stands, unit = setting.values, standing(strip, setting), unit_of(setting)
    earlier = None if stands.entry is None else standing(strip, setting, key_of(stands.entry))
    began = None if begins is None else standing(strip, setting, begins).now
    part = strip.thing(values.get("part") or "")
    caution = caution_of(str(values.get("adjusted")))
    card = _named(setting.id, values)
    card.update({name: values.get(name) for name in ("counted", "inwards_is", "read_how", "how_to_undo", "note")})
    card.update(
        part=values.get("part"),
        part_name=None if part is None else part.values.get("name"),
        unit=unit,
        now=setting_shown(unit, stands.now),
        also=also_shown(unit, stands.now),
        found=setting_shown(unit, stands.found),
        found_also=also_shown(unit, stands.found),
        earlier=None if earlier is None else setting_shown(unit, earlier.now),
        disputed=stands.disputed or stands.found_disputed,
        ask_found=stands.found is None and not stands.nobody_knows,
        nobody_knows=stands.nobody_knows,
        changed=stands.changed,
        changed_in_spell=began is not None and not alike(unit, began, stands.now),
        why=_why(setting, stands),
        last=_written(stands.entry or _head(setting, AS_FOUND + unit)),
        back=_back(setting, stands, stands.found, stands.found_disputed),
        caution=caution["sentence"],
        basis=caution["basis"],
        uneven=uneven,
        twice=say(TWICE) if twice else None,
        photos=photos_view(setting),
        fields=fields_view(setting),
    )
    return card


def _head(setting: Thing, name: str) -> Any:
    return setting.fields[name].heads[-1] if name in setting.fields else None


def _written(entry: Any) -> Any:
    return None if entry is None else {"who": entry["who"], "at_ms": wall_clock_ms(entry["id"])}


def _why(setting: Thing, stands: Standing) -> Any:
    """The reason that was given with the figure as it stands, not one of an earlier figure."""
    return None if stands.entry is None else stands.entry["values"].get("why")


def _back(setting: Thing, now: Standing, target: Any, disputed: bool) -> dict[str, Any]:
    return way_back(setting.values, now, target, disputed)


def _uneven(strip: Strip, settings: list[Thing]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for left, right in uneven_pairs(strip, settings):
        shown = [setting_shown(unit_of(each), standing(strip, each).now) for each in (left, right)]
        found[left.id] = found[right.id] = say(UNEVEN, left=shown[0], right=shown[1])
    return found


def _day(strip: Strip, settings: list[Thing], arguments: dict[str, Any]) -> Any:
    if arguments.get("until_ms") is None:
        return None
    until_ms, now_ms = _moment(arguments["until_ms"]), _moment(arguments.get("now_ms"))
    if until_ms >= now_ms + MS_A_DAY:
        raise Refused([problem("not_a_date", "day", "That day is yet to come.")])
    # Of today all counts, also what a phone with a clock ahead wrote.
    before = at_end_of(until_ms) if until_ms < now_ms else None
    begun = strip.thing(strip.id)
    early = begun is not None and until_ms < begun.first["at"]
    return {"settings": [_row(strip, each, before) for each in settings], "before_log": early}


def _moment(value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise Refused([problem("not_a_date", "day", "This must be a date as 2026-05-31.")])
    return value


def _row(strip: Strip, setting: Thing, before: Any) -> dict[str, Any]:
    then, now = standing(strip, setting, before), standing(strip, setting)
    return {
        "setting": setting.id,
        "shown": setting_shown(then.unit, then.now),
        "also": also_shown(then.unit, then.now),
        "disputed": then.disputed,
        "as_found": then.entry is None,
        "back": _back(setting, now, then.now, then.disputed),
    }
