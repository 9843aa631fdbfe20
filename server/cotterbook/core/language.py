"""Texts, choices and figures of a file in the language of whoever reads it, whose words come with what is asked for.

The pages hold the tables of languages (`webui/languages`) and the words of choices and fields; where they hand in none,
as the command line does not, all is English.
"""

from typing import Any

from .figures import plain_number
from .words import Refused, label_words, problem, say, with_gaps

# What English words there are where a choice's code, or a unit's, is no word.
ENGLISH_LABELS = {
    "both": say("both sides"), "document": say("from a document"), "no_specification": say("no specification"),
    "doubtful": say("doubtful, not proven"), "accepted": say("within the specification"),
    "refused": say("outside the specification"), "below": say("below the specification"),
    "above": say("above the specification"),
}  # fmt: skip
UNITS = {
    "N.m": "N·m", "kgf.m": "kgf·m", "lbf.ft": "lbf·ft", "lbf.in": "lbf·in", "kgf/cm2": "kgf/cm²", "one_click": "click",
    "one_turn": "turn", "one_step": "step", "one_degree": "degree", "percent": "%", "millimetres": "mm",
    "kilopascals": "kPa", "revolutions_per_minute": "rpm",
}  # fmt: skip
MINUS, NO_BREAK = "\u2212", "\u00a0"
DECIMAL_MARKS = (".", ",", "\u066b")
LONGEST_CODE = 35
# More than any text of the pages has in any language; a file may say a word in each of its rows.
LONGEST_WORDS = 2_000
# Of a figure within a sentence, as the pages show one.
DECIMALS = 6


def _as_it_is(text: str) -> str:
    return text


class Language:
    """A language by its `code` (BCP 47), the `decimal` mark of its figures, and its words by the English ones."""

    def __init__(self, code: str, decimal: str, texts: dict[str, str], labels: dict[str, str], fields: dict[str, str]):
        self.code, self.decimal, self.texts, self.labels, self.fields = code, decimal, texts, labels, fields

    def text(self, english: str) -> str:
        """The text of this language, its gaps as they are."""
        return self.texts.get(english, english)

    def label(self, code: Any) -> str:
        """The word for a choice's code, or a unit's."""
        if code in self.labels:
            return self.labels[code]
        own = ENGLISH_LABELS.get(code)
        return label_words(code) if own is None else self.text(own["text"])

    def field(self, name: Any) -> str:
        """What a field is called."""
        return self.fields[name] if name in self.fields else label_words(name)

    def number(self, figure: Any) -> str:
        """A figure with its sign and decimal mark; `figure` as text, or as a number."""
        return str(figure).replace("-", MINUS).replace(".", self.decimal)

    def figure(self, shown: Any, signed: bool = False) -> str:
        """A shown figure with its uncertainty and unit: "−3.42 ± 0.05 kg"; with its plus too where it is `signed`."""
        if shown is None:
            return self.text("not known")
        value = shown["value"]
        plus = "+" if signed and value[:1] != "-" and float(value) > 0.0 else ""
        spread = " ±" + NO_BREAK + self.number(shown["plus_minus"]) if shown.get("plus_minus") else ""
        return plus + self.number(value) + spread + (NO_BREAK + self.unit(shown["unit"]) if shown["unit"] else "")

    def unit(self, code: str) -> str:
        """A unit as it is read."""
        return self.labels[code] if code in self.labels else UNITS.get(code) or label_words(code)

    def sentence(self, sentence: dict[str, Any], told: Any = _as_it_is) -> str:
        """A sentence of the core with its gaps filled; `told` says what is told of each text that a person wrote."""
        values = {name: self._filled(value, told) for name, value in sentence["values"].items()}
        return with_gaps(self.text(sentence["text"]), values)

    def _filled(self, value: Any, told: Any) -> Any:
        if isinstance(value, list):
            return ", ".join([str(self._filled(each, told)) for each in value])
        if isinstance(value, str):
            return told(value)
        if isinstance(value, float):
            return self.number(plain_number(value, DECIMALS))
        if not isinstance(value, dict):
            return "" if value is None else value
        if "text" in value:
            return self.sentence(value, told)
        if "label" in value:
            return self.label(value["label"])
        return self.field(value["field"]) if "field" in value else self.figure(value)


ENGLISH = Language("en", ".", {}, {}, {})


def language_of(handed: Any) -> Language:
    """The language that was handed in: {"code", "decimal", "texts", "labels", "fields"}, or English for None.

    `texts` has this language's words by the English texts, `labels` by the codes of choices and units, `fields` by the
    names of fields. Raises Refused "no_language".
    """
    if handed is None:
        return ENGLISH
    if isinstance(handed, dict):
        code, decimal = str(handed.get("code")), handed.get("decimal")
        tables: list[Any] = [handed.get(name) for name in ("texts", "labels", "fields")]
        if 0 < len(code) <= LONGEST_CODE and decimal in DECIMAL_MARKS and all([_is_table(table) for table in tables]):
            return Language(code, decimal, tables[0], tables[1], tables[2])
    raise Refused([problem("no_language", "language", "This is no language that a file can be written in.")])


def _is_table(table: Any) -> bool:
    """Whether these are words, none longer than a text of the pages, and no half of a surrogate pair among them."""
    if not isinstance(table, dict) or not all([isinstance(words, str) for words in table.values()]):
        return False
    try:
        "".join(table.values()).encode()
    except UnicodeError:
        return False
    return all([len(words) <= LONGEST_WORDS for words in table.values()])
