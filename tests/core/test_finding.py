"""The search: everything is found by its own name, however it is written, and an index kept is one made anew."""

import json
import re
import unicodedata
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from random_logs import logs

from cotterbook.core.find_index import Index, index_of
from cotterbook.core.find_near import is_near
from cotterbook.core.find_search import Found
from cotterbook.core.find_words import asked, fold
from cotterbook.core.find_writings import called, writings
from cotterbook.core.strip import Strip
from cotterbook.core.things import THINGS
from cotterbook.core.threads import THREADS
from cotterbook.core.views import VIEWS
from cotterbook.core.views_find import AT_ONCE, around, find_view
from vectors.cases import FIRST_AT, identifier

DEMO = Path(__file__).resolve().parents[2] / "demo_data" / "entries.jsonl"
LABELS = Path(__file__).resolve().parents[2] / "webui" / "labels.js"
STRIP = identifier("@strip")
# Whatever has a letter or a figure; what is all marks has no words to be found by, and signs for machines no entry has.
letters = st.characters(exclude_categories=("Cc", "Cs"))
names = st.text(letters, min_size=1, max_size=40).filter(lambda text: any(each.isalnum() for each in fold(text)))


def strip_of(named: list[dict[str, Any]]) -> Strip:
    """A strip-down of things: {"type", "values"} each, with the id "@thing N"."""
    strip = Strip(STRIP)
    strip.add([
        {"id": identifier(f"@entry {n}"), "strip": STRIP, "kind": "set", "at": FIRST_AT + n, "by": identifier("@phone"),
         "who": "Ann", "thing": identifier(f"@thing {n}"), "type": each["type"], "values": each["values"]}
        for n, each in enumerate(named)])
    return strip


def found(strip: Strip, typed: str) -> set[str]:
    """Ids of all that a search finds."""
    answer = find_view(strip, {"typed": typed})
    whole = [find_view(strip, {"typed": typed, "only": kind["kind"]}) for kind in answer["kinds"]]
    return {row["id"] for each in whole for kind in each["kinds"] for row in kind["rows"]}


@given(st.lists(names, min_size=1, max_size=6))
@settings(max_examples=150)
def test_every_name_finds_its_thing(texts):
    things = [{"type": "part", "values": {"name": text}} for text in texts]
    strip = strip_of(things)
    for n, text in enumerate(texts):
        assert identifier(f"@thing {n}") in found(strip, text)
        # As another keyboard writes it: the letters whose marks the core knows.
        if max(text) < "\u0500":
            assert identifier(f"@thing {n}") in found(strip, unicodedata.normalize("NFD", text))


@given(names)
def test_folding_twice_is_folding_once(text):
    assert fold(fold(text)) == fold(text)


@given(st.sampled_from(THREADS), st.sampled_from([None, 6, 12.5, 25, 25.4, 31.75, 100]))
def test_every_standard_thread_is_found_as_it_is_called_and_written(thread, length):
    values = {"part": identifier("@thing 0"), "count": 4, "thread": thread.name, "length_millimetres": length}
    strip = strip_of([{"type": "part", "values": {"name": "Cover"}}, {"type": "group", "values": values}])
    ways = [thread.name, thread.name.lower(), thread.name.replace("×", " x ")]
    if length and thread.metric:
        ways += [f"{thread.name}x{length}", f"{thread.name} × {length}".replace(".", ",")]
    for way in ways:
        assert identifier("@thing 1") in found(strip, way), way


def test_the_demo_finds_each_of_its_things_by_its_own_words():
    entries = [json.loads(line) for line in DEMO.read_text(encoding="utf-8").splitlines()]
    strip = Strip(entries[0]["strip"])
    strip.add(entries)
    fields = {"part": "name", "bag": "label", "item": "text", "tool": "name", "scale": "name"}
    for thing_type, field in fields.items():
        for thing in strip.of_type(thing_type):
            if thing.values.get(field):
                assert thing.id in found(strip, thing.values[field])
    for group in strip.of_type("group"):
        assert group.id in found(strip, writings(group.values)[0].split(" ")[0] or group.values["key"])


