"""Two phones that write one strip-down's log: their clocks, their ids, and what each has seen."""

import random
import uuid
from typing import Any

from cotterbook.core import entries as rules
from cotterbook.core import limits

Entry = dict[str, Any]


class Log:
    """The whole log, the demo's own clock and the two phones.

    Nothing here reads the computer's clock or its randomness, so the same seed
    gives the same log, byte for byte.
    """

    def __init__(self, seed: int, pictures: dict[str, Entry]) -> None:
        self.random = random.Random(seed)
        self.pictures = pictures
        self.now_ms = limits.CLOCK_LOW_MS
        self.entries: list[Entry] = []
        self.ids: dict[str, str] = {}
        self.phones: list[Phone] = []
        self.in_contact = True

    def new_id(self, clock_ms: int) -> str:
        """A UUID of version 7 (RFC 9562, 5.7) from the given clock and the seed."""
        value = clock_ms << 80 | 7 << 76 | self.random.getrandbits(12) << 64
        return str(uuid.UUID(int=value | 2 << 62 | self.random.getrandbits(62)))

    def id(self, key: str) -> str:
        """The id of a thing by the scenario's short name for it."""
        return self.ids[key]

    def start_day(self, clock_ms: int) -> None:
        self.now_ms = clock_ms

    def share(self) -> None:
        """Every phone sees what the others wrote, unless they are out of contact."""
        if self.in_contact:
            for phone in self.phones:
                phone.receive(self.entries)


class Phone:
    """One phone and the person who holds it."""

    def __init__(self, log: Log, who: str, behind_ms: int) -> None:
        self.log, self.who, self.behind_ms = log, who, behind_ms
        self.device = ""
        self.last_at = 0
        self.seen = 0
        self.heads: dict[tuple[str, str], list[str]] = {}
        log.phones.append(self)

    @property
    def clock_ms(self) -> int:
        return self.log.now_ms - self.behind_ms

    def pause(self, seconds: int = 0) -> None:
        """Time passes with the hands on the machine."""
        self.log.now_ms += (seconds or self.log.random.randint(35, 150)) * 1000 + self.log.random.randint(0, 999)

    def name(self, key: str) -> str:
        """A new id for a thing, kept under the scenario's short name."""
        if key in self.log.ids:
            raise ValueError(f"{key} is named twice")
        self.log.ids[key] = self.log.new_id(self.clock_ms)
        return self.log.ids[key]

    def write(self, kind: str, **fields: Any) -> str:
        """One entry, checked by the rules that phone and PC use; gives its id."""
        self.log.now_ms += 1
        self.last_at = max(self.last_at + 1, self.clock_ms)
        entry = {
            "id": self.log.new_id(self.clock_ms), "strip": self.log.id("strip"), "kind": kind,
            "at": self.last_at, "by": self.device, "who": self.who,
        } | fields
        problems = rules.check(entry)
        if problems:
            raise ValueError(f"{entry} breaks a rule: {problems}")
        self.log.entries.append(entry)
        if kind == "set":
            self._see(entry)
        return entry["id"]

    def set(self, key: str, type: str, /, **values: Any) -> str:
        """Set fields of a thing; says which entries' values this phone had on its screen."""
        thing = self.log.id(key)
        saw = {name: heads for name in values if (heads := self.heads.get((thing, name)))}
        fields: Entry = {"thing": thing, "type": type, "values": values}
        return self.write("set", **fields | ({"saw": saw} if saw else {}))

    def values(self, key: str) -> Entry:
        """The fields of a thing as the log has them last."""
        thing, found = self.log.id(key), {}
        for entry in self.log.entries:
            if entry["kind"] == "set" and entry["thing"] == thing:
                found.update(entry["values"])
        return found

    def receive(self, entries: list[Entry]) -> None:
        for entry in entries[self.seen:]:
            self.last_at = max(self.last_at, entry["at"])
            if entry["kind"] == "set" and entry["by"] != self.device:
                self._see(entry)
        self.seen = len(entries)

    def _see(self, entry: Entry) -> None:
        saw = entry.get("saw", {})
        for name in entry["values"]:
            heads = self.heads.setdefault((entry["thing"], name), [])
            self.heads[entry["thing"], name] = [h for h in heads if h not in saw.get(name, ())] + [entry["id"]]
