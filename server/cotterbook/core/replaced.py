"""Fasteners that are new each time: which they are, how many on the machine are new, and which were used again.

Cotter pins and safety wire are new upon each application (MS33540J). Of self-locking nuts two published rules differ:
TB 43-0218 wants new ones, AC 43.13-1B (table 7-2) lets them be used again while their prevailing torque holds, so it is
the shop's policy. Crush washers, bolts tightened by angle and circlips: common practice, no source. The machine's
manual comes before all of these.
"""

from typing import Any

from .find_words import fold_kept
from .ordinary_masses import words_of
from .strip import Strip
from .thing import Thing
from .words import say

MAY_BE_USED_AGAIN = "may_be_used_again"
# What words say of which kind, of a thing without a thread.
BY_WORDS = (
    ("cotter_pin", (("cotter",), ("split", "pin"))),
    ("safety_wire", (("safety", "wire"), ("locking", "wire"), ("lockwire",), ("lock", "wire"))),
    ("crush_washer", (("crush", "washer"), ("sealing", "washer"), ("copper", "washer"))),
    ("circlip", (("circlip",), ("snap", "ring"), ("retaining", "ring"))),
)
STRETCHED = (("stretch", "bolt"), ("torque", "to", "yield"))
SELF_LOCKING = (("self", "locking"), ("selflocking",), ("prevailing",))
# The same in German, Spanish and Hindi, as `fold` writes it; a word that goes on is the same one. Common practice, no
# source.
BY_OTHER_WORDS = (
    ("cotter_pin", ("splint", "pasador de aleta", "pasador abierto", "कॉटर पिन", "स्प्लिट पिन")),
    ("safety_wire", ("sicherungsdraht", "alambre de seguridad", "alambre de freno", "लॉक वायर", "सेफ़्टी वायर")),
    ("crush_washer", ("quetschring", "kupferring", "kupferscheibe", "kupferdichtring", "arandela de cobre",
                      "arandela de aplastamiento", "क्रश वॉशर", "कॉपर वॉशर", "तांबे का वॉशर", "ताँबे का वॉशर")),
    ("circlip", ("sicherungsring", "sprengring", "anillo de retencion", "anillo elastico", "सर्कलिप", "स्नैप रिंग")),
)  # fmt: skip
STRETCHED_TOO = ("dehnschraube", "dehnbolzen", "tornillo de estiramiento", "tornillo elastico", "स्ट्रेच बोल्ट")
SELF_LOCKING_TOO = ("selbstsichernd", "stoppmutter", "autoblocante", "autofrenante", "सेल्फ़ लॉकिंग", "सेल्फ लॉकिंग")
_folded: dict[tuple[str, ...], list[list[str]]] = {}
WITHOUT_THREAD = (None, "clip", "rivet", "pin", "other")
BASIS = {
    "cotter_pin": "New at each application (MS33540J).",
    "safety_wire": "New at each application (MS33540J).",
    "self_locking_nut": (
        "The shop’s policy: new each time (TB 43-0218), or again while they drag (AC 43.13-1B, table 7-2)."
    ),
    "crush_washer": "New each time: common practice, no source. The manual comes first.",
    "stretch_bolt": "New each time: common practice, no source. The manual comes first.",
    "circlip": "New each time: common practice, no source. The manual comes first.",
    "other": "New each time, as was written down.",
}


def suggested_kind(part: dict[str, Any], group: dict[str, Any]) -> Any:
    """Which kind that is new each time a group of a part with these values is by its head, its torque and its names."""
    words = words_of(part.get("name")) + ["|"] + words_of(group.get("sits")) + ["|"] + words_of(group.get("note"))
    if not group.get("thread") and group.get("head") in WITHOUT_THREAD:
        found = [kind for kind, phrases in BY_WORDS if any([_has(words, phrase) for phrase in phrases])]
        found += [kind for kind, begins in BY_OTHER_WORDS if _begins(begins, part.get("name"), group)]
        return found[0] if found else None
    own = words[words.index("|") :]
    if group.get("head") == "nut":
        drags = group.get("prevailing_newton_metres") or any([_has(own, phrase) for phrase in SELF_LOCKING])
        drags = drags or _begins(SELF_LOCKING_TOO, None, group)
        return "self_locking_nut" if drags else None
    if group.get("torque_angle_degrees") or any([_has(own, phrase) for phrase in STRETCHED]):
        return "stretch_bolt"
    return "stretch_bolt" if _begins(STRETCHED_TOO, None, group) else None


