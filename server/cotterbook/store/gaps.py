"""What a store had and has no more, kept beside its identity until it is back or an owner gives it up.

Numbers say nothing about whether entries are back: what is written since is given the lost ones anew. What tells is a
phone that had read as far as the gap goes, so that it holds all of it, and that has nothing unsent under the identity
that is now; with it the last of the lost entries must be there.
"""

import contextlib
import json
import time
import zlib
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import Any, NamedTuple

from ..core.limits import STRIPS
from ..core.values import is_id
from ..core.words import say

GONE = (
    "Entries that the PC had are gone from it, of strip-downs: {count}, among them {strips}. Its data are older than"
    " they were, or a part of them is gone. Every phone sends once more what it holds. For what no phone has take in"
    " daily copies from before {day}: {how}. Until all of it is back, or an owner says that no more will come, no daily"
    " copy is let go.")
HOW_IN_FOLDER = "stop Cotterbook, then cotterbook import FILE"
HOW_IN_DATABASE = "cotterbook import FILE --store URL"
SPOILED_NOTE = (
    "What was noted of entries that are gone from the PC can no longer be read: the disk spoiled that note. Let every"
    " phone of the shop send, and look through the daily copies for what is missing. Until an owner says that no more"
    " will come, no daily copy is let go.")
LOOKS_ON = (
    "{name} may only look on, and knew of entries that the PC has no more; nobody has brought them since. If it still"
    " has them: make a file there (Sending, Carry by file) and take that in on a phone that writes, or on the PC; or"
    " let it write (Sending, Devices of this shop), and it sends them by itself.")
# By this the pages know what an owner may give up.
ABOUT = "gone"
NAMED_STRIPS, MOST_HOLDERS, NOTES_OF_A_LOOKER_ON = 3, 8, 8


class Gap(NamedTuple):
    """Entries of a strip-down that are gone, up to `number` by the numbers of the identity `of`.

    `id` is the entry under that number, "" where nobody told. `noticed_ms` is when somebody last learned more of it, in
    ms since 1970; `holders` are devices that had read as far.

    With `looker_on` it is no more than a note: that device, which brings nothing, knew of the entry `id`. It ends when
    that is there again, and holds up nothing.
    """

    of: str
    strip: str
    number: int
    id: str
    noticed_ms: int
    holders: tuple[str, ...] = ()
    looker_on: str = ""


Gaps = tuple[Gap, ...]
# What is known where a note of gaps is spoiled: something may be gone, of whatever strip-down; nothing but an owner's
# word ends that.
UNKNOWN = Gap("", "", 0, "", 1)
Change = Callable[[Gaps], Gaps]


def now_ms() -> int:
    """This computer's clock, in ms since 1970."""
    return time.time_ns() // 1_000_000


def gaps_in(text: str) -> Gaps:
    """The gaps that a text keeps, as `gaps_as_text` made it; `UNKNOWN` of one that is spoiled."""
    if not text.strip("\0 \r"):
        return ()
    # Older programs wrote no checksum.
    checksum, _, kept = ("", "", text) if text.startswith("[") else text.partition(" ")
    with contextlib.suppress(ValueError, TypeError, KeyError):
        if checksum in ("", _checksum(kept)):
            return tuple(_gap_of(each) for each in json.loads(kept))
    return (UNKNOWN,)


def _checksum(text: str) -> str:
    return f"{zlib.crc32(text.encode('utf-8', 'replace')):08x}"


def _gap_of(kept: dict[str, Any]) -> Gap:
    gap = Gap(**{**kept, "holders": tuple(map(str, kept["holders"]))})
    if gap.strip and not is_id(gap.strip) or not isinstance(gap.number, int) or not isinstance(gap.noticed_ms, int):
        raise ValueError("no gap")
    return gap


def gaps_as_text(gaps: Gaps) -> str:
    """One line of ASCII with its checksum, empty where there are none."""
    kept = json.dumps([each._asdict() for each in gaps], separators=(",", ":"))
    return f"{_checksum(kept)} {kept}" if gaps else ""


def with_gap(gaps: Gaps, gap: Gap) -> Gaps:
    """These gaps with one more; where it is there already it reaches as far as the further one, and who holds the less
    of the two does not hold all of it, nor who knew another entry by the number of it. No more are kept than there may
    be strip-downs.
    """
    key = (gap.of, gap.strip, gap.looker_on)
    known = next((each for each in gaps if (each.of, each.strip, each.looker_on) == key), None)
    if known is None:
        alike = sum(each.looker_on == gap.looker_on for each in gaps)
        return (*gaps, gap) if alike < (NOTES_OF_A_LOOKER_ON if gap.looker_on else STRIPS) else gaps
    if gap.looker_on:
        return gaps  # whatever it makes up, a note is written once
    if gap.number < known.number or gap.number == known.number and "" not in (known.id, gap.id) and known.id != gap.id:
        return gaps
    if gap.number > known.number:
        return tuple(gap if each is known else each for each in gaps)
    holders = (*known.holders, *(each for each in gap.holders if each not in known.holders))[:MOST_HOLDERS]
    same = known._replace(id=known.id or gap.id, holders=holders)
    return tuple(same if each is known else each for each in gaps)


def without_those_back(gaps: Gaps, device: str, places: Mapping[str, tuple[str, int]]) -> Gaps:
    """These gaps without those that `device` has filled: it held all of each, and says that it has nothing unsent.

    `places` is where their last entries are now.
    """
    return tuple(
        each for each in gaps if device not in each.holders or places.get(each.id, ("", 0))[0] != each.strip)


def are_lost(gaps: Gaps) -> bool:
    """Whether entries are gone that older copies may hold."""
    return not all(each.looker_on for each in gaps)


def without_notes_settled(gaps: Gaps, places: Mapping[str, tuple[str, int]]) -> Gaps:
    """These gaps without the notes of lookers-on whose entry is there again. `places` is where entries are now."""
    return tuple(each for each in gaps if not each.looker_on or places.get(each.id, ("", 0))[0] != each.strip)


def merged(gaps: Gaps, more: Sequence[Gap]) -> Gaps:
    """These gaps with those of another store whose data are taken over."""
    for each in more:
        gaps = with_gap(gaps, each)
    return gaps


def told_of(gaps: Gaps, names: Mapping[str, str], in_folder: bool) -> list[dict[str, Any]]:
    """What an owner is told of them, as sentences; each says by `about` and `noticed_ms` what giving up is to name.

    `names` is what the list of devices calls each of them, by identifier. `in_folder` says whether the data are files,
    which belong to one program at a time.
    """
    if not gaps:
        return []
    said = []
    if UNKNOWN in gaps:
        said.append(say(SPOILED_NOTE))
    if lost := [each for each in gaps if not each.looker_on and each != UNKNOWN]:
        strips = sorted({each.strip for each in lost})
        day = datetime.fromtimestamp(min(each.noticed_ms for each in lost) / 1000)
        how = say(HOW_IN_FOLDER if in_folder else HOW_IN_DATABASE)
        said.append(say(GONE, count=len(strips), strips=strips[:NAMED_STRIPS], day=f"{day:%Y-%m-%d}", how=how))
    for device in sorted({each.looker_on for each in gaps} - {""}):
        said.append(say(LOOKS_ON, name=names.get(device) or say("A device that is on the list no more")))
    noticed_ms = max(each.noticed_ms for each in gaps)
    return [{**each, "about": ABOUT, "noticed_ms": noticed_ms} for each in said]
