"""What lies where in a bundle.

manifest.json            the format, its version, and the length and SHA-256 of every other file
entries/STRIP.jsonl      the entries of one strip-down, a JSON object a line
photos/SHA256.jpg        each picture under the SHA-256 of its bytes

A bundle is a plain zip file (PKWARE's APPNOTE 6.3), so that its data can be had without this program.
"""

import re

from ..core.limits import ENTRIES_A_STRIP, ENTRY_BYTES, PHOTO_BYTES_KEPT

FORMAT = "cotterbook bundle"
VERSION = 1
MANIFEST = "manifest.json"
ENTRIES = re.compile(r"entries/([0-9a-f-]{36})\.jsonl")
PHOTO = re.compile(r"photos/([0-9a-f]{64})\.jpg")
# Whatever is beyond these was not made by this program.
FILES = 100_000
MANIFEST_BYTES = 25_000_000
BYTES = 64_000_000_000
ENTRIES_BYTES = ENTRIES_A_STRIP * ENTRY_BYTES
# Entries pack to a tenth or so; a thousandth is a file made to burst.
TIMES_PACKED = 100


def entries_name(strip: str) -> str:
    """The file of a strip-down's entries."""
    return f"entries/{strip}.jsonl"


def photo_name(sha256: str) -> str:
    """The file of a picture."""
    return f"photos/{sha256}.jpg"


def most_bytes(name: str) -> int:
    """How long the file of this name may be; 0 for a name that no bundle has."""
    if name == MANIFEST:
        return MANIFEST_BYTES
    if ENTRIES.fullmatch(name):
        return ENTRIES_BYTES
    return PHOTO_BYTES_KEPT if PHOTO.fullmatch(name) else 0
