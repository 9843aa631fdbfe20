"""What each screen shows, worked out from a strip-down's state."""

from typing import Any

from .amounts import Amount
from .chapter import chapter_view
from .cure import cures_view
from .fasteners import title
from .figures import shown_in_pounds_too
from .find_cautions import cautions_found_view
from .in_the_shop import shop_view
from .share_page import share_view
from .slips import slips_view
from .spells import began_ms, ended_ms, running_spell
from .standing import weighings_of
from .strip import Strip
from .thing import Thing
from .things import THINGS
from .to_do import items_of, left_by_rules
from .views_back import back_view
from .views_bag import bag_view, kept_view
from .views_balance import balance_view
from .views_buy import buy_view
from .views_charts import balance_chart_view, charts_sheet_view, staircase_view, time_chart_view
from .views_count import count_view, stops_in_short
from .views_find import find_view
from .views_gear import gear_view
from .views_group import bag_label, fields_view
from .views_handover import handover_view
from .views_maps import foreseen_view
from .views_masses import made_of_view, statement_view, sums_view
from .views_open import open_items_view
from .views_part import item_view, last_name, part_view, rows
from .views_pictures import pictures_view
from .views_pins import pins_view
from .views_reading import typed_reading_view
from .views_record import record_view, turns_view
from .views_retorque import retorque_view
from .views_settings import setting_view, settings_in_short, settings_view
from .views_sheet_back import back_sheet_view
from .views_sheet_build import build_sheet_view
from .views_sheet_keys import keys_view
from .views_shown_table import shown_table_view
from .views_spells import spells_view, time_view
from .views_tables import csv_view, table_view, tables_view
from .views_tags import tags_view
from .views_tally import tally_view
from .views_to_standard import to_standard_view
from .views_tools import tools_and_last
from .views_torque import torque_view
from .views_waits import waits_view
from .views_weigh_in import weigh_in_view, weighing_in_short
from .words import say


def strip_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """The strip-down as a whole."""
    own = strip.thing(strip.id)
    values = own.values if own is not None else {}
    aim = values.get("aim_grams")
    running = running_spell(strip)
    return {
        "strip": strip.id,
        "name": values.get("name") or "",
        "fields": fields_view(own),
        "machine": _machine_view(strip, values.get("machine")),
        "aim": None if aim is None else shown_in_pounds_too(Amount(aim)),
        "spell": None if running is None else _running_view(running),
        "spells": [_spell_view(spell) for spell in strip.spells()],
        "sums": sums_view(strip),
        "counts": _counts(strip),
        "stops": stops_in_short(strip),
        "notices": _notices(strip),
        "people": _people(strip),
        "weigh_ins": [weighing_in_short(each) for each in weighings_of(strip)],
        "bags": [_bag_view(bag) for bag in strip.of_type("bag")],
        "settings": settings_in_short(strip),
    }


def _running_view(spell: dict[str, Any]) -> dict[str, Any]:
    return {"spell": spell["spell"], "since_ms": began_ms(spell), "people": spell["people"]}


def _spell_view(spell: dict[str, Any]) -> dict[str, Any]:
    ends = spell["ends"]
    return {
        "spell": spell["spell"],
        "people": spell["people"],
        "from_ms": began_ms(spell),
        "to_ms": ended_ms(spell),
        "begins_entry": spell["begins"]["id"],
        "ends_entry": ends["id"] if ends else None,
    }


def _bag_view(bag: Thing) -> dict[str, Any]:
    values = bag.values
    return {"bag": bag.id, "label": values.get("label"), "kept": values.get("kept"), "fields": fields_view(bag)}


def _machine_view(strip: Strip, machine: Any) -> Any:
    thing = strip.thing(machine) if machine else None
    if thing is None:
        return None
    standard = thing.values.get("standard_grams")
    return {
        "id": thing.id,
        "name": thing.values.get("name") or "",
        "standard": None if standard is None else shown_in_pounds_too(Amount(standard)),
        "fields": fields_view(thing),
    }


def _counts(strip: Strip) -> dict[str, int]:
    counts = strip.counts()
    items_open = counts["items_open"] + len(left_by_rules(strip))
    return dict(counts, items_open=items_open, not_understood=len(strip.not_understood), struck=len(strip.struck()))


def _all_things(strip: Strip) -> list[Thing]:
    return [thing for kind in THINGS for thing in strip.of_type(kind)]


def _notices(strip: Strip) -> list[dict[str, Any]]:
    found = []
    if strip.not_understood:
        found.append(
            say(
                "Entries that a newer version wrote, or that can’t be read here: {n}. They are kept and passed on.",
                n=len(strip.not_understood),
            )
        )
    loose = [thing for thing in strip.of_type("") if thing.id not in ("spells", "weigh_ins")]
    if loose:
        found.append(say("Things that entries speak of but that are not in this log yet: {n}.", n=len(loose)))
    return found


