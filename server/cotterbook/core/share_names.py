"""What a page to send may not tell: who worked on the machine, and its number, in every text that people wrote.

Each name that the log knows stands for "person 1", "person 2" and so on, by who came first. A name is taken out of any
other text too: of the name of a part, a wrench, a place. A longer one goes with the word that holds it, so that no
ending of any language lets it through; a short one where it is a word of its own. With or without its marks, with "ue"
for "ü" and with letters that are not seen in it, it is the same name. What a person wrote of somebody whom
the log does not know is found by nobody: so whole notes are left out with the names.
"""

from typing import Any

from .find_words import is_ascii, is_mark
from .language import ENGLISH, Language
from .letters_alike import alike
from .ordering import in_order
from .strip import Strip
from .thing import key_of
from .words import say, with_gaps

PERSON, NUMBER = say("person {n}")["text"], say("(number left out)")["text"]
# Beside all below U+0080 that is no letter or digit: what stands between words.
BETWEEN = (
    "\u00a0\u00ab\u00b4\u00b7\u00bb\u00d7\u2007\u2009\u2010\u2011\u2012\u2013\u2014\u2018\u2019"
    "\u201a\u201c\u201d\u201e\u2022\u2026\u202f\u2039\u203a\u3000\u3001\u3002\uff0c"
)
# Letters that a keyboard without them writes so; and those that are spelt out as two, their mark behind them.
PLAIN = (("ø", "o"), ("æ", "ae"), ("œ", "oe"), ("ł", "l"), ("đ", "d"), ("ð", "d"), ("þ", "th"), ("ı", "i"))
SPELT_OUT = (("a\u0308", "ae"), ("o\u0308", "oe"), ("u\u0308", "ue"), ("a\u030a", "aa"), ("ø", "oe"))
# A shorter name with one of two letters left out may be another word.
SPELT_FROM = 5
# Within a longer word a name of fewer letters is mostly no name.
HELD_FROM = 4
PART_OF_NAME_FROM = 3
# ISO 3779: a vehicle identification number has 17 characters, capitals and digits.
VIN_CHARACTERS, VIN_DIGITS = 17, 5
NUMBER_FROM = 3


def _is_word(character: str) -> bool:
    if character < "\x80":
        return "a" <= character <= "z" or "A" <= character <= "Z" or "0" <= character <= "9"
    return character not in BETWEEN


def _is_letter(character: str) -> bool:
    return _is_word(character) and not is_mark(character)


def compared(text: str) -> str:
    """What names are compared by: small letters alone, without marks and without what is not seen."""
    if is_ascii(text):
        return text.lower()
    found = "".join([letter for letter in alike(text) if not is_mark(letter)])
    for letter, plain in PLAIN:
        found = found.replace(letter, plain)
    return found


def writings_of(word: str) -> list[str]:
    """How else a word of a name is written, as `compared`: "müller", "mueller", "muller"."""
    spelt = alike(word)
    for letter, two in SPELT_OUT:
        spelt = spelt.replace(letter, two)
    found = [compared(word), compared(spelt)]
    if len(found[0]) >= SPELT_FROM:
        short = found[0]
        for _, two in SPELT_OUT:
            short = short.replace(two, two[0])
        found.append(short)
    return found


def words_of(text: str) -> list[tuple[int, int, str]]:
    """The words of a text: (from, to, as it is `compared`)."""
    found, begin = [], -1
    for place in range(len(text) + 1):
        if place < len(text) and _is_word(text[place]):
            begin = place if begin < 0 else begin
        elif begin >= 0:
            word = compared(text[begin:place])
            if word:
                found.append((begin, place, word))
            begin = -1
    return found


def people_of(strip: Strip) -> list[str]:
    """Every name of a person that an entry holds, also of one that was struck or that is not understood, in order."""
    names = []
    for entry in in_order(list(strip.entries.values()), key_of):
        values = entry.get("values")
        values = values if isinstance(values, dict) else {}
        people = entry.get("people")
        for name in [entry.get("who"), values.get("for_whom")] + (people if isinstance(people, list) else []):
            if isinstance(name, str) and name.strip():
                names.append(name.strip())
    return names


def numbers_of(strip: Strip) -> list[str]:
    """Every number of a machine that an entry holds."""
    found = []
    for entry in strip.entries.values():
        values = entry.get("values")
        number = values.get("number") if isinstance(values, dict) and entry.get("type") == "machine" else None
        if isinstance(number, str) and number not in found:
            found.append(number)
    return found


