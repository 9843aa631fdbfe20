"""Copies to go back to: made by hand or daily by themselves, and put back by `cotterbook restore`."""

from .daily import DailyCopies
from .making import make_copy
from .restoring import restore

__all__ = ["DailyCopies", "make_copy", "restore"]
