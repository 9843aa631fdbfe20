"""The origin of the pages: chosen once, kept, and changed only by a decision."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cotterbook.errors import Problem
from cotterbook.trust.origin import Origin, checked_host, choose_origin, kept_origin


def code_of(call, *arguments, **named):
    with pytest.raises(Problem) as found:
        call(*arguments, **named)
    return found.value.code


def test_a_name_of_its_own_is_chosen_once_and_kept(tmp_path):
    assert kept_origin(tmp_path) is None
    first = choose_origin(tmp_path, None, None, 8350)
    assert re.fullmatch(r"https://cotterbook-[a-hjkmnp-z2-9]{4}\.local:8350", str(first))
    assert choose_origin(tmp_path, None, None, 9999) == kept_origin(tmp_path) == first
    assert choose_origin(tmp_path, first.host.upper() + ".", first.port, 1) == first


def test_another_is_refused_unless_it_is_chosen_anew(tmp_path):
    choose_origin(tmp_path, "shop.local", 8350, 1)
    assert code_of(choose_origin, tmp_path, "bench.local", None, 1) == "other_origin"
    assert code_of(choose_origin, tmp_path, None, 8351, 1) == "other_origin"
    assert kept_origin(tmp_path) == Origin("shop.local", 8350)
    assert choose_origin(tmp_path, "192.168.1.20", None, 8350, anew=True) == kept_origin(tmp_path)
    assert kept_origin(tmp_path) == Origin("192.168.1.20", 8350)


def test_of_an_origin_that_is_chosen_anew_only_what_is_given_changes(tmp_path):
    choose_origin(tmp_path, "shop.local", 8350, 1)
    assert choose_origin(tmp_path, None, 8355, 1, anew=True) == Origin("shop.local", 8355) == kept_origin(tmp_path)
    assert choose_origin(tmp_path, "bench.local", None, 1, anew=True) == Origin("bench.local", 8355)
    named = choose_origin(tmp_path, None, None, 1, anew=True)
    assert named == kept_origin(tmp_path) and named.port == 8355 and named.host.startswith("cotterbook-")
    # Where nobody can tell what it was, nothing of it stays.
    (tmp_path / "origin.json").write_bytes(b"{")
    assert choose_origin(tmp_path, "shop.local", None, 8351, anew=True) == Origin("shop.local", 8351)


def test_a_new_name_is_taken_once_however_often_it_is_asked_for(tmp_path):
    """As a script does that starts the program: the same options each time."""
    choose_origin(tmp_path, "shop.local", 8350, 1)
    named = choose_origin(tmp_path, None, None, 1, anew=True)
    assert named.host != "shop.local"
    assert [choose_origin(tmp_path, None, None, 1, anew=True) for _ in range(3)] == [named] * 3 and (
        kept_origin(tmp_path) == named)
    # A start without it ends that, and then another may be asked for.
    assert choose_origin(tmp_path, None, None, 1) == named
    assert choose_origin(tmp_path, None, None, 1, anew=True) != named
    (tmp_path / "first").mkdir()
    first = choose_origin(tmp_path / "first", None, None, 1, anew=True)
    assert choose_origin(tmp_path / "first", None, None, 1, anew=True) == first


def test_the_ordinary_port_is_not_named():
    assert (str(Origin("shop.local", 443)), Origin("shop.local", 443).authority) == ("https://shop.local", "shop.local")
    assert Origin("shop.local", 8350).authority == "shop.local:8350"


@pytest.mark.parametrize("text", [
    "", " ", "8.8.8.8", "127.0.0.1", "::1", "fe80::1", "a_b.local", "-a.local", "a..b", "shop.local:80", "http://shop",
    "localhost", "x" * 64 + ".local", ".".join(["a" * 60] * 5), "shöp.local", "shop local", "256.1.1.1", "<b>", "\0"])
def test_what_is_no_name_or_private_address_is_refused(tmp_path, text):
    assert code_of(checked_host, text) == "bad_host"


@given(st.text())
def test_any_text_is_a_host_or_refused(text):
    try:
        assert re.fullmatch(r"[a-z0-9.-]{1,253}", checked_host(text))
    except Problem as problem:
        assert problem.code == "bad_host"


@pytest.mark.parametrize("data", [b"", b"{}", b"[]", b'{"host":"8.8.8.8","port":1}', b'{"host":1,"port":"x"}', b"\xff",
    b'{"host":"shop.local","port":99999}', b'{"host":"shop.local","port":0}', b'{"host":"shop.local","port":1e999}'])
def test_a_damaged_file_is_reported_and_nothing_chosen_in_its_place(tmp_path, data):
    (tmp_path / "origin.json").write_bytes(data)
    assert code_of(choose_origin, tmp_path, None, None, 8350) == "origin_damaged"
    assert (tmp_path / "origin.json").read_bytes() == data
