"""Laws of the mass statement, tried on random logs with scales, tares, fluids, repeated looks and fasteners.

That the state does not depend on the order of entries and that a strike undoes, of plainer logs, is in `test_laws.py`.
"""

import json
import math

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from cotterbook.core.entries import check
from cotterbook.core.strip import Strip
from cotterbook.core.views import exact_view
from cotterbook.core.views_masses import made_of_view, statement_view
from vectors.cases import FIRST_AT, identifier

STRIP = identifier("@strip")
PARTS = [identifier(f"@part {n}") for n in range(3)]
SCALES = [identifier(f"@scale {n}") for n in range(2)]
SUMS = ("came_in", "standard", "spell")
STEPS = st.sampled_from([0.01, 0.1, 1.0, 5.0, 20.0])
GRAMS = st.one_of(st.integers(1, 499_999), st.floats(0.001, 499_999.0))


def stamped(kind, n, **fields):
    """An entry, the n-th."""
    stamp = {"id": identifier(f"@entry {n}", FIRST_AT + n), "strip": STRIP, "at": FIRST_AT + n}
    entry = stamp | {"by": identifier("@phone"), "who": "Ann", "kind": kind} | fields
    assert not check(entry), check(entry)
    return entry


@st.composite
def card(draw, scale, n):
    values = {"name": f"Scale {n}", "step_grams": draw(STEPS)}
    for name, most in (("gain_percent", 20.0), ("zero_grams", 100.0)):
        if draw(st.booleans()):
            values[name] = draw(st.floats(0.001, most))
    return stamped("set", n, thing=scale, type="scale", values=values)


@st.composite
def part(draw, thing, n):
    values = {
        "name": "Bracket",
        "off": draw(st.booleans()),
        "pieces": draw(st.integers(1, 4)),
        "outcome_done": draw(st.booleans()),
    }
    outcome = draw(st.sampled_from([None, "stays_off", "swapped", "goes_back", "cut_down", "added", "moved"]))
    came_in = draw(st.sampled_from([None, "missing", "accessory", "new"]))
    values |= {} if outcome is None else {"outcome": outcome}
    values |= {} if came_in is None else {"came_in": came_in}
    return stamped("set", n, thing=thing, type="part", values=values)


@st.composite
def look(draw, n, earlier):
    """A reading of any kind; it may look again at what one of the earlier ones held."""
    fields = {
        "part": draw(st.sampled_from(PARTS)),
        "weighed_as": draw(st.sampled_from(["taken_off", "going_on", "after_cut", "offcut"])),
        "pieces": draw(st.integers(1, 3)),
    }
    kind = draw(st.sampled_from(["scale", "tare", "range", "document", "guess", "litres"]))
    if kind == "litres":
        fields |= {"basis": "worked_out", "fluid": draw(st.sampled_from(["petrol", "engine_oil"])), "litres": 2.5}
    elif kind == "guess":
        fields |= {"basis": "estimated", "maturity": "guess", "grams": draw(GRAMS)}
    elif kind == "document":
        fields |= {"basis": "document", "source": "Page 3", "grams": draw(GRAMS)}
    else:
        fields |= {"basis": "weighed", "on_scale": draw(st.sampled_from(SCALES)), "with_fasteners": draw(st.booleans())}
        if kind == "range":
            fields["low_grams"] = draw(st.integers(1, 400_000))
            fields["high_grams"] = fields["low_grams"] + draw(st.integers(1, 90_000))
        else:
            fields |= {"grams": draw(GRAMS), "step_grams": draw(STEPS)}
        if kind == "tare":
            fields["tare_grams"] = fields["grams"] * draw(st.floats(0.01, 0.99))
        same = [each for each in earlier if each["part"] == fields["part"]]
        if same and draw(st.booleans()):
            first = draw(st.sampled_from(same))
            fields |= {"again": first["id"], "weighed_as": first["weighed_as"], "pieces": first["pieces"]}
    return stamped("weigh", n, **fields)


@st.composite
def logs(draw):
    """Two scales, three parts with six fasteners each, and readings."""
    found = [draw(card(scale, n)) for n, scale in enumerate(SCALES)]
    found += [draw(part(thing, 10 + n)) for n, thing in enumerate(PARTS)]
    for n, thing in enumerate(PARTS):
        group = {"part": thing, "count": 6, "grams_each": draw(st.floats(0.5, 90.0))}
        group_id = identifier(f"@group {n}")
        found.append(stamped("set", 20 + n, thing=group_id, type="group", values=group))
        move = {"group": group_id, "count": draw(st.integers(1, 6)), "from": "machine", "to": "spares"}
        found.append(stamped("move", 30 + n, **move))
    looks = []
    for n in range(draw(st.integers(0, 8))):
        looks.append(draw(look(40 + n, looks)))
    return found + looks


def exact(entries):
    """The statement's unrounded figures."""
    strip = Strip(STRIP)
    strip.add(entries)
    assert strip.not_understood == []
    return exact_view(strip, {})


@given(logs(), st.randoms())
@settings(max_examples=60, deadline=None)
def test_sums_do_not_depend_on_the_order_in_which_entries_come(entries, random):
    shuffled = list(entries)
    random.shuffle(shuffled)
    assert json.dumps(exact(shuffled), sort_keys=True) == json.dumps(exact(entries), sort_keys=True)


