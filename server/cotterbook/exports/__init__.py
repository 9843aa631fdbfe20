"""One strip-down as tables for spreadsheets and other programs (CSV, XLSX and JSON), and as a page to send (HTML).

The tables and the page are the core's.
"""

from .files import NAMES, write_export
from .folder import write_tables
from .folding import folded
from .share import SHARE, write_share_file

__all__ = ["NAMES", "SHARE", "folded", "write_export", "write_share_file", "write_tables"]
