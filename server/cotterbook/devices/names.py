"""What a device may be called: any writing that shows as what it is."""

import unicodedata
from typing import Any

from ..errors import Problem
from .records import NAME_LENGTH

# Unicode's general categories: control characters, surrogates, line and paragraph separators.
REFUSED_CATEGORIES = ("Cc", "Cs", "Zl", "Zp")
# With format characters and blanks: a name of these alone would show nothing.
UNSEEN_CATEGORIES = (*REFUSED_CATEGORIES, "Cf", "Zs")
# Fillers of Hangul and the blank of Braille: letters and signs to Unicode, and nothing to the eye.
UNSEEN_CHARACTERS = frozenset("\u115f\u1160\u2800\u3164\uffa0")
# Embeddings, overrides and isolates (Unicode Standard Annex 9, table 4): they reach past the name they stand in.
DIRECTION_CHARACTERS = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def checked_name(name: Any) -> str:
    """A device's name, without blanks around it. Raises Problem "bad_name" or "bad_name_character".

    Blanks and joiners that writing needs (Persian, Hindi, French, joined signs) are letters like others.
    """
    text = name.strip() if isinstance(name, str) else ""
    categories = [unicodedata.category(character) for character in text]
    if len(text) > NAME_LENGTH or not any(map(_shows, text)):
        raise Problem("bad_name", limit=NAME_LENGTH)
    for character, category in zip(text, categories, strict=True):
        if category in REFUSED_CATEGORIES or character in DIRECTION_CHARACTERS:
            raise Problem("bad_name_character", character=f"U+{ord(character):04X}")
    return text


def _shows(character: str) -> bool:
    return unicodedata.category(character) not in UNSEEN_CATEGORIES and character not in UNSEEN_CHARACTERS
