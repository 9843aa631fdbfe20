"""A phone with one machine in core alone, for tests of weighings and balance: its log, its views, its acts."""

import json
from itertools import count
from typing import Any

from cotterbook.core import phone
from cotterbook.core.words import spoken
from vectors.cases import FIRST_AT, identifier

STRIP, MACHINE = identifier("@strip"), identifier("@machine")
# Petrol, EN 228:2012: 720 to 775 g a litre at 15 C.
LITRE = (720.0 + 775.0) / 2.0
MEASURES = {"wheelbase_millimetres": 1450.0, "front_axle_millimetres": 300.0, "rear_axle_millimetres": 310.0}


class Shop:
    """A phone with one machine, and its log."""

    def __init__(self, **machine: Any) -> None:
        numbers = count()
        self.call = phone.start(lambda: identifier(f"new {next(numbers)}"))
        self.entries: list[dict[str, Any]] = []
        self.put("machine", MACHINE, name="Test hack", **machine)
        self.put("strip", STRIP, name="Bench", machine=MACHINE)

    def write(self, kind: str, **own: Any) -> str:
        number = len(self.entries)
        entry = {"id": identifier(f"@e{number}", FIRST_AT + number), "strip": STRIP, "at": FIRST_AT + number}
        entry |= {"by": identifier("@phone"), "who": "Ann", "kind": kind} | own
        self.entries.append(entry)
        self.call("load", json.dumps({"strip": STRIP, "entries": [entry]}))
        return str(entry["id"])

    def put(self, type_: str, thing: str, **values: Any) -> None:
        self.write("set", thing=thing, type=type_, values=values)

    def part(self, name: str, grams: Any = None, **values: Any) -> str:
        part = identifier("@" + name)
        self.put("part", part, name=name, **values)
        if grams is not None:
            self.write("weigh", part=part, weighed_as="taken_off", pieces=values.get("pieces", 1), basis="weighed",
                       grams=grams, step_grams=1.0)  # fmt: skip
        return part

    def weigh(self, front: float, rear: Any, **more: Any) -> str:
        return self.write("weigh_in", front_grams=front, step_grams=100.0, **(
            more if rear is None else {"rear_grams": rear} | more))  # fmt: skip

    def view(self, name: str, **arguments: Any) -> Any:
        answer = json.loads(self.call("view", json.dumps({"strip": STRIP, "view": name} | arguments)))
        assert "result" in answer, answer
        return answer["result"]

    def act(self, name: str, form: dict[str, Any]) -> Any:
        stamp = {"now": FIRST_AT + 1_000_000, "device": identifier("@phone"), "who": "Ann"}
        return json.loads(self.call("act", json.dumps({"act": name, "form": {"strip": STRIP} | form} | stamp)))

    def newest(self) -> Any:
        return self.view("weigh_in")["weighings"][0]


def told(shown: Any) -> str:
    return f"{shown['value']} ± {shown['plus_minus']} {shown['unit']}"


def words(sentence: Any) -> str:
    return spoken(sentence)


def balanced(**part: Any) -> Shop:
    shop = Shop(tank_along_millimetres=600.0, tank_up_millimetres=800.0, tank_litres=16.0,
                standard_up_millimetres=520.0, standard_grams=204_000.0, standard_state="dry", **MEASURES)  # fmt: skip
    shop.weigh(98_000.0, 106_000.0, fuel_litres=0.0, plus_minus_litres=0.0, front_higher_millimetres=0.0)
    shop.part("Case", 5_000.0, **({"along_millimetres": 1_500.0, "up_millimetres": 900.0} | part))
    return shop
