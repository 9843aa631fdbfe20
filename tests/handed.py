"""Languages as the pages hand them to the core for a file: those of the project, and one whose every text is marked."""

import re
from typing import Any

from web.texts import ROOT, table, texts

LABEL = re.compile(r'(?:"([\w./]+)"|(\w+)): "((?:[^"\\]|\\.)*)"')
DECIMAL = {"de": ",", "es": ",", "hi": "."}


def _labels() -> dict[str, str]:
    source = (ROOT / "webui" / "labels.js").read_text(encoding="utf-8").partition("LABELS = {")[2]
    return {quoted or plain: words for quoted, plain, words in LABEL.findall(source)}


def handed(code: str) -> dict[str, Any]:
    """A language of the project."""
    words = table(code)
    labels = {name: words.get(english, english) for name, english in _labels().items()}
    return {"code": code, "decimal": DECIMAL[code], "texts": words, "labels": labels, "fields": {}}


def marked() -> dict[str, Any]:
    """A language that puts each text and label into ⟦brackets⟧: what has none was never asked of it."""
    labels = {name: f"⟦{english}⟧" for name, english in _labels().items()}
    return {"code": "qaa", "decimal": ",", "texts": {text: f"⟦{text}⟧" for text in texts()}, "labels": labels,
            "fields": {}}


def unmarked(text: str) -> str:
    """What of a text of `marked` stands outside all brackets."""
    while re.search("⟦[^⟦⟧]*⟧", text):
        text = re.sub("⟦[^⟦⟧]*⟧", " ", text)
    return text
