"""Labels of many bags: each group is gone through once, and not once for each bag."""

from typing import Any

import pytest

from cotterbook.core.strip import Strip
from cotterbook.core.views_bag import bag_view, kept_view
from cotterbook.core.views_tags import tags_view
from vectors.cases import FIRST_AT, identifier

BAGS = 60


class Counting(Strip):
    """Counts how often a group's fasteners are asked for."""

    asked = 0

    def ledger(self, group: str) -> Any:
        self.asked += 1
        return super().ledger(group)


@pytest.fixture
def many() -> Counting:
    entries: list[dict[str, Any]] = []

    def add(**of_entry: Any) -> None:
        at = FIRST_AT + len(entries) * 1000
        head = {"strip": identifier("@strip"), "at": at, "by": identifier("@phone"), "who": "Ann"}
        entries.append(head | of_entry | {"id": identifier(f"entry {len(entries)}", at)})

    for n in range(BAGS):
        part, bag, group = (identifier(f"@{thing} {n}") for thing in ("part", "bag", "group"))
        part_values = {"name": f"Part {n}", "off": True, "bag": bag, "kept": "shelf"}
        add(kind="set", thing=part, type="part", values=part_values)
        # Two bags each carry one number.
        add(kind="set", thing=bag, type="bag", values={"label": str(n // 2), "kept": "shelf"})
        add(kind="set", thing=group, type="group", values={"part": part, "count": 4, "thread": "M8"})
        add(kind="move", group=group, count=4, **{"from": "machine"}, to="bag", to_bag=bag)
    strip = Counting(identifier("@strip"))
    for entry in entries:
        strip.add([entry])
    return strip


def test_labels_and_places_go_through_each_group_once(many: Counting) -> None:
    assert len(tags_view(many, {"what": "bags", "paper": "a4_8"})["tags"]) == BAGS // 2
    assert many.asked <= BAGS
    many.asked = 0
    assert len(kept_view(many, {"kept": "shelf"})["bags"]) == BAGS
    assert many.asked <= BAGS


def test_what_stands_in_one_bag_is_still_its_own(many: Counting) -> None:
    seen = bag_view(many, {"label": "7"})
    assert [row["name"] for row in seen["groups"]] == [row["name"] for row in seen["parts"]] == ["Part 14", "Part 15"]
    assert seen["count"] == 8 and seen["notice"]
    assert seen["last"]["at_ms"] == FIRST_AT + (15 * 4 + 3) * 1000
