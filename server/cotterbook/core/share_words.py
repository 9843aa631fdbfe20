"""What stands on the page to send, as HTML: texts and sentences without what may not be told, each escaped."""

from typing import Any

from .language import Language
from .share_html import escaped
from .share_names import Discreet
from .spreadsheet import moment
from .words import with_gaps

# So that a text from right to left within a sentence leaves the rest of it in its place (UAX #9, 2.5).
ISOLATED, UNTIL = "\u2068", "\u2069"
# What would end that before its end, or turn what comes after.
TURNS = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"


class Told:
    """How this page tells things; `options` as in `share_page.OPTIONS`."""

    def __init__(self, discreet: Discreet, options: dict[str, bool], language: Language):
        self.discreet, self.options, self.language = discreet, options, language

    def words(self, text: str, **gaps: Any) -> str:
        """A text of the program in the page's language; its gaps are filled with HTML, or with numbers."""
        return with_gaps(escaped(self.language.text(text)), gaps)

    def text(self, text: Any) -> str:
        """What a person wrote."""
        return "<bdi>" + escaped(self.discreet.text(text)) + "</bdi>" if text else ""

    def part(self, name: Any) -> str:
        """What a part is called."""
        return self.text(name) or self.words("Part without a name")

    def sentence(self, sentence: dict[str, Any]) -> str:
        """A sentence of the core, its gaps without what may not be told."""
        return escaped(self.language.sentence(sentence, self._in_a_gap))

    def code(self, code: Any) -> str:
        """A choice in words; nothing for none."""
        return escaped(self.language.label(code)) if code else ""

    def figure(self, shown: Any, signed: bool = False) -> str:
        """A figure with its uncertainty and unit, as of `Language.figure`."""
        return escaped(self.language.figure(shown, signed))

    def note(self, text: Any) -> str:
        """A note as a paragraph, where notes are told."""
        return '<p class="note">' + self.text(text) + "</p>\n" if text and self.options["notes"] else ""

    def by_and_when(self, who: Any, at_ms: Any) -> str:
        """Who did something, and when."""
        said = [] if who is None else ["<bdi>" + escaped(self.discreet.person(who)) + "</bdi>"]
        return ", ".join(said + ([] if at_ms is None else [moment(at_ms)[:16]]))

    def people(self, names: list[str]) -> str:
        """People one after the other, each once."""
        found, once = [], {}
        for name in names:
            if name not in once:
                once[name] = "<bdi>" + escaped(self.discreet.person(name)) + "</bdi>"
                if once[name] not in found:
                    found.append(once[name])
        return ", ".join(found)

    def _in_a_gap(self, text: str) -> str:
        return ISOLATED + _without_turns(self.discreet.text(text)) + UNTIL


def _without_turns(text: str) -> str:
    for sign in TURNS:
        text = text.replace(sign, "")
    return text
