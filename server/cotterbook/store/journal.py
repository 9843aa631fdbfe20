"""The file of one strip-down: lines of JSON that are only ever added, each with its checksum.

The first line names the format; every other line is one entry with its number.
A line is '{"crc32":"xxxxxxxx",' followed by the rest, and the checksum is over
the rest, so that each line is plain JSON and can be checked as bytes.

What `parse` makes of a file that is not as it was written:
- a last line that only lacks the mark of its end, or has another there, is whole
  by its checksum; it is read, and gets its mark.
- any other last line without its end is a write that a crash cut short. Nobody was
  told that it was kept; it is dropped and reported.
- any other line that does not match its checksum is damage. It stays where it
  is, everything else is read, and it is reported.
- a line of another strip-down than the file's name says, as where one file was
  copied or moved over another, counts as damage too; nothing of it is read as of
  this one, no number of it counts, and the store takes it over into the other's.
"""

import json
import zlib
from collections import Counter
from pathlib import Path
from typing import Any, NamedTuple

from ..core.words import say
from ..errors import Problem

FORMAT = "cotterbook journal"
VERSION = 1
FRONT = b'{"crc32":"%08x",'
FRONT_LENGTH = len(FRONT % 0)
# No line that holds an entry is shorter: damaged bytes divided by it is the most numbers they can have used.
SHORTEST_LINE = 100
CUT_SHORT = (
    "{file}: the last write was cut short and is dropped ({count} bytes). The phone that sent it still has it and sends"
    " it again.")
WRITTEN_ANEW = (
    "{file}: the disk can't read all of it any more. What it can is written anew under that name, and the file as it"
    " was is kept beside it as {aside}.")
OF_ANOTHER = (
    "{file}: lines that belong to another strip-down, {strip}, and not to the one that the file’s name says: {count}."
    " They are left as they are. When it starts, Cotterbook takes over into {strip}.jsonl what is not there. Afterwards"
    " cotterbook backup, and cotterbook restore of that copy, leave a file without them.")
NOT_TAKEN_OVER = (
    "{file}: entries of another strip-down, {strip}, that could not be taken over into its file: {count}. That one has"
    " others by the same identifiers, it is full, or the disk is. Keep {file}; when there is room start Cotterbook"
    " again.")
# What was done about it when the file was opened, and is no trouble any more.
SETTLED = (CUT_SHORT, WRITTEN_ANEW)


class Journal(NamedTuple):
    """What a file holds: its documents by number, the length that is whole, and what was found wrong. `others` are
    documents that belong to other strip-downs, by these.

    The last of that length is the mark of a line's end, which `unended` says is still to be written there.
    """

    documents: dict[int, dict[str, Any]]
    length: int
    next_number: int
    damaged_lines: int
    unended: bool
    reports: list[dict[str, Any]]
    others: dict[str, list[dict[str, Any]]]


def line(record: dict[str, Any]) -> bytes:
    """One record as a line of the file."""
    rest = json.dumps(record, ensure_ascii=False, separators=(",", ":")).encode()[1:]
    return FRONT % zlib.crc32(rest) + rest + b"\n"


def header(strip: str) -> bytes:
    """The first line of the file of this strip-down."""
    return line({"format": FORMAT, "version": VERSION, "strip": strip})


def entry_lines(documents: dict[int, dict[str, Any]]) -> bytes:
    """The lines of numbered documents."""
    return b"".join(line({"number": number, "entry": document}) for number, document in documents.items())


def record_of(text: bytes) -> dict[str, Any] | None:
    """The record of a line without its end, or None if it is not as it was written."""
    rest = text[FRONT_LENGTH:]
    if text[:FRONT_LENGTH] != FRONT % zlib.crc32(rest):
        return None
    try:
        record = json.loads(b"{" + rest)
    except ValueError:
        return None
    return record if isinstance(record, dict) else None


def parse(data: bytes, path: Path) -> Journal:
    """Read a journal's bytes. Raises Problem "newer_format" if a later version wrote them."""
    *lines, tail = data.split(b"\n")
    length = len(data) - len(tail)
    unended = next((text for text in (tail, tail[:-1]) if record_of(text) is not None), None)
    if unended is not None:
        lines, tail, length = [*lines, unended], b"", length + len(unended) + 1
    documents: dict[int, dict[str, Any]] = {}
    next_number, damaged_lines, damaged_at_end = 1, 0, 0
    count_of_others: Counter[str] = Counter()
    others: dict[str, list[dict[str, Any]]] = {}
    for position, text in enumerate(lines):
        record = record_of(text)
        if record is not None and "version" in record:
            _check_version(record, path)
        strip = _strip_of(record)
        if strip not in (None, path.stem):
            count_of_others[str(strip)] += 1
            if record is not None and "entry" in record:
                others.setdefault(str(strip), []).append(record["entry"])
            continue
        if record is not None and "version" in record:
            pass
        elif record is not None and ("entry" not in record or record["number"] in documents):
            record = None  # whole, but no line of ours: a number is given once
        elif record is not None:
            documents[record["number"]] = record["entry"]
            next_number, damaged_at_end = max(next_number, record["number"] + 1), 0
        if record is None or (position == 0) != ("version" in record):
            damaged_lines, damaged_at_end = damaged_lines + 1, damaged_at_end + len(text) + SHORTEST_LINE
    reports = []
    if tail:
        reports.append(say(CUT_SHORT, file=path.name, count=len(tail)))
    if damaged_lines:
        next_number += damaged_at_end // SHORTEST_LINE
        reports.append(say(
            "{file}: lines that are damaged and cannot be read: {count}. They are left as they are; the other {whole}"
            " entries are read. Phones that hold them send them again. For the others take in the newest daily copies:"
            " cotterbook import FILE. Afterwards cotterbook backup, and cotterbook restore of that copy, leave a file"
            " without damage.",
            file=path.name, count=damaged_lines, whole=len(documents)))
    for strip, count in sorted(count_of_others.items()):
        reports.append(say(OF_ANOTHER, file=path.name, strip=strip, count=count))
    damaged_lines += count_of_others.total()
    return Journal(documents, length, next_number, damaged_lines, unended is not None, reports, others)


def _strip_of(record: dict[str, Any] | None) -> Any:
    """The strip-down that a line says it belongs to; None where it says none."""
    entry = record.get("entry", record) if record else None
    return entry.get("strip") if isinstance(entry, dict) else None


def _check_version(record: dict[str, Any], path: Path) -> None:
    if record["format"] != FORMAT or record["version"] != VERSION:
        raise Problem("newer_format", file=path.name)