@given(logs(), st.integers(0, 30))
@settings(max_examples=60)
def test_an_index_brought_up_to_date_is_one_made_anew(entries, after):
    grown, anew = Strip(STRIP), Strip(STRIP)
    grown.add(entries[:after])
    index_of(grown).refresh(grown)
    grown.add(entries[after:])
    index_of(grown).refresh(grown)
    anew.add(entries)
    index_of(anew).refresh(anew)
    assert index_of(grown).docs == index_of(anew).docs and index_of(grown).ranges == index_of(anew).ranges


def test_no_other_screen_makes_an_index():
    strip = strip_of([{"type": "part", "values": {"name": "Seat"}}])
    for name in ("strip", "off", "back", "statement", "open_items", "handover"):
        VIEWS[name](strip, {"now_ms": FIRST_AT})
    assert strip.found_by is None


def test_an_index_is_made_ahead_some_things_at_a_time():
    strip = strip_of([{"type": "part", "values": {"name": f"Clip {n}"}} for n in range(3 * AT_ONCE)])
    asked_ahead = [find_view(strip, {"typed": " "})["ready"] for _ in range(5)]
    assert asked_ahead == [False, False, False, True, True]
    # Whoever types before it is made gets all of it.
    other = strip_of([{"type": "part", "values": {"name": f"Clip {n}"}} for n in range(3 * AT_ONCE)])
    assert find_view(other, {"typed": "clip"})["count"] == 3 * AT_ONCE


SLIPS = ("other", "less", "more", "swapped")


@given(st.text("abcde", min_size=6, max_size=9), st.integers(0, 8), st.sampled_from(SLIPS))
def test_one_slip_is_near(word, at, slip):
    at = min(at, len(word) - 2)
    slips = {
        "other": word[:at] + "z" + word[at + 1 :],
        "less": word[:at] + word[at + 1 :],
        "more": word[:at] + "z" + word[at:],
        "swapped": word[:at] + word[at + 1] + word[at] + word[at + 2 :],
    }
    if len(slips[slip]) >= 6:
        assert is_near(slips[slip], word)
    strip = strip_of([{"type": "part", "values": {"name": word}}])
    assert found(strip, slips[slip]) == {identifier("@thing 0")}


@pytest.mark.parametrize("other", ["xxxxx", "brxke", "kabre", "brazzing"])
def test_two_slips_are_not(other):
    assert not is_near("brakes", other)


@given(st.text(max_size=400), st.text(max_size=10))
def test_a_note_is_shown_where_its_words_stand(text, word):
    shown = around(text, asked(word))
    assert len(shown) <= 142 and shown.strip("…") in text
    if word and word == word.lower() and word in text and len(asked(word)) == 1 and asked(word)[0] == word:
        assert len(text) <= 140 or word in shown.lower() or " " in word


def test_choices_are_found_by_the_words_on_the_screens():
    words = dict(re.findall(r'(?:^|[ {,])"?([a-z_]+)"?: "([^"]*)"', LABELS.read_text(encoding="utf-8"), re.M))
    fields = ("place", "side", "outcome", "gone", "head", "finish", "into", "replace_each_time", "adjusted",
              "tool_type", "what", "torque_condition")  # fmt: skip
    rows = [row for of_type in THINGS.values() for row in of_type if row[0] in fields and row[1] == "choice"]
    codes = {code for row in rows for code in row[3]}
    assert len(codes) > 60
    lacking = {code: words[code] for code in codes if code in words
               and not set(fold(words[code]).split()) <= set(fold(called(code)).split())}
    assert lacking == {}


@given(st.text(max_size=60) | st.none() | st.integers())
def test_whatever_is_typed_gets_an_answer(typed):
    strip = strip_of([{"type": "part", "values": {"name": "Ünder tray 8x25"}}])
    json.dumps(find_view(strip, {"typed": typed}))
    assert Found(Index(), asked(typed)).count == 0
