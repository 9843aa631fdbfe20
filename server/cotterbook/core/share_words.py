"""What stands on the page to send, as HTML: texts and sentences without what may not be told, each escaped."""

from typing import Any

from .share_html import escaped, figure
from .share_names import Discreet
from .spreadsheet import moment
from .words import label_words, spoken

# So that a text from right to left within a sentence leaves the rest of it in its place (UAX #9, 2.5).
ISOLATED, UNTIL = "\u2068", "\u2069"
# What would end that before its end, or turn what comes after.
TURNS = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"


class Told:
    """How this page tells things; `options` as in `share_page.OPTIONS`."""

    def __init__(self, discreet: Discreet, options: dict[str, bool]):
        self.discreet, self.options = discreet, options

    def text(self, text: Any) -> str:
        """What a person wrote."""
        return "<bdi>" + escaped(self.discreet.text(text)) + "</bdi>" if text else ""

    def sentence(self, sentence: dict[str, Any]) -> str:
        """A sentence of the core, its gaps without what may not be told."""
        return escaped(self._spoken(sentence))

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

    def _spoken(self, sentence: dict[str, Any]) -> str:
        values = {name: self._gap(value) for name, value in sentence["values"].items()}
        return spoken({"text": sentence["text"], "values": values})

    def _gap(self, value: Any) -> Any:
        if isinstance(value, list):
            return ", ".join([str(self._gap(each)) for each in value])
        if isinstance(value, str):
            return ISOLATED + _without_turns(self.discreet.text(value)) + UNTIL
        if isinstance(value, dict) and "text" in value:
            return self._spoken(value)
        if isinstance(value, dict) and "label" in value:
            return label_words(value["label"])
        return figure(value) if isinstance(value, dict) and "unit" in value else value


def _without_turns(text: str) -> str:
    for sign in TURNS:
        text = text.replace(sign, "")
    return text
