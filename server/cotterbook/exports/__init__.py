"""One strip-down as tables for spreadsheets and other programs: CSV, XLSX and JSON. The tables are the core's."""

from .files import NAMES, write_export
from .folder import write_tables
from .folding import folded

__all__ = ["NAMES", "folded", "write_export", "write_tables"]
