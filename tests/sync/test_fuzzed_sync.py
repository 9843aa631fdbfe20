"""Ten thousand requests that no phone would send: each is refused or taken by the rules, none is a fault, none changes
what is held unless every entry of it was right.
"""

import json
import random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from anything import anything, scalars, strips_of
from cotterbook import create_app
from cotterbook.core.entries import check
from cotterbook.store import TinyStore
from examples import OTHER_STRIP, STRIP, entry

REQUESTS = 10_000
EVERYTHING = (10_000, 100_000_000)

@st.composite
def spoilt_entries(draw):
    """A right entry with one to three of its fields changed, taken away or added."""
    spoilt = dict(entry(draw(st.integers(100, 103))))
    for _ in range(draw(st.integers(1, 3))):
        name = draw(st.sampled_from([*sorted(spoilt), "surplus"]) if spoilt else st.just("surplus"))
        if draw(st.booleans()):
            spoilt.pop(name, None)
        else:
            spoilt[name] = draw(anything)
    return spoilt


strips = strips_of(spoilt_entries())
bodies = anything | st.fixed_dictionaries({}, optional={
    "version": st.just("0.1.0") | scalars, "device": st.just(entry(1)["by"]) | scalars, "strips": strips | anything,
    "store": st.none() | scalars, "unsent": anything, "now": anything})


@pytest.fixture(scope="module")
def target(tmp_path_factory):
    folder = tmp_path_factory.mktemp("fuzzed") / "data"
    store = TinyStore(folder)
    store.append(STRIP, [entry(n) for n in range(5)])
    app = create_app(folder, store)
    client = app.test_client()
    csrf = client.get("/api/hello", headers={"Host": "127.0.0.1"}).json["csrf"]

    def post(data):
        return client.post("/api/sync", data=data, headers={
            "Host": "127.0.0.1", "X-CSRFToken": csrf, "Content-Type": "application/json"})

    yield post, store
    store.close()


def held(store):
    return {strip: store.read(strip, 0, *EVERYTHING).entries for strip in (STRIP, OTHER_STRIP)}


def judge(post, store, data):
    before = held(store)
    answer = post(data)
    assert answer.status_code in (200, 400, 409, 413, 426), (answer.status_code, answer.data[:300])
    after = held(store)
    for strip in before:
        assert after[strip][: len(before[strip])] == before[strip]
        # What came in is right by the one rule, and was acknowledged by an answer that says so.
        for each in after[strip][len(before[strip]) :]:
            assert answer.status_code == 200 and check(each) == [] and each["strip"] == strip


@settings(max_examples=REQUESTS * 7 // 10, suppress_health_check=list(HealthCheck))
@given(body=bodies)
def test_bodies_of_any_shape(target, body):
    judge(*target, json.dumps(body).encode("utf-8", "surrogatepass"))


@settings(max_examples=REQUESTS * 2 // 10, suppress_health_check=list(HealthCheck))
@given(seed=st.integers(0, 2**32), count=st.integers(1, 8))
def test_right_requests_with_bytes_changed(target, seed, count):
    chosen = random.Random(seed)
    body = {"version": "0.1.0", "device": entry(1)["by"], "strips": {STRIP: {"cursor": 0, "entries": [entry(200)]}}}
    data = bytearray(json.dumps(body).encode())
    for _ in range(count):
        data[chosen.randrange(len(data))] = chosen.randrange(256)
    judge(*target, bytes(data[: chosen.choice([len(data), chosen.randrange(len(data) + 1)])]))


@settings(max_examples=REQUESTS // 10, suppress_health_check=list(HealthCheck))
@given(data=st.binary(max_size=200))
def test_bytes_of_any_kind(target, data):
    judge(*target, data)


@pytest.mark.parametrize("data", [
    b"[" * 100_000, b'{"a":' * 100_000, b'{"strips":' + b"[" * 500_000 + b"]" * 500_000 + b"}",
    b'{"device":"' + b"\xff\xfe" + b'"}', b'\xef\xbb\xbf{}', b'{"n":1e999}', b'{"n":' + b"9" * 5_000 + b"}",
    b'{"n":NaN}', b"\x00" * 1_000, b'{"strips":{"' + b"x" * 900_000 + b'":{}}}'])
def test_deep_huge_and_broken_json(target, data):
    judge(*target, data)
