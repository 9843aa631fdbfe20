"""The sheet of keys and tools: what is still to be turned, by key, and the torques that a wrench must reach."""

import json
from itertools import count

import pytest

from cotterbook.core import phone
from vectors.cases import identifier

STAMP = {"device": identifier("@phone"), "who": "Ann"}


class Bench:
    """A strip-down of one machine, kept by the core alone."""

    def __init__(self):
        numbers, self.now = count(), 1760000500000
        self.call_ = phone.start(lambda: identifier(f"key {next(numbers)}"))
        self.strip = self.act("begin_strip", name="Keys", machine_name="Test hack")["strip"]

    def call(self, name, **arguments):
        answer = json.loads(self.call_(name, json.dumps(arguments)))
        assert "problems" not in answer, answer
        return answer["result"]

    def act(self, act, **form):
        self.now += 1000
        begins = act == "begin_strip"
        made = self.call("act", act=act, form=form if begins else {"strip": self.strip, **form}, now=self.now, **STAMP)
        self.call("load", strip=made["strip"] if begins else self.strip, entries=made["entries"])
        return made

    def off(self, name, *groups, **form):
        return self.act("take_off", name=name, **{"outcome": "goes_back", **form}, groups=list(groups))["part"]

    def keys(self):
        return self.call("view", strip=self.strip, view="keys_sheet")


@pytest.fixture
def bench():
    return Bench()


def group(size, **more):
    return {"count": 2, "thread": "M8", "length": "30", "head": "hex", "key": size, **more}


def counts(view):
    return [(row["kind"], row["size"], row["count"]) for row in view["keys"]]


def test_one_key_written_in_several_ways_is_one_key_and_sizes_stand_in_order(bench):
    bench.off("Tank", group("13"), group("13 mm spanner", count=3), group("10 mm", count=4))
    bench.off(
        "Seat", group("6 mm hex key", head="socket_cap"), group("T30", head="hexalobular"), group("PH2", head="cross")
    )
    assert counts(bench.keys()) == [
        ("outside", "10 mm", 4), ("outside", "13 mm", 5), ("inside", "6 mm", 2), ("hexalobular", "T30", 2),
        ("cross", "PH2", 2)]  # fmt: skip
    assert bench.keys()["fasteners"] == 15


def test_a_size_alone_goes_by_the_head_and_what_is_not_understood_stands_last_as_written(bench):
    bench.off("Tank", group("6", head="socket_cap"), group("6", head="hex"), group("the odd one"))
    assert counts(bench.keys()) == [("outside", "6 mm", 2), ("inside", "6 mm", 2), (None, "the odd one", 2)]


def test_without_a_key_the_usual_one_is_said_and_not_counted_as_known(bench):
    bench.off("Tank", {"count": 2, "thread": "M8", "head": "socket_cap"}, {"count": 1, "key": "13"})
    view = bench.keys()
    [line] = view["unknown"]
    # ISO 4762: a socket cap screw M8 takes a 6 mm key.
    assert (line["count"], line["part"], line["usual"]["values"]["size"]["value"]) == (2, "Tank", "6")
    assert counts(view) == [(None, "13 mm", 1)]


def test_what_stays_off_or_is_tight_needs_no_key(bench):
    bench.off("Rack", group("10"), outcome="stays_off", outcome_done=True)
    part = bench.off("Tank", group("13", torque="20", torque_page="4-2"), bag_label="1")
    [seen] = bench.call("view", strip=bench.strip, view="part", part=part)["groups"]
    bag = seen["places"][0]["bag"]
    assert counts(bench.keys()) == [("outside", "13 mm", 2)]
    bench.act("move", group=seen["group"], count=2, **{"from": "bag"}, from_bag=bag, to="machine")
    # In and still loose.
    assert counts(bench.keys()) == [("outside", "13 mm", 2)]
    bench.act("tighten", group=seen["group"], count=1, torque="20", tool="a wrench")
    assert counts(bench.keys()) == [("outside", "13 mm", 1)]
    bench.act("tighten", group=seen["group"], count=1, torque="20", tool="a wrench")
    view = bench.keys()
    assert (counts(view), view["fasteners"], view["torque"], view["also"]) == ([], 0, None, [])


def test_the_wrench_must_reach_from_the_least_step_to_the_most_with_what_a_locking_nut_takes(bench):
    bench.off(
        "Tank",
        group("13", torque="20", torque_page="4-2"),
        group("10", torque="8", torque_page="4-2"),
        group("17", torque="80", torque_high="90", torque_steps="5 40", prevailing="6", torque_page="4-3"),
        group("8"),
    )
    for name, low, high in (("small", "4", "25"), ("large", "20", "100")):
        bench.act("add_tool", name=name, tool_type="click", low=low, high=high)
    bench.act("add_tool", name="no marks", tool_type="click")
    view = bench.keys()
    # The first step with the nut's own torque, 5 + 6; the most, 90 + 6; the least of all is the 8 of the other group.
    values = {name: float(view["torque"][name]["value"]) for name in ("low", "high")}
    assert values == {"low": 8.0, "high": 96.0}
    reaches = {wrench["name"]: (wrench["reaches"], wrench["of"]) for wrench in view["wrenches"]}
    assert reaches == {"small": (2, 3), "large": (1, 3), "no marks": (0, 3)}
    [beyond] = view["beyond"]
    assert (float(beyond["low"]["value"]), float(beyond["high"]["value"])) == (11.0, 96.0)
    assert view["without"] == 2


def test_compound_oil_angle_and_paint_are_named_with_how_many_they_are_for(bench):
    bench.off(
        "Tank",
        group("13", torque="20", torque_condition="locking_compound", torque_page="4-2"),
        group("13", count=3, torque="20", torque_condition="oiled", torque_angle="90", torque_page="4-2"),
        {"count": 4, "head": "clip", "key": "pliers"},
    )
    assert [(each["text"].split(",")[0], each["values"]["n"]) for each in bench.keys()["also"]] == [
        ("Locking compound", 2), ("Oil for threads", 3), ("Something to measure the angle with", 3),
        ("Paint to mark what is tight", 5)]  # fmt: skip
