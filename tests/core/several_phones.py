"""Several phones in core alone, each with its own log until they meet."""

import json
from typing import Any

from cotterbook.core import phone
from cotterbook.core.words import spoken
from vectors.cases import FIRST_AT, identifier


class Phone:
    """One phone with one person; its clock goes on by a second at each act."""

    made = 0

    def __init__(self, who: str, clock: int = FIRST_AT) -> None:
        self.who, self.clock, self.strip = who, clock, ""
        self.device, self.log = identifier("@phone of " + who), {}
        self._door = phone.start(self._new_id)

    def _new_id(self) -> str:
        Phone.made += 1
        return identifier(f"made {Phone.made}", self.clock)

    def call(self, name: str, **arguments: Any) -> Any:
        return json.loads(self._door(name, json.dumps(arguments)))

    def take(self, entries: list[dict[str, Any]]) -> None:
        new = [entry for entry in entries if entry["id"] not in self.log]
        self.log.update({entry["id"]: entry for entry in new})
        if new:
            self.strip = new[0]["strip"]
            self.call("load", strip=self.strip, entries=new)

    def asked(self, act: str, /, **form: Any) -> list[dict[str, Any]]:
        """The problems for which an act is refused."""
        return self._acted(act, form)["problems"]

    def act(self, act: str, /, **form: Any) -> Any:
        answer = self._acted(act, form)
        assert "result" in answer, answer
        self.take(answer["result"]["entries"])
        return answer["result"]

    def _acted(self, act: str, form: dict[str, Any]) -> Any:
        self.clock += 1000
        own = {"strip": self.strip} if self.strip else {}
        return self.call("act", act=act, form=own | form, now=self.clock, device=self.device, who=self.who)

    def write(self, kind: str, **own: Any) -> str:
        """An entry by hand, as another program may have written it."""
        self.clock += 1000
        entry = {"id": self._new_id(), "strip": self.strip, "kind": kind, "at": self.clock, "by": self.device}
        self.take([entry | {"who": self.who} | own])
        return str(entry["id"])

    def move(self, group: str, start: str, end: str, many: int = 1) -> str:
        return str(self.act("move", group=group, count=many, **{"from": start, "to": end})["entries"][-1]["id"])

    def view(self, name: str, **arguments: Any) -> Any:
        answer = self.call("view", view=name, strip=self.strip, now_ms=self.clock, **arguments)
        assert "result" in answer, answer
        return answer["result"]

    def stops(self) -> list[str]:
        """What stops the machine, in words."""
        return [spoken(stop["sentence"]) for stop in self.view("open_items")["stops"]]

    def items(self) -> list[str]:
        """The items in the list of what is open, each with the part it stands under."""
        parts = [part for group in self.view("open_items")["groups"] for part in group["parts"]]
        return [part["name"] + ": " + item["text"] for part in parts for item in part["items"]]


def begun(who: str = "Ann") -> Phone:
    """A phone with a strip-down."""
    found = Phone(who)
    found.act("begin_strip", machine_name="Hack", name="Bench")
    return found


def another(phone_: Phone, who: str) -> Phone:
    """A phone that has all that this one has."""
    found = Phone(who, phone_.clock)
    found.take(list(phone_.log.values()))
    return found


def meet(*phones: Phone) -> None:
    """Each gets what the others have."""
    for one in phones:
        for other in phones:
            other.take(list(one.log.values()))


def part_with(phone_: Phone, name: str, **group: Any) -> tuple[str, str]:
    """A part that is on, with one group of four M5 fasteners."""
    part = phone_.act("take_off", name=name, off=False)["part"]
    phone_.act("add", part=part, groups=[{"count": 4, "thread": "M5", "head": "hex"} | group])
    return part, phone_.view("part", part=part)["groups"][0]["group"]
