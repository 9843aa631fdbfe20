"""What no phone would send, for the fuzzed requests: any JSON, with names and versions that mean something among it."""

from hypothesis import strategies as st

from examples import OTHER_STRIP, STRIP, entry

scalars = st.one_of(
    st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=8),
    st.sampled_from([STRIP, OTHER_STRIP, entry(1)["id"], "0.1.0", "set", "strip", 2**53, -1, 2**64, "\ud800", "\0"]))
anything = st.recursive(
    scalars, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner, max_size=3),
    max_leaves=6)


def strips_of(entries: st.SearchStrategy[object]) -> st.SearchStrategy[object]:
    """The `strips` of a request that sends such entries, right or not."""
    return st.dictionaries(
        st.sampled_from([STRIP, OTHER_STRIP]) | st.text(max_size=5),
        anything | st.fixed_dictionaries({}, optional={
            "cursor": scalars, "entries": anything | st.lists(entries | anything, max_size=3)}), max_size=2)
