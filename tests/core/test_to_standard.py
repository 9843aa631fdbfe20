"""The plan back to standard is a strip-down of its own: complete, conserved, and after it the machine is standard."""

import json
from itertools import count

from cotterbook.core import phone
from cotterbook.core.entries import check
from vectors.cases import all_cases, identifier

STRIP = identifier("@strip")
STAMP = {"now": 1760000500000, "device": identifier("@phone"), "who": "Ann"}


class Bench:
    """The core with the worked machine of tests/vectors/to_standard.json, and the plan made from it."""

    def __init__(self):
        numbers = count()
        self.call_ = phone.start(lambda: identifier(f"new {next(numbers)}"))
        [(_, case)] = [each for each in all_cases() if each[0].startswith("to_standard: what comes off")]
        self.call("load", strip=STRIP, entries=case["entries"])
        made = self.call("act", act="plan_to_standard", form={"of_strip": STRIP, "name": "Back to standard"}, **STAMP)
        self.plan, self.entries = made["strip"], made["entries"]
        self.call("load", strip=self.plan, entries=self.entries)

    def call(self, name, **arguments):
        answer = json.loads(self.call_(name, json.dumps(arguments)))
        assert "problems" not in answer, answer
        return answer["result"]

    def act(self, act, **form):
        made = self.call("act", act=act, form={"strip": self.plan, **form}, **STAMP)
        self.call("load", strip=self.plan, entries=made["entries"])

    def view(self, view, **more):
        return self.call("view", strip=self.plan, view=view, **more)


def test_every_entry_of_the_plan_is_right_and_of_the_new_strip_down():
    bench = Bench()
    assert bench.plan != STRIP
    assert {entry["strip"] for entry in bench.entries} == {bench.plan}
    assert [check(entry) for entry in bench.entries] == [[]] * len(bench.entries)
    whole = bench.view("strip")
    assert (whole["name"], whole["machine"]["name"]) == ("Back to standard", "Test hack")
    assert [(bag["label"], bag["kept"]) for bag in whole["bags"]] == [("3", "Red box")]


def test_what_goes_on_is_on_the_way_back_with_its_fasteners_where_they_lie():
    bench = Bench()
    parts = {part["name"]: part for part in bench.view("back")["parts"]}
    assert sorted(parts) == ["Cap", "Mirror", "Seat", "Silencer", "Tail", "Tool kit"]
    [group] = parts["Seat"]["groups"]
    assert (group["on"], group["count"], group["specification"]["page"]) == (0, 4, "4-2")
    assert [(each["where"], each["label"], each["count"]) for each in group["places"]] == [
        ("bag", "3", 3), ("scrapped", None, 1)]
    assert [(each["where"], each["count"]) for each in parts["Mirror"]["groups"][0]["places"]] == [("scrapped", 2)]
    assert parts["Seat"]["kept"] == "Shelf 2"
    [before_riding, *_] = bench.view("open_items")["groups"]
    items = [item["text"] for part in before_riding["parts"] for item in part["items"]]
    assert sorted(items) == ["Horn", "Mirror", "Tail", "Tool kit"]


def test_once_it_is_worked_off_the_machine_is_standard_and_weighs_what_was_weighed():
    bench = Bench()
    for row in bench.view("to_standard")["take_off"]:
        bench.act("change", thing=row["part"], type="part", values={"off": True})
    for part in bench.view("back")["parts"]:
        bench.act("part_on", part=part["part"])
    after = bench.view("to_standard")
    assert (after["take_off"], after["put_on"], after["cannot"]) == ([], [], [])
    statement = {line["name"]: line["change"] for line in bench.view("statement")["lines"]}
    # By hand: the short silencer of 2,500 g came off, the one of 4,000 g went on.
    assert [float(statement[name]["value"]) for name in ("Short silencer", "Silencer")] == [-2.5, 4.0]
