"""From a key the likely threads, never one as certain; from a thread the usual keys; neither ever by an exception."""

import json

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from cotterbook.core import phone
from cotterbook.core.heads import across_flats
from cotterbook.core.keys import MOST, NOTE, likely_threads
from cotterbook.core.named_keys import read_key
from cotterbook.core.threads import THREADS, coarse, read_thread, thread_named
from cotterbook.core.threads_table import INCH
from cotterbook.core.usual_keys import usual_keys
from cotterbook.core.views_fasteners import usual_key
from cotterbook.core.words import spoken
from independent_tables import column

HEADS = ("hex", "flange_hex", "nut", "stud", "socket_cap", "button", "countersunk", "hexalobular", "cross", "slot")
# ISO 4762, ISO 4014 and JIS B 1180 sizes; which thread comes first is common practice on motorcycles, no source.
FIRST = {
    "6 mm hex key": "M8", "5 mm allen": "M6", "8 mm hex key": "M10", "12 mm socket": "M8", "10 mm spanner": "M6",
    "8 mm socket": "M6", "13 mm ring": "M8", "14": "M10×1.25", "17 mm": "M10", "19 mm spanner": "M12", "6": "M8",
    "10": "M6", "8": "M6", "T30": "M6", "PH2": "M5", "7/16 AF": "1/4-28 UNF", "1/4 BSF": "1/4-26 BSF",
}  # fmt: skip
# Widths across the flats of spanners marked for Whitworth bolts, in inches (from memory): a size below BS ones.
WHITWORTH = {"1/4 W": 0.525, "5/16 W": 0.600, "3/8 W": 0.710, "7/16 W": 0.820, "1/4 BS": 0.445, "5/16 BS": 0.525}
HOSTILE = (
    "", " ", "mm", "hex key", "0", "0 mm", "1/0", "1/0 AF", "1e9", "9" * 40, "6" * 41, "६ mm" * 100, "²", "６",
    "\x00", "🔩", "T", "PH", "x" * 2000, "6 mm " * 400, None, 6, 6.0, True, [], {}, b"6",
)  # fmt: skip


@pytest.mark.parametrize("key", FIRST)
def test_the_likeliest_comes_first(key):
    assert likely_threads(key)[0]["thread"] == FIRST[key]


@pytest.mark.parametrize("key", WHITWORTH)
def test_whitworth_spanners(key):
    assert read_key(key).size / INCH == pytest.approx(WHITWORTH[key])


@pytest.mark.parametrize(
    ("file", "theirs", "head"),
    [
        ("socket_head_cap_parameters", "iso4762:s", "socket_cap"), ("hex_head_parameters", "iso4014:s", "hex"),
        ("hex_head_parameters", "din931:s", "hex"), ("hex_nut_parameters", "iso4032:s", "nut"),
        ("hex_head_with_flange_parameters", "din1662:s", "flange_hex"),
        ("hex_head_with_flange_parameters", "din1665:s", "flange_hex"),
        ("cheese_head_parameters", "iso14580:recess", "hexalobular"),
        ("raised_cheese_head_parameters", "iso7045:recess", "cross"),
    ],
)  # fmt: skip
def test_a_key_of_another_table_leads_to_its_thread(file, theirs, head):
    """Every size of bd_warehouse 0.4.0 that is ours too: with the head known its thread is among the likely ones."""
    compared = 0
    for d, size in column(file, theirs).items():
        # Theirs has the flats of a real bolt for some (5.82 for 6 mm).
        if coarse(d) is not None and (not size[0].isdigit() or float(size) in (5.5, *range(2, 31))):
            names = [each["thread"] for each in likely_threads(size if not size[0].isdigit() else size + " mm", head)]
            assert coarse(d).name in names, (d, size)
            compared += 1
    assert compared >= 5


@pytest.mark.parametrize("head", HEADS)
def test_the_usual_key_leads_back_to_its_thread(head):
    listed = 0
    for thread in THREADS:
        for each in usual_keys(thread, head):
            assert read_key(each["key"]) is not None and spoken(each["why"])
            found = [one["thread"] for one in likely_threads(each["key"], head)]
            # Fine threads that are seldom met are not offered; their size is.
            sizes = [thread_named(name).diameter for name in found]
            assert thread.diameter in sizes, (thread.name, each)
            listed += 1
    assert listed