class Discreet:
    """Texts as they may be told. `names` and `number` say what may be told with them; `language` is the page's."""

    def __init__(self, strip: Strip, names: bool, number: bool, language: Language = ENGLISH):
        self.names, self.number = names, number
        self._person, self._left_out = language.text(PERSON), language.text(NUMBER)
        self._numbers = [] if number else [_plain(each) for each in numbers_of(strip)]
        self._several: list[Any] = []
        self._single: dict[str, str] = {}
        self._held: list[Any] = []
        self._signs: list[Any] = []
        self._known: dict[str, str] = {}
        # What was found of a word once: which names of several words begin with its end, and what it holds.
        self._begins: dict[str, list[Any]] = {}
        self._alone: dict[str, str] = {}
        if not names:
            for name in people_of(strip):
                self._learn(name)

    def _learn(self, name: str) -> None:
        if alike(name) in self._known:
            return
        said = with_gaps(self._person, {"n": len(self._known) + 1})
        self._known[alike(name)] = said
        words = words_of(name)
        if not words:
            self._signs.append((name, said))
            return
        ways = [writings_of(name[begin:end]) for begin, end, _ in words]
        for n in range(max([len(each) for each in ways])):
            self._keep([each[min(n, len(each) - 1)] for each in ways], said)
        for (begin, end, word), each in zip(words, ways):
            written = name[begin:end]
            is_name = written[0] >= "\x80" or written[0] != written[0].lower()
            if len(words) > 1 and is_name and len(word) >= PART_OF_NAME_FROM:
                for way in each:
                    self._keep([way], said)

    def _keep(self, words: list[str], said: str) -> None:
        if words in [each[0] for each in self._several] or words[0] in self._single and len(words) == 1:
            return
        if len(words) > 1:
            # The longest first.
            at = len([each for each in self._several if len(each[0]) >= len(words)])
            self._several.insert(at, (words, said))
            return
        self._single[words[0]] = said
        if len(words[0]) >= HELD_FROM or any([character >= "\x80" for character in words[0]]):
            self._held.append((words[0], said))
        elif words[0] + "s" not in self._single:
            # The possessive of some languages.
            self._single[words[0] + "s"] = said

    def person(self, name: Any) -> str:
        """A person, by name or as the number that stands for it."""
        return str(name) if self.names else self._known.get(alike(str(name).strip()), self.text(name))

    def text(self, written: Any) -> str:
        """What a person wrote, without what may not be told."""
        text = str(written)
        if not self.number:
            text = self._without_numbers(text)
        if self.names:
            return text
        for sign, said in self._signs:
            text = text.replace(sign, said)
        words, found, done, place = words_of(text), [], 0, 0
        while place < len(words):
            taken, said = self._named(words, place)
            if taken:
                found += [text[done : words[place][0]], said]
                done = words[place + taken - 1][1]
            place += max(1, taken)
        return "".join(found + [text[done:]])

    def _named(self, words: list[Any], place: int) -> tuple[int, str]:
        """How many words from this one on are a name, and what is told for it."""
        word = words[place][2]
        if word not in self._alone:
            self._begins[word] = [each for each in self._several if word.endswith(each[0][0])]
            self._alone[word] = self._single.get(word) or self._within(word)
        for name, said in self._begins[word]:
            here = [each[2] for each in words[place : place + len(name)]]
            if len(here) == len(name) and here[1:-1] == name[1:-1] and here[-1].startswith(name[-1]):
                return (len(name), str(said))
        return (1, self._alone[word]) if self._alone[word] else (0, "")

    def _within(self, word: str) -> str:
        for held, said in self._held:
            if held in word:
                return str(said)
        return ""

    def _without_numbers(self, text: str) -> str:
        for number in self._numbers:
            if len(number) < NUMBER_FROM:
                continue
            at = [place for place in range(len(text)) if _is_letter(text[place])]
            plain, found, done = _plain(text), [], 0
            begin = plain.find(number)
            while begin >= 0:
                end = begin + len(number)
                found += [text[done : at[begin]], self._left_out]
                done = at[end - 1] + 1
                begin = plain.find(number, end)
            text = "".join(found + [text[done:]])
        if len([each for each in text if "0" <= each <= "9"]) < VIN_DIGITS:
            return text
        for begin, end, word in reversed(words_of(text)):
            digits = len([each for each in word if each in "0123456789"])
            if len(word) == VIN_CHARACTERS and digits >= VIN_DIGITS:
                text = text[:begin] + self._left_out + text[end:]
        return text


def _plain(text: str) -> str:
    """Its letters and digits alone, as capitals where that is one letter too."""
    return "".join([each.upper() if len(each.upper()) == 1 else each for each in text if _is_letter(each)])
