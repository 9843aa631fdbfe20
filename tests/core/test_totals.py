"""Totals that are kept up to date are those that adding everything up gives, whatever comes in whatever order."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from random_logs import PARTS, STRIP, logs, own_fields

from cotterbook.core.amounts import Amount, added_up, merged, together
from cotterbook.core.astray import still_lost
from cotterbook.core.mass import is_off
from cotterbook.core.strip import Strip
from cotterbook.core.things import THINGS
from vectors.cases import identifier

SCALE = identifier("@scale")
ITEMS = [identifier(f"@item {n}") for n in range(2)]
more_fields = st.one_of(
    own_fields,
    st.builds(
        lambda gain: {"kind": "set", "thing": SCALE, "type": "scale", "values": {"name": "A", "gain_percent": gain}},
        st.sampled_from([0.5, 2.0]),
    ),
    st.builds(
        lambda part, grams: {
            "kind": "weigh", "part": part, "weighed_as": "taken_off", "pieces": 1, "basis": "weighed",
            "grams": float(grams), "step_grams": 1.0, "on_scale": SCALE,
        },  # fmt: skip
        st.sampled_from(PARTS),
        st.integers(1, 5000),
    ),
    st.builds(
        lambda item, part, closed: {
            "kind": "set", "thing": item, "type": "item", "values": {"text": "x", "part": part, "closed": closed},
        },  # fmt: skip
        st.sampled_from(ITEMS),
        st.sampled_from(PARTS),
        st.booleans(),
    ),
)


def everything_added_up(strip):
    """The totals the plain way: a fresh fold, every line and every ledger looked at."""
    fresh = Strip(STRIP)
    fresh.add(list(strip.entries.values()))
    lines = [fresh.line(part.id) for part in fresh.of_type("part")]
    ledgers = [fresh.ledger(group.id) for group in fresh.of_type("group")]
    things = [thing for kind in THINGS for thing in fresh.of_type(kind)]
    groups = fresh.of_type("group") + fresh.struck_groups()
    counts = {
        "parts": len(lines),
        "off": sum(is_off(part.values) for part in fresh.of_type("part")),
        "fasteners": sum(ledger.count for ledger in ledgers),
        "fasteners_out": sum(ledger.out for ledger in ledgers),
        "fasteners_lost": sum(still_lost(fresh, group) for group in groups),
        "items_open": sum(not item.values.get("closed") for item in fresh.of_type("item")),
        "disputes": sum(any(thing.fields[name].disputed for name in thing.fields) for thing in things),
    }
    sums = {
        "came_in": added_up([line.change for line in lines]),
        "standard": added_up([line.standard_change for line in lines]),
        "spell": added_up([line.spell_change for line in lines]) if fresh.last_spell() else None,
    }
    return counts, sums, sum(line.unweighed for line in lines)


def same(one, other):
    if one is None or other is None:
        return one is other
    pairs = [(one.grams, other.grams), (one.standard, other.standard), (one.factor, other.factor)]
    return all(math.isclose(a, b, rel_tol=1e-9, abs_tol=1e-6) for a, b in pairs)


@given(logs(more_fields))
@settings(max_examples=150, deadline=None)
def test_totals_are_what_adding_everything_up_gives(entries):
    strip = Strip(STRIP)
    for entry in entries:
        strip.add([entry])
        found = strip.sums()
        counts, sums, unweighed = everything_added_up(strip)
        assert strip.counts() == counts
        assert found["unweighed"] == unweighed
        for name, wanted in sums.items():
            assert same(found[name], wanted), (name, found[name].grams, found[name].standard)


causes = st.dictionaries(
    st.sampled_from(["step:a", "step:b", "scatter:a", "given:c", "gain:s", "zero:s", "density:petrol"]),
    st.tuples(st.floats(-50, 50), st.one_of(st.none(), st.integers(1, 20))),
)


@given(st.lists(causes, min_size=1, max_size=4), causes)
def test_causes_put_together_change_neither_uncertainty_nor_degrees_of_freedom(parts, rest):
    amounts = [
        Amount(1.0, {(name if name.endswith((":s", ":petrol")) else f"{name}{n}"): own for name, own in each.items()})
        for n, each in enumerate(parts)
    ]
    plain = together([*amounts, Amount(1.0, rest)])
    few = together([merged(together(amounts), "block:1"), Amount(1.0, rest)])
    assert few.standard == pytest.approx(plain.standard, rel=1e-9, abs=1e-12)
    if plain.freedom is None:
        assert few.freedom is None
    elif plain.standard > 1e-3:
        # None stands for infinitely many; a cause of next to nothing may make them so, or not.
            assert (few.freedom or math.inf) == pytest.approx(plain.freedom, rel=1e-6)
