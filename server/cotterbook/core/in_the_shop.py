"""What the shop has and who works there, over all strip-downs: storage places, people, scales and wrenches."""

from typing import Any

from .entries import wall_clock_ms
from .going_on import is_on
from .ordering import in_order
from .second_check import same_name
from .shop_gear import gear_of, joined_gear
from .strip import Strip
from .views_bag import Contents
from .views_group import bag_label

# What somebody did, by the kinds of entry.
DOINGS = ("weigh", "tighten", "mark", "check")


def shop_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """What one strip-down has of it: {"strip", "name", "machine_name", "places", "nowhere", "people", "gear"}.

    "places": {"kept", "bags": [{"bag", "label", "count"}], "parts": [{"part", "name", "side"}]} each; "nowhere": the
    same of what is off, or holds something, and has no place written. `in_the_shop` joins them.
    """
    own = strip.thing(strip.id)
    machine = strip.thing(own.values.get("machine") or "") if own is not None else None
    places = _places(strip)
    nowhere = places.pop("", {"bags": [], "parts": []})
    return {
        "strip": strip.id,
        "name": "" if own is None else own.values.get("name") or "",
        "machine_name": "" if machine is None else machine.values.get("name") or "",
        "places": [dict(places[kept], kept=kept) for kept in sorted(places)],
        "nowhere": nowhere,
        "people": _people(strip),
        "gear": gear_of(strip, arguments),
    }


def _places(strip: Strip) -> dict[str, Any]:
    found: dict[str, Any] = {}

    def at(thing: Any) -> Any:
        return found.setdefault(thing.values.get("kept") or "", {"bags": [], "parts": []})

    contents = Contents(strip)
    for bag in strip.of_type("bag"):
        count = sum([row["count"] for row in contents.groups_in([bag.id])])
        if count or bag.values.get("kept"):
            at(bag)["bags"].append({"bag": bag.id, "label": bag_label(strip, bag.id), "count": count})
    for part in strip.of_type("part"):
        if not is_on(part.values) and part.values.get("off") and not part.values.get("gone"):
            named = {"part": part.id, "name": part.values.get("name") or "", "side": part.values.get("side")}
            at(part)["parts"].append(named)
    return found


def _people(strip: Strip) -> list[dict[str, Any]]:
    """Who wrote an entry that stands: {"key", "name", "first_ms", "last_ms", "entries", how often each of DOINGS}."""
    found: dict[str, dict[str, Any]] = {}
    for entry in strip.entries.values():
        if not entry.get("who") or strip.is_struck(entry["id"]):
            continue
        key, at_ms = same_name(entry["who"]), wall_clock_ms(entry["id"])
        person = found.get(key)
        if person is None:
            person = found[key] = {"key": key, "name": entry["who"], "first_ms": at_ms, "last_ms": at_ms, "entries": 0}
            person.update({doing: 0 for doing in DOINGS})
        person["first_ms"], person["last_ms"] = min(person["first_ms"], at_ms), max(person["last_ms"], at_ms)
        person["entries"] += 1
        if entry["kind"] in DOINGS:
            person[entry["kind"]] += 1
    return [found[key] for key in sorted(found)]


def in_the_shop(arguments: dict[str, Any]) -> dict[str, Any]:
    """The strip-downs of `strips`, as `shop_view` has them, joined: {"places", "nowhere", "people", "gear"}.

    A place holds "in": what of each strip-down is there; places and people are matched as names are for the second
    check. "gear" is as `shop_gear.joined_gear` has it; `now_ms` is the clock.
    """
    strips = arguments.get("strips") or []
    return {
        "places": _joined_places(strips),
        "nowhere": [_of(strip, strip["nowhere"]) for strip in strips if any(strip["nowhere"].values())],
        "people": _joined_people(strips),
        "gear": joined_gear(strips, arguments.get("now_ms")),
    }


def _of(strip: dict[str, Any], held: dict[str, Any]) -> dict[str, Any]:
    named = {name: strip[name] for name in ("strip", "name", "machine_name")}
    return dict(named, bags=held["bags"], parts=held["parts"])


def _joined_places(strips: list[dict[str, Any]]) -> list[dict[str, Any]]:
    found: dict[str, Any] = {}
    for strip in strips:
        for place in strip["places"]:
            row = found.setdefault(same_name(place["kept"]), {"kept": place["kept"], "in": []})
            row["in"].append(dict(_of(strip, place), kept=place["kept"]))
    return [found[key] for key in sorted(found)]


def _joined_people(strips: list[dict[str, Any]]) -> list[dict[str, Any]]:
    found: dict[str, Any] = {}
    for strip in strips:
        for person in strip["people"]:
            own = found.setdefault(person["key"], dict(person, strips=0, first_ms=person["first_ms"]))
            if own["strips"]:
                own.update({name: own[name] + person[name] for name in DOINGS + ("entries",)})
                own["first_ms"] = min(own["first_ms"], person["first_ms"])
                own["last_ms"] = max(own["last_ms"], person["last_ms"])
            own["strips"] += 1
    return in_order(found.values(), lambda person: person["last_ms"], True)
