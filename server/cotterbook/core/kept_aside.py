"""What is said where something may be open that this program cannot read: entries that are kept aside and passed on."""

from typing import Any

from .strip import Strip
from .words import say

NOT_ALL = "Entries that a newer version wrote, or that can’t be read here: {n}. More may be open than is shown."


def not_all_read(strip: Strip) -> Any:
    """The sentence that a list of what is open is not the whole of it, or None where every entry was read."""
    n = len(strip.not_understood)
    return None if n == 0 else say(NOT_ALL, n=n)
