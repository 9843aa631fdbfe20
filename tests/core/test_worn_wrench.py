"""A calibration ends after a year or 5,000 uses (ISO 6789-1, seen): either way, what follows is in doubt."""

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from test_tightening import STRIP, TOOL, Bench

from cotterbook.core.tool_uses import Uses
from cotterbook.core.words import spoken
from vectors.cases import identifier

DUE = 5_000
AT_MOST = 500


class Worn(Bench):
    """A bench whose wrench was used on other fasteners too."""

    def use(self, count, tool=TOOL, group="@other"):
        """Fasteners tightened with a wrench, in entries of at most 500."""
        entries = []
        while count > 0:
            self.at += 1000
            entries.append({
                "id": identifier(f"@use{self.at}", self.at), "strip": STRIP, "by": identifier("@phone"), "who": "Ann",
                "at": self.at, "kind": "tighten", "group": identifier(group), "count": min(count, AT_MOST),
                "newton_metres": 25, "with_tool": tool,
            })  # fmt: skip
            count -= AT_MOST
        self.load(entries)

    def card(self):
        return self.ask("view", strip=STRIP, view="tools", now_ms=self.at)["result"]["tools"][0]


def bench(**tool):
    found = Worn({"torque_low_newton_metres": 25}, tool)
    found.put(identifier("@other"), "group", {"part": identifier("@part"), "count": 500})
    return found


@pytest.mark.parametrize(
    ("before", "judged"), [(DUE - 1, "accepted"), (DUE, "doubtful"), (DUE + 700, "doubtful"), (0, "accepted")]
)
def test_overdue_by_uses_puts_what_follows_in_doubt_asked_and_done(before, judged):
    worn = bench()
    worn.use(before)
    answer = worn.setting(torque="25", with_tool=TOOL)["result"]
    assert answer["judged"] == judged and worn.card()["overdue"] is (judged == "doubtful")
    worn.tighten(torque="25", with_tool=TOOL)
    last = worn.last()
    assert last["judged"] == judged
    if judged == "doubtful":
        assert f"had been used {before} times" in spoken(last["reason"]) and answer["notices"][0] == last["reason"]


def test_what_was_tightened_before_the_wrench_was_worn_stays_accepted():
    worn = bench()
    worn.tighten(torque="25", with_tool=TOOL)
    worn.use(DUE)
    assert worn.last()["judged"] == "accepted"
    assert worn.card()["overdue"]
    assert worn.setting(torque="25", with_tool=TOOL)["result"]["judged"] == "doubtful"


def test_a_calibration_begins_the_count_anew_and_mends_nothing_of_before():
    worn = bench()
    worn.use(DUE)
    worn.tighten(torque="25", with_tool=TOOL)
    worn.at += 2 * 86_400_000
    # The bench begins on 9 October 2025.
    worn.put(TOOL, "tool", {"calibrated_on": "2025-10-11"})
    assert worn.last()["judged"] == "doubtful"
    assert worn.setting(torque="25", with_tool=TOOL)["result"]["judged"] == "accepted"
    assert worn.card()["cycles"] == 0


def test_another_wrench_is_not_worn_by_it_and_a_struck_use_wears_nothing():
    worn = bench()
    other = identifier("@other wrench")
    worn.put(other, "tool", {"name": "Other", "calibrated_on": "2025-06-01"})
    worn.use(DUE, tool=other)
    assert worn.setting(torque="25", with_tool=TOOL)["result"]["judged"] == "accepted"
    assert worn.setting(torque="25", with_tool=other)["result"]["judged"] == "doubtful"
    struck = identifier(f"@use{worn.at}", worn.at)
    worn.load([{
        "id": identifier("@strike", worn.at + 1), "strip": STRIP, "by": identifier("@phone"), "who": "Ann",
        "at": worn.at + 1, "kind": "strike", "entry": struck, "why": "counted twice",
    }])  # fmt: skip
    assert worn.setting(torque="25", with_tool=other)["result"]["judged"] == "accepted"


def test_a_year_is_told_before_the_uses_and_without_a_date_nothing_is_in_doubt():
    old = bench(calibrated_on="2024-06-01")
    old.use(DUE)
    told = [spoken(each) for each in old.setting(torque="25", with_tool=TOOL)["result"]["notices"]]
    assert len(told) == 1 and "12 months" in told[0]
    undated = bench(calibrated_on=None)
    undated.use(DUE)
    assert undated.setting(torque="25", with_tool=TOOL)["result"]["judged"] == "accepted"
    assert any("a calibration is due" in spoken(each) for each in undated.card()["notices"])


days = st.dates(datetime.date(2025, 1, 1), datetime.date(2025, 3, 1))


@given(uses=st.lists(st.tuples(days, st.integers(1, 500)), max_size=30), since=days, before=st.integers(0, 30))
def test_the_count_is_what_counting_one_by_one_gives(uses, since, before):
    noon = datetime.time(12, tzinfo=datetime.UTC)
    at = [int(datetime.datetime.combine(day, noon).timestamp() * 1000) for day, _ in uses]
    entries = [{"id": f"{index:03d}", "at": at[index], "count": count} for index, (_, count) in enumerate(uses)]
    found = Uses(entries)
    for date in (since.isoformat(), None):
        counted = [count for day, count in uses if date is None or day >= since]
        assert found.since(date) == sum(counted)
    if before < len(entries):
        key = (entries[before]["at"], entries[before]["id"])
        counted = [each["count"] for (day, _), each in zip(uses, entries, strict=True)
                   if day >= since and (each["at"], each["id"]) < key]  # fmt: skip
        assert found.since(since.isoformat(), key) == sum(counted)
