"""Cautions by the words of their sentences: apart from the search, which is not to wait for all rules."""

from typing import Any

from .find_docs import said
from .find_words import asked, fold
from .follows import ENDS, RULES
from .limits import PLACES_ON_MACHINE
from .open_items import cautions
from .place_cautions import PLACE_CAUTIONS
from .strip import Strip
from .words import say

# Fewer letters than these begin a word of every sentence.
LETTERS = 3
# So many parts are named beside a caution.
NAMED = 3
# The sentences of the rules and places, each in two languages.
KEPT_SENTENCES = 120
_kept: dict[str, str] = {}


def rules_with(words: list[str], spoken: Any) -> list[str]:
    """The rules in whose sentence all the words begin a word, in English or as `find_docs.to_be_spoken` has them."""
    return _with(words, [(rule[0], rule[2]) for rule in RULES + ENDS], spoken)


def places_with(words: list[str], spoken: Any) -> list[str]:
    """The places of the machine whose own caution has all the words, as `rules_with`."""
    places = [place for place in PLACES_ON_MACHINE if place in PLACE_CAUTIONS]
    return _with(words, [(place, PLACE_CAUTIONS[place]["text"]) for place in places], spoken)


def _with(words: list[str], texts: list[Any], spoken: Any) -> list[str]:
    if not words or max([len(word) for word in words]) < LETTERS:
        return []
    begins = [" " + word for word in words]
    found = []
    for name, text in texts:
        sentence = _folded(said(text, spoken))
        if all([word in sentence for word in begins]):
            found.append(name)
    return found


def _folded(text: str) -> str:
    if text not in _kept:
        if len(_kept) >= KEPT_SENTENCES:
            _kept.clear()
        _kept[text] = " " + fold(text)
    return _kept[text]


def cautions_found_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """The cautions that follow, and those of places where parts are, that have all the words in `typed`, one row each.

    {"typed", "rows"}; a row is one of `views_find.find_view`, of the kind "caution"; `spoken` as there.
    """
    typed, spoken = arguments.get("typed"), arguments.get("spoken")
    words, spoken = asked(typed), spoken if isinstance(spoken, dict) else None
    rules, places = rules_with(words, spoken), places_with(words, spoken)
    following = cautions(strip, rules=rules) if rules else []
    rows = [_of_rule(strip, [each for each in following if each["rule"] == rule]) for rule in rules]
    parts = strip.of_type("part") if places else []
    rows += [_of_place(place, [part for part in parts if part.values.get("place") == place]) for place in places]
    return {"typed": typed or "", "rows": [row for row in rows if row is not None]}


def _of_rule(strip: Strip, following: list[dict[str, Any]]) -> Any:
    if not following:
        return None
    parts = [strip.thing(each["part"]) for each in following if each["part"]]
    still = len([each for each in following if each["closed_by"] is None])
    now = say("Open for {n} of {all}.", n=still, all=len(following)) if still else say("Done.")
    first = following[0]
    return _row(first["rule"], first["sentence"], [part for part in parts if part is not None], now, "open", None)


def _of_place(place: str, parts: list[Any]) -> Any:
    if not parts:
        return None
    now = say("Wherever something of this place comes off or goes on: {place}.", place={"label": place})
    return _row("at_" + place, PLACE_CAUTIONS[place], parts, now, "part", parts[0].id)


def _row(name: str, sentence: Any, parts: list[Any], now: Any, screen: str, of: Any) -> dict[str, Any]:
    names = [part.values.get("name") or say("Part without a name") for part in parts]
    more = [say("and {n} more", n=len(names) - NAMED)] if len(names) > NAMED else []
    return {
        "kind": "caution",
        "id": name,
        "title": sentence,
        "beside": names[:NAMED] + more,
        "now": now,
        "mistyped": False,
        "screen": screen,
        "of": of,
    }
