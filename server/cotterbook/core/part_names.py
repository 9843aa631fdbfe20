"""A part's name in German, Spanish or Hindi brought to the English words that the rules know.

Whatever language a screen has: a log is read by phones of several, and all must find the same. A name whose words are
all English is left as it is; so is one that no language here explains better. What a word means in German, Spanish or
Hindi is looked up only where English does not know one in the same name.
"""

from typing import Any

from .find_words import fold, is_ascii
from .ordinary_masses import words_of
from .part_kinds import KNOWN
from .part_words import BETWEEN, OF, PAIRS, SAME, WHERE
from .part_words_german import GERMAN_DOUBTFUL, GERMAN_FIRST, bare, ended, german_word
from .part_words_hindi import hindi_table, spelt
from .part_words_spanish import SPANISH, SPANISH_DOUBTFUL, singular, spanish_word

# A log names the same parts again and again.
KEPT_NAMES = 2_000
_kept: dict[str, str] = {}
# A name of more words is none.
MOST_WORDS, LONGEST_PHRASE = 40, 5
# What a word is called that is of no language here and of other letters: the phone's Python sees no letters there.
UNREAD = "unread"
# Doubtful words that may be a whole name: the engine, a wheel.
ALONE = ("motor", "rad")

_ENGLISH = {word: True for word in BETWEEN + WHERE}
_ENGLISH.update(KNOWN)
_ENGLISH.update({word: True for word in SAME})
_ENGLISH.update({word: True for pair in PAIRS for word in pair})


def in_english(name: Any) -> Any:
    """The name in English words, where its own are German, Spanish or Hindi; else the name as it is."""
    if not isinstance(name, str):
        return name
    found = _kept.get(name)
    if found is None:
        if len(_kept) >= KEPT_NAMES:
            _kept.clear()
        found = _kept[name] = _read(name)
    return found


def _read(name: str) -> str:
    highest = max(name + " ")
    if highest > "\ud7ff":
        # Half a picture letter is no text.
        name = "".join([letter for letter in name if not "\ud800" <= letter <= "\udfff"])
    plain = highest < "\x80" or not any([_is_letter_beyond(letter) for letter in name])
    if plain and all([word in _ENGLISH for word in words_of(name)]) and not _is_german_though(name):
        return name
    # A part of the name is what stands between two commas.
    parts = [[word for word in fold(part).split() if word[0] not in "0123456789"] for part in name.split(",")]
    words = [word for part in parts for word in part]
    if not words or len(words) > MOST_WORDS:
        return name
    if any([_is_hindi(word) for word in words]):
        return ", ".join([" ".join(_hindi_read(part)) for part in parts])
    german, spanish = _signs(words, german_word, GERMAN_DOUBTFUL), _signs(words, spanish_word, SPANISH_DOUBTFUL)
    if german or spanish or _is_german_though(name):
        read = _german_read if german >= spanish else _spanish_read
        return ", ".join([" ".join(read(part)) for part in parts])
    return name if plain else ", ".join([" ".join([_in_ascii(word) for word in part]) for part in parts])


def _is_letter_beyond(letter: str) -> bool:
    """Whether it is a letter, or part of one, beyond ASCII, and no sign."""
    return letter >= "\u00c0" and letter not in "×÷" and not "\u2000" <= letter < "\u2c00"


def _is_german_though(name: str) -> bool:
    """"Blinker links" and "Batterie", whose words English knows, as "links" and "batteries": nobody writes so there."""
    small = name.lower()
    return "blinker link" in small or "batterie" in small and "batterie" in fold(name).split()


def _signs(words: list[str], meaning: Any, doubtful: tuple[str, ...]) -> int:
    """How many words say that a name is of a language: known there, not in English, and no doubtful ones."""
    found, alone = 0, len(words) == 1 and words[0] in ALONE
    for word in words:
        if (alone or word not in doubtful) and not _is_english(word):
            found += meaning(word) not in (None,) + BETWEEN
    return found


def _is_english(word: str) -> bool:
    return word in _ENGLISH or all([each in _ENGLISH for each in words_of(word)])


def _in_ascii(word: str) -> str:
    return word if is_ascii(word) else UNREAD


# German: what is last is what it is, in a compound and behind it.


def _joined(words: list[str]) -> list[str]:
    """"Brems-Sattel" and "Luft Filter" in one, where that is a word of its own."""
    found: list[str] = []
    for word in words:
        if found and ended(bare(found[-1] + word)) is not None:
            found[-1] += word
        else:
            found.append(word)
    return found


def _german_read(words: list[str]) -> list[str]:
    words = _joined(words)
    found: list[str] = []
    nouns = [word for word in words if german_word(word) not in WHERE]
    # "Schraube Bremssattel": a screw of it.
    turned = len(nouns) > 1 and words[0] == nouns[0] and bare(words[0]) in GERMAN_FIRST
    turned = turned and not any([german_word(word) in OF for word in words])
    for index, word in enumerate(words):
        meant = german_word(word)
        meant = _in_ascii(word) if meant is None else meant
        if meant in BETWEEN:
            # "Der Halter" is the holder; "Halter der Leitung" is of it; "von der" is one "of".
            if meant != "the" and found and found[-1] not in BETWEEN:
                found.append(meant)
        else:
            found.append(meant)
            if turned and index == 0:
                found.append("of")
    return found


# Spanish: what is first is what it is, and each word behind says more of it, so that all is turned round.


def _spanish_read(words: list[str]) -> list[str]:
    words = ["de" if word == "del" else singular(word) for word in words]
    said = [word for word in words if SPANISH.get(word) != "the"]
    return [each for each in _phrases(said, SPANISH)[::-1] if each not in BETWEEN]


def _phrases(words: list[str], table: dict[str, str]) -> list[str]:
    """What words mean, the most of them that are one thing first."""
    found: list[str] = []
    index = 0
    while index < len(words):
        meant, size = None, min(LONGEST_PHRASE, len(words) - index)
        while meant is None and size > 0:
            meant = table.get(" ".join(words[index : index + size]))
            size -= meant is None
        found.append(_in_ascii(words[index]) if meant is None else meant)
        index += max(size, 1)
    return found


# Hindi: English in another writing and order of its own, which is the English one.


def _is_hindi(word: str) -> bool:
    return any(["\u0900" <= letter <= "\u097f" for letter in word])


def _hindi_read(words: list[str]) -> list[str]:
    return [each for each in _phrases([spelt(word) for word in words], hindi_table()) if each not in BETWEEN]
