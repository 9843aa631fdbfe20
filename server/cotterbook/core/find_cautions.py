"""Cautions by the words of their sentences: apart from the search, which is not to wait for all rules."""

from typing import Any

from .find_docs import said
from .find_words import asked, fold
from .follows import ENDS, RULES
from .open_items import cautions
from .strip import Strip
from .words import say

# Fewer letters than these begin a word of every sentence.
LETTERS = 3
# So many parts are named beside a caution.
NAMED = 3
# The sentences of the rules, each in two languages.
KEPT_SENTENCES = 60
_kept: dict[str, str] = {}


def rules_with(words: list[str], spoken: Any) -> list[str]:
    """The rules in whose sentence all the words begin a word, in English or as `find_docs.to_be_spoken` has them."""
    if not words or max([len(word) for word in words]) < LETTERS:
        return []
    begins = [" " + word for word in words]
    found = []
    for rule in RULES + ENDS:
        sentence = _folded(said(rule[2], spoken))
        if all([word in sentence for word in begins]):
            found.append(rule[0])
    return found


def _folded(text: str) -> str:
    if text not in _kept:
        if len(_kept) >= KEPT_SENTENCES:
            _kept.clear()
        _kept[text] = " " + fold(text)
    return _kept[text]


def cautions_found_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """The cautions that follow and have all the words in `typed`, one row a rule: {"typed", "rows"}.

    A row is one of `views_find.find_view`, of the kind "caution"; `spoken` as there.
    """
    typed, spoken = arguments.get("typed"), arguments.get("spoken")
    rules = rules_with(asked(typed), spoken if isinstance(spoken, dict) else None)
    following = cautions(strip, rules=rules) if rules else []
    rows = [_row(strip, [each for each in following if each["rule"] == rule]) for rule in rules]
    return {"typed": typed or "", "rows": [row for row in rows if row is not None]}


def _row(strip: Strip, following: list[dict[str, Any]]) -> Any:
    if not following:
        return None
    parts = [strip.thing(each["part"]) for each in following if each["part"]]
    names = [part.values.get("name") or say("Part without a name") for part in parts if part is not None]
    more = [say("and {n} more", n=len(names) - NAMED)] if len(names) > NAMED else []
    still = len([each for each in following if each["closed_by"] is None])
    now = say("Open for {n} of {all}.", n=still, all=len(following)) if still else say("Done.")
    return {
        "kind": "caution",
        "id": following[0]["rule"],
        "title": following[0]["sentence"],
        "beside": names[:NAMED] + more,
        "now": now,
        "mistyped": False,
        "screen": "open",
        "of": None,
    }