def test_usual_keys_as_people_write_them():
    """ISO 4014, DIN 931, JIS B 1180; ISO 10664; ISO 7045; ISO 1207; ASME B18.2.1; BS 1083."""
    written = {
        ("M10", "hex"): ["16 mm", "17 mm", "14 mm"], ("M6", "hexalobular"): ["T30"], ("M6", "button"): ["4 mm", "T30"],
        ("M8", "countersunk"): ["5 mm", "T45"], ("M12", "button"): ["8 mm"], ("M5", "cross"): ["PH2"],
        ("M6", "slot"): ["1.6 mm blade"], ("1/4-20 UNC", "hex"): ["7/16 AF"], ("1/4-20 BSW", "nut"): ["1/4 BS"],
        ("#10-32 UNF", "socket_cap"): ["5/32 AF"], ("M8", "clip"): [], ("M8", None): [],
    }  # fmt: skip
    for (name, head), keys in written.items():
        assert [each["key"] for each in usual_keys(thread_named(name), head)] == keys
    for thread in THREADS:
        for head in HEADS[:7]:
            flats = {round(each, 3) for each, _ in across_flats(head, thread)}
            keys = [read_key(each["key"]) for each in usual_keys(thread, head)]
            assert {round(key.size, 3) for key in keys if key.kind != "hexalobular"} == flats


sizes = st.one_of(
    st.integers(0, 40).map(str), st.floats(0.5, 40).map(lambda size: f"{size:.1f}"),
    st.sampled_from(["1/4", "5/16", "3/8", "7/16", "1/2", "9/16", "5/8", "3/4", "T30", "E5", "E12", "PH1", "0.8"]),
)  # fmt: skip
kinds = st.sampled_from(
    ["", " mm", " mm hex key", " mm socket", " spanner", " AF", " W", " BS", " in key", " blade", "T", " slot", '"']
)
heads = st.one_of(st.none(), st.sampled_from([*HEADS, "clip", "pin", "other", ""]))


@given(sizes, kinds, heads)
@example("E12", "", None)
@example("30", " mm socket", None)
@example("2", " mm hex key", "button")
@example("", "0.8 slot", None)
def test_never_one_thread_as_certain(size, kind, head):
    found = likely_threads(size + kind, head)
    assert len(found) <= MOST
    assert len({each["thread"] for each in found}) != 1
    pairs = [(each["thread"], each["head"]) for each in found]
    assert len(set(pairs)) == len(pairs)
    for each in found:
        assert read_thread(each["thread"]) is thread_named(each["thread"])
        assert head is None or each["head"] == head
        assert spoken(each["why"])


@pytest.mark.parametrize("key", HOSTILE, ids=lambda key: repr(key)[:30])
def test_a_key_that_says_nothing_leads_nowhere(key):
    assert likely_threads(key) == []


@given(st.one_of(st.text(), st.none(), st.integers(), st.floats(), st.booleans()), heads)
def test_any_key_is_read_or_not(key, head):
    read = read_key(key)
    assert read is None or read.size is None or read.size > 0
    assert len({each["thread"] for each in likely_threads(key, head)}) != 1


plain = st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=60), sizes,
                  st.sampled_from(["M8", "6 mm", "hex", "steel", "loose_nut", "9" * 2000]))  # fmt: skip
typed = st.dictionaries(st.sampled_from("thread key head grade grip into engagement groups values x".split()), plain)


@given(st.one_of(plain, typed))
def test_whatever_is_typed_is_answered_or_refused(arguments):
    answer = json.loads(phone.start(lambda: "")("fasteners", json.dumps(arguments)))
    assert ("result" in answer) != ("problems" in answer)
    if "result" in answer:
        result = answer["result"]
        assert (result["note"] is None) == (not result["likely"])
        assert result["note"] is None or result["note"]["text"] == NOTE
    for each in answer.get("problems", []):
        assert set(each) == {"code", "field", "text", "values"}


def test_a_button_head_is_first_a_hexagons():
    """A part's page says nothing beside the key that the standard has, and names that one where another is typed."""
    assert usual_key(thread_named("M6"), "button", "4 mm") is None
    assert "4 mm" in spoken(usual_key(thread_named("M6"), "button", "5 mm"))
    assert "30" in spoken(usual_key(thread_named("M6"), "hexalobular", ""))
