"""The second look at fasteners: who may give it, how many have it, and what was found.

After 14 CFR 121.371 and its kind, for work on aircraft: whoever did a piece of work that another has to inspect is not
the one who inspects it. Here another person looks at what is tight and marked wherever a life hangs on it.
"""

from typing import Any

from .letters_alike import alike

# Signs as keyboards put them, each beside the one it counts as: apostrophes, hyphens, and blanks, of which a full stop
# is one, since two blanks typed on a phone make one; what nobody sees counts as nothing.
SIGNS = {
    "'": "\u2018\u2019\u201b\u02bb\u02bc\u2032`\u00b4",
    "-": "\u2010\u2011\u2012\u2013\u2014\u2212\ufe63\uff0d",
    " ": ".\t\n\r\u00a0\u2002\u2003\u2007\u2008\u2009\u200a\u202f\u3000",
    "": "\u00ad\u200b\u200c\u200d\u200e\u200f\u2060\ufeff",
}
_SIGN = {sign: plain for plain, signs in SIGNS.items() for sign in signs}


def same_name(name: Any) -> str:
    """A person's name by which it is compared: without case, however accents and signs were typed, or blanks."""
    plain = "".join([_SIGN.get(letter, letter) for letter in alike(str(name or ""))])
    return " ".join([word for word in plain.split(" ") if word])


class SecondCheck:
    """What stands of second looks at the fasteners of one group that are on now.

    `checked` is how many another person found right; `last` the entry of the last look that still says something;
    `own` whether that one is by somebody who had worked on them, and so counts for nothing; `waived` the entry by which
    the owner does without, which a finding of "not right" ends; `blind` what `apart` notes of a look that
    did not know of work on them. `workers` are those who tightened or marked them.
    """

    def __init__(self) -> None:
        self.checked = 0
        self.last: Any = None
        self.own = False
        self.waived: Any = None
        self.blind: Any = None
        # Names as they were written, by what they are compared by.
        self._workers: dict[str, str] = {}

    def worked(self, who: Any) -> None:
        """Somebody tightened or marked some of them."""
        self._workers.setdefault(same_name(who), str(who or "").strip())

    def begun_anew(self, but: Any = ()) -> None:
        """Nobody's work is on them any more, but that of whoever wrote these entries."""
        names = [same_name(entry["who"]) for entry in but]
        self._workers = {name: self._workers[name] for name in self._workers if name in names}

    def has_worked(self, who: Any) -> bool:
        """Whether this person tightened or marked any of them."""
        return same_name(who) in self._workers

    @property
    def workers(self) -> list[str]:
        """Who tightened or marked any of them, in fixed order."""
        return [self._workers[name] for name in sorted(self._workers)]

    def look(self, entry: dict[str, Any], most: int, same: int = 0) -> None:
        """A look that found them right, of which at most so many can have it; `same` were looked at already."""
        own = self.has_worked(entry["who"])
        if self.checked >= most and (own or not self.checked):
            # There is nothing marked to look at, or another person did already.
            return
        self.last, self.own = entry, own
        if not own:
            self.blind = None
            self.checked = min(most, self.checked + entry["count"] - same)

    def not_right(self, entry: dict[str, Any]) -> None:
        """A look that found some of them not right; how many are no longer checked says the ledger."""
        self.last, self.own, self.waived = entry, False, None

    def lose(self, count: int, most: int) -> None:
        """So many were loosened, taken out, tightened or marked again: nobody has looked at them as they are now."""
        self.checked = min(most, max(0, self.checked - count))
        if count and not self.checked and self.last is not None and self.last["found"] == "right":
            self.last, self.own = None, False