def _begins(words: tuple[str, ...], name: Any, group: dict[str, Any]) -> bool:
    """Whether words of another language begin words of the name, or of what is written of the group, as they follow."""
    texts = [fold_kept(text).split() for text in (name, group.get("sits"), group.get("note")) if text]
    if words not in _folded:
        _folded[words] = [fold_kept(each).split() for each in words]
    return any([_follow(phrase, text) for phrase in _folded[words] for text in texts])


def _follow(phrase: list[str], text: list[str]) -> bool:
    for at in range(len(text) - len(phrase) + 1):
        if all([text[at + n].startswith(phrase[n]) for n in range(len(phrase))]):
            return True
    return False


def _has(words: list[str], phrase: tuple[str, ...]) -> bool:
    size = len(phrase)
    return any([tuple(words[at : at + size]) == phrase for at in range(len(words) - size + 1)])


def new_each_time(strip: Strip, group: Thing) -> Any:
    """{"kind", "suggested": nobody wrote it down, "basis": a sentence} of a group that is new each time, or None."""
    part = strip.thing(group.values.get("part") or "")
    said = group.values.get("replace_each_time")
    kind = said or suggested_kind({} if part is None else part.values, group.values)
    if kind is None or kind == MAY_BE_USED_AGAIN:
        return None
    if kind == "self_locking_nut" and policy(strip) == "while_they_drag":
        return None
    return {"kind": kind, "suggested": said is None, "basis": say(BASIS[kind])}


def policy(strip: Strip) -> str:
    """What the shop does with self-locking nuts; where nobody said, the stricter of the two published rules."""
    own = strip.thing(strip.id)
    return str((None if own is None else own.values.get("self_locking_nuts")) or "new_each_time")


class NewOnes:
    """Of a group: how many are new, and where; of those put in, how many are new and how many were used before.

    `in_place` counts new ones by (place, bag). On the machine `new` came from stock, `reasoned` were used before and
    somebody said why, `used` were used before and nobody did: those of the moves `used_by`, in order. `last_reason` is
    the last move with a reason.
    Which leaves a place nobody writes down: new ones are taken to be put in first, and, as the ledger has it, to be
    the first that come out again, so that what stays is the doubtful.
    """

    def __init__(self, moves: list[dict[str, Any]]):
        self.in_place: dict[tuple[str, str], int] = {}
        self.new = self.reasoned = self.used = 0
        self.used_by: list[dict[str, Any]] = []
        self.last_reason: Any = None
        for move in moves:
            self._take(move)

    def _take(self, move: dict[str, Any]) -> None:
        source, target = (move["from"], move.get("from_bag") or ""), (move["to"], move.get("to_bag") or "")
        new = self.new_of(source, move["count"])
        if source[0] == "machine":
            self._out(move["count"])
        elif source[0] != "stock":
            self.in_place[source] = self.in_place.get(source, 0) - new
        if target[0] != "machine":
            self.in_place[target] = self.in_place.get(target, 0) + new
            return
        used = move["count"] - new
        self.new += new
        if used and move.get("used_again_why"):
            self.reasoned += used
            self.last_reason = move
        elif used:
            self.used += used
            self.used_by.append(move)

    def new_of(self, source: tuple[str, str], count: int) -> int:
        """How many of so many out of a place are new."""
        if source[0] == "stock":
            return count
        return 0 if source[0] == "machine" else min(count, self.in_place.get(source, 0))

    def _out(self, count: int) -> None:
        from_new = min(self.new, count)
        from_reasoned = min(self.reasoned, count - from_new)
        self.new -= from_new
        self.reasoned -= from_reasoned
        self.used = max(0, self.used - (count - from_new - from_reasoned))

    def at_hand(self) -> int:
        """How many new ones lie in bags and spares."""
        return sum([self.in_place[place] for place in self.in_place if place[0] in ("bag", "spares")])


def new_ones(group: Thing) -> NewOnes:
    """What is new of a group's fasteners."""
    return NewOnes(group.of_kind("move"))