def numbers(value):
    """Every number in a view, also those that are shown as text."""
    if isinstance(value, dict):
        for key, each in value.items():
            if key in ("value", "plus_minus") and isinstance(each, str):
                yield float(each)
            yield from numbers(each)
    elif isinstance(value, (list, tuple)):
        for each in value:
            yield from numbers(each)
    elif isinstance(value, (int, float)):
        yield float(value)


@given(logs())
@settings(max_examples=80, deadline=None)
def test_nothing_is_nan_or_without_end_and_no_uncertainty_is_below_nought(entries):
    strip = Strip(STRIP)
    strip.add(entries)
    views = [statement_view(strip, {}), exact_view(strip, {})]
    views += [made_of_view(strip, {"part": each}) for each in PARTS] + [made_of_view(strip, {"sum": s}) for s in SUMS]
    for view in views:
        assert all(math.isfinite(each) for each in numbers(json.loads(json.dumps(view))))
    for line in exact_view(strip, {})["lines"].values():
        for name in ("off", "on", "change", "standard_change"):
            assert line[name] is None or line[name][1] >= 0.0


@given(logs())
@settings(max_examples=80, deadline=None)
def test_the_causes_of_an_uncertainty_make_up_all_of_it(entries):
    """Their shares of the variance come to 100 %, but for rounding five of them."""
    strip = Strip(STRIP)
    strip.add(entries)
    for arguments in [{"part": each} for each in PARTS] + [{"sum": name} for name in SUMS]:
        causes = made_of_view(strip, arguments)["causes"]
        assert causes == [] or abs(sum(each["percent"] for each in causes) - 100) <= 2.5
        assert len(causes) <= 5


@given(logs(), st.integers(0, 40))
@settings(max_examples=60, deadline=None)
def test_a_strike_of_a_reading_leaves_the_sums_as_if_it_had_never_been(entries, which):
    looks = [entry for entry in entries if entry["kind"] == "weigh"]
    assume(looks)
    gone = looks[which % len(looks)]
    # What looks again at a look that is gone stands by itself, as the ones that looked again with it.
    assume(not any(each.get("again") == gone["id"] for each in looks))
    struck = exact([*entries, stamped("strike", 90, entry=gone["id"], why="slip")])
    never = exact([entry for entry in entries if entry is not gone])
    assert {name: struck[name] for name in (*SUMS, "lines")} == {name: never[name] for name in (*SUMS, "lines")}


@given(logs())
@settings(max_examples=60, deadline=None)
def test_off_and_back_again_is_nothing(entries):
    """Once every part is back on, the machine lost nothing that can be counted, and nothing is uncertain about it."""
    back = {"off": False, "outcome": "goes_back", "outcome_done": True, "came_in": "fitted"}
    later = [stamped("set", 70 + n, thing=thing, type="part", values=back) for n, thing in enumerate(PARTS)]
    found = exact(entries + later)
    assert found["came_in"] == found["standard"] == [0.0, 0.0]
    assert not any(line["counted"] for line in found["lines"].values())


@given(logs(), st.integers(0, 1), st.floats(1.0, 50.0))
@settings(max_examples=100, deadline=None)
def test_a_scale_with_a_wider_step_or_more_gain_never_narrows_a_part(entries, which, times):
    """Of a sum the gain may cancel between what went off and on, so that more of one scale's leaves less in all."""
    card_of = entries[which]
    for name in ("step_grams", "gain_percent", "zero_grams"):
        value = card_of["values"].get(name)
        if value is None:
            continue
        limit = 20.0 if name == "gain_percent" else 10_000.0
        wider = card_of | {"values": card_of["values"] | {name: min(limit, value * times)}}
        before, after = (
            exact(entries)["lines"],
            exact([wider if each is card_of else each for each in entries])["lines"],
        )
        for thing in PARTS:
            for state in ("off", "on"):
                here, there = before[thing][state], after[thing][state]
                assert (here is None) == (there is None)
                assert here is None or there[1] >= here[1] * (1.0 - 1e-9)


@given(st.integers(1, 6), st.integers(0, 6), st.floats(0.5, 90.0), st.integers(600, 40_000))
def test_fasteners_weighed_along_and_used_again_are_given_back(count, used, each_grams, grams):
    """All that came off, less those that are on the machine again; each weighs what one was said to."""
    used = min(used, count)
    group, bag = identifier("@group"), identifier("@bag")
    entries = [
        stamped("set", 1, thing=PARTS[0], type="part", values={"name": "Bracket", "off": True, "outcome": "stays_off"}),
        stamped(
            "set", 2, thing=group, type="group", values={"part": PARTS[0], "count": count, "grams_each": each_grams}
        ),
        stamped("move", 3, group=group, count=count, **{"from": "machine"}, to="bag", to_bag=bag),
        stamped(
            "weigh", 4, part=PARTS[0], weighed_as="taken_off", pieces=1, basis="weighed", grams=grams, step_grams=1.0,
            with_fasteners=True,
        ),
    ]  # fmt: skip
    if used:
        entries.append(stamped("move", 5, group=group, count=used, **{"from": "bag"}, from_bag=bag, to="machine"))
    line = exact(entries)["lines"][PARTS[0]]
    assert math.isclose(line["change"][0], -grams + used * each_grams, abs_tol=1e-6)
    assert math.isclose(line["off"][0], grams)
