"""Laws of what is open, tried on random logs: no word closes a need of the way back, and no caution is lost."""

import json

from hypothesis import given, settings
from hypothesis import strategies as st
from random_logs import PARTS, STRIP, logs, own_fields

from cotterbook.core.follows import DONE_BY, RULES
from cotterbook.core.strip import Strip
from cotterbook.core.views import VIEWS
from vectors.cases import FIRST_AT, identifier

ITEMS = [identifier(f"@item {n}") for n in range(4)]
NAMES = ("Front mudguard", "Mirrors", "Headlamp bracket", "Radiator", "Zwischenhalter")
ONE_PART_RULES = [rule[0] for rule in RULES]
item_values = st.fixed_dictionaries(
    {"what": st.just("check"), "text": st.just("Look")},
    optional={
        "part": st.sampled_from(PARTS),
        "rule": st.sampled_from([*ONE_PART_RULES, "sag_front", "of a newer program"]),
        "closed": st.booleans(),
        "closed_how": st.just("looked"),
        "before": st.sampled_from(["riding", "next_spell", "some_day"]),
    },
)
items = st.builds(
    lambda thing, values: {"kind": "set", "thing": thing, "type": "item", "values": values},
    st.sampled_from(ITEMS),
    item_values,
)
named = st.builds(
    lambda part, name, place: {"kind": "set", "thing": part, "type": "part", "values": {"name": name, "place": place}},
    st.sampled_from(PARTS),
    st.sampled_from(NAMES),
    st.sampled_from(["front_end", "front_brake", "frame"]),
)
acts = st.builds(
    lambda part, values: {"kind": "set", "thing": part, "type": "part", "values": values},
    st.sampled_from(PARTS),
    st.sampled_from([
        {"outcome": "cut_down", "outcome_done": True}, {"outcome": "stays_off", "off": True}, {"off": False},
        {"outcome": "moved", "outcome_done": True}, {"paint_gone": True}, {"outcome_done": False},
    ]),
)  # fmt: skip
open_logs = logs(st.one_of(own_fields, items, items, named, acts))


def folded(entries):
    strip = Strip(STRIP)
    strip.add(entries)
    return strip


def shown(entries):
    view = VIEWS["open_items"](folded(entries), {})
    json.dumps(view)
    return view


def of_the_way_back(entries):
    """What the way back itself says is lacking, as (part, need); and how many bolts are lost, by part."""
    strip = folded(entries)
    needs = {(part["part"], need) for part in VIEWS["back"](strip, {})["parts"] for need in part["needs"]}
    lost = {}
    for group in strip.of_type("group"):
        count = sum(place[2] for place in strip.ledger(group.id).elsewhere() if place[0] == "lost")
        # Also of a part that no entry here tells of: the bolt may lie inside all the same.
        part = group.values.get("part")
        if count > 0 and part is not None:
            lost[part] = lost.get(part, 0) + count
    return needs, lost


def of_the_list(view):
    (riding,) = [group for group in view["groups"] if group["before"] == "riding"]
    needs = {(part["part"], need) for part in riding["parts"] for need in part["needs"]}
    lost = {}
    for each in view["stops"]:
        if each["part"] is not None:
            lost[each["part"]] = lost.get(each["part"], 0) + each["sentence"]["values"]["n"]
    return needs, lost


@given(open_logs)
@settings(max_examples=200, deadline=None)
def test_what_the_way_back_lacks_stands_before_riding_whatever_is_closed(entries):
    assert of_the_list(shown(entries)) == of_the_way_back(entries)


@given(open_logs, st.lists(st.tuples(st.sampled_from(ITEMS), st.sampled_from(PARTS), st.sampled_from(ONE_PART_RULES))))
@settings(max_examples=150, deadline=None)
def test_closing_whatever_it_is_hides_no_need_of_the_way_back(entries, closings):
    base = {"strip": STRIP, "by": identifier("@phone"), "who": "Ann", "kind": "set", "type": "item"}
    more = []
    for n, (thing, part, rule) in enumerate(closings):
        values = {"what": "check", "text": "x", "part": part, "rule": rule, "closed": True, "closed_how": "done"}
        closing = {"id": identifier(f"@closing {n}"), "at": FIRST_AT + 1000 + n, "thing": thing, "values": values}
        more.append(base | closing)
    assert of_the_list(shown(entries + more)) == of_the_list(shown(entries))


def struck_at_all(entries):
    """Ids that a strike not struck itself strikes."""
    strip = folded(entries)
    return {each["id"] for each in entries if strip.is_struck(each["id"])}


# One mudguard, what is done to it, and closings of its cautions by several phones.
of_one_part = st.one_of(
    st.builds(
        lambda values: {"kind": "set", "thing": PARTS[0], "type": "part", "values": values},
        st.sampled_from(
            [
                {"name": "Front mudguard"},
                {"name": "Front mudguard", "outcome": "cut_down", "outcome_done": True},
                {"outcome": "stays_off", "off": True},
                {"off": False},
                {"note": "blue"},
            ]
        ),
    ),
    st.builds(
        lambda thing, rule: {
            "kind": "set",
            "thing": thing,
            "type": "item",
            "values": {
                "what": "check",
                "text": "x",
                "part": PARTS[0],
                "rule": rule,
                "closed": True,
                "closed_how": "looked",
            },
        },
        st.sampled_from(ITEMS[:3]),
        st.sampled_from(["road", "stones"]),
    ),
    st.builds(lambda n: {"kind": "strike", "entry": n, "why": "slip"}, st.integers(0, 30)),
)


@given(logs(of_one_part))
@settings(max_examples=300, deadline=None)
def test_a_caution_is_open_or_its_closing_is_later_than_all_that_its_rule_looks_at(entries):
    """Against the entries themselves: those that did something to the part, and those that closed the caution."""
    struck = struck_at_all(entries)
    sets = [each for each in entries if each["kind"] == "set" and each["id"] not in struck]
    # The last word on which rule an item belongs to counts.
    rule_of = {}
    for each in sorted(sets, key=lambda each: (each["at"], each["id"])):
        if each["type"] == "item":
            rule_of[each["thing"]] = each["values"]["rule"]
    for caution in shown(entries)["cautions"]:
        if caution["part"] is None:
            continue
        of_part = [each for each in sets if each["thing"] == caution["part"]]
        did = [(each["at"], each["id"]) for each in of_part if any(name in each["values"] for name in DONE_BY)]
        closed = [
            (each["at"], each["id"])
            for each in sets
            if each["type"] == "item" and rule_of[each["thing"]] == caution["rule"]
        ]
        assert caution["open"] == (not any(key > max(did) for key in closed))


@given(open_logs)
@settings(max_examples=100, deadline=None)
def test_each_caution_is_listed_once_and_every_open_one_is_in_a_group(entries):
    view = shown(entries)
    keys = [(each["rule"], each["part"]) for each in view["cautions"]]
    assert len(keys) == len(set(keys))
    grouped = [each for group in view["groups"] for part in group["parts"] for each in part["cautions"]]
    assert sorted(json.dumps(each) for each in grouped) == sorted(
        json.dumps(each) for each in view["cautions"] if each["open"]
    )
    assert (view["nothing"] is None) == (view["open"] > 0)
    assert view["open"] == sum(group["count"] for group in view["groups"]) + len(view["stops"])


def test_no_rule_says_that_something_is_legal_or_safe():
    said = json.dumps(shown([])["nothing"]).lower() + "".join(rule[2].lower() for rule in RULES)
    assert "legal" not in said
    assert "safe" not in said