def _people(strip: Strip) -> list[str]:
    names: dict[str, bool] = {}
    for spell in strip.spells():
        for name in spell["people"]:
            names[name] = True
    return sorted(names)


def off_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """What is off: the sums, the parts newest first, where loose fasteners are, open items."""
    parts = strip.of_type("part")
    parts.reverse()
    return {
        "sums": sums_view(strip),
        "parts": rows(strip, parts),
        "places": _places(strip),
        "items": [item_view(strip, item) for item in items_of(strip, None)],
        "struck": [{"part": part.id, "name": last_name(strip, part)} for part in strip.struck_of_type("part")],
    }


def _places(strip: Strip) -> list[dict[str, Any]]:
    found: dict[tuple[str, str], dict[str, Any]] = {}
    for group in strip.of_type("group"):
        for where, bag, count in strip.ledger(group.id).elsewhere():
            place = found.setdefault(
                (where, bag),
                {"where": where, "bag": bag or None, "label": bag_label(strip, bag), "count": 0, "what": []},
            )
            place["count"] += count
            place["what"].append({"title": title(group.values), "count": count, "part": group.values.get("part")})
    return [found[place] for place in sorted(found, key=lambda place: (place[0], _label_key(found[place]["label"])))]


def _label_key(label: Any) -> Any:
    text = label or ""
    return (0, int(text), "") if text and all(c in "0123456789" for c in text) else (1, 0, text)


def exact_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """The statement's unrounded figures and the ledger's counts, for reports and for checks between runtimes."""
    lines = {}
    for part in strip.of_type("part"):
        line = strip.line(part.id)
        lines[part.id] = {
            "off": _pair(line.off),
            "on": _pair(line.on),
            "change": _pair(line.change),
            "standard_change": _pair(line.standard_change),
            "spell_change": _pair(line.spell_change),
            "counted": line.counted,
            "unweighed": line.unweighed,
            "basis": line.basis,
        }
    sums = strip.sums()
    groups = {}
    for group in strip.of_type("group"):
        ledger = strip.ledger(group.id)
        groups[group.id] = {
            "count": ledger.count,
            "on": ledger.on,
            "untouched": ledger.untouched,
            "loose": ledger.loose,
            "tight": ledger.tight,
            "marked": ledger.marked,
            "checked": ledger.check.checked,
            "needs": strip.needs(group.id),
            "elsewhere": [list(place) for place in ledger.elsewhere()],
        }
    return {
        "lines": lines,
        "groups": groups,
        "unweighed": sums["unweighed"],
        "spell": _pair(sums["spell"]),
        "came_in": _pair(sums["came_in"]),
        "standard": _pair(sums["standard"]),
        "last_at": strip.last_at,
        "not_understood": sorted(strip.not_understood),
        "disputed": sorted(
            [thing.id, name] for thing in _all_things(strip) for name in thing.fields if thing.fields[name].disputed
        ),
    }


def _pair(found: Any) -> Any:
    return None if found is None else [found.grams, found.standard]


VIEWS = {
    "strip": strip_view,
    "off": off_view,
    "part": part_view,
    "foreseen": foreseen_view,
    "back": back_view,
    "back_sheet": back_sheet_view,
    "keys_sheet": keys_view,
    "build_sheet": build_sheet_view,
    "statement": statement_view,
    "exact": exact_view,
    "slips": slips_view,
    "reading": typed_reading_view,
    "tally": tally_view,
    "balance": balance_view,
    "weigh_in": weigh_in_view,
    "tools": tools_and_last,
    "torque": torque_view,
    "gear": gear_view,
    "made_of": made_of_view,
    "record": record_view,
    "turns": turns_view,
    "retorque": retorque_view,
    "cures": cures_view,
    "open_items": open_items_view,
    "pins": pins_view,
    "waits": waits_view,
    "to_standard": to_standard_view,
    "count": count_view,
    "buy": buy_view,
    "bag": bag_view,
    "cautions_found": cautions_found_view,
    "find": find_view,
    "kept": kept_view,
    "tags": tags_view,
    "spells": spells_view,
    "time": time_view,
    "handover": handover_view,
    "settings": settings_view,
    "setting": setting_view,
    "balance_chart": balance_chart_view,
    "charts_sheet": charts_sheet_view,
    "staircase": staircase_view,
    "time_chart": time_chart_view,
    "tables": tables_view,
    "table": table_view,
    "shown_table": shown_table_view,
    "table_csv": csv_view,
    "chapter": chapter_view,
    "shop": shop_view,
    "share_page": share_view,
    "pictures": pictures_view,
}
