"""Names of people compared as both Pythons do, held against CPython's own knowledge of Unicode."""

import json
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cotterbook.core.letters_alike import ABOVE, BELOW, MARKED
from cotterbook.core.second_check import same_name

# Latin with all that Europe and Vietnam write, Greek with accents, Cyrillic: the letters that the rule knows.
RUNS = [*range(0x20, 0x250), *range(0x370, 0x400), *range(0x400, 0x460), *range(0x1E00, 0x1F00)]
# The last is an apostrophe and an n in one, out of use, and signs are compared more widely than Unicode does.
NO_NAMES = (0xAA, 0xBA, 0x374, 0x149)
LETTERS = [chr(code) for code in RUNS if unicodedata.category(chr(code))[0] == "L" and code not in NO_NAMES]


def caseless(text):
    """What Unicode compares two writings by (version 14, chapter 3, D145): canonical caseless matching."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFD", text).casefold())


def test_each_letter_is_the_same_as_unicode_says():
    for letter in LETTERS:
        assert unicodedata.normalize("NFC", same_name(letter)) == caseless(letter), letter
        for form in ("NFC", "NFD"):
            assert same_name(unicodedata.normalize(form, letter)) == same_name(letter), letter


def test_a_mark_apart_is_the_same_as_in_one_piece_in_whatever_order_it_was_typed():
    for mark in MARKED:
        number = next((each for each in BELOW if mark in BELOW[each]), ABOVE)
        assert number == unicodedata.combining(mark)
    assert same_name("e\u0302\u0323") == same_name("e\u0323\u0302") == same_name("Ệ")


@given(st.text(st.sampled_from(LETTERS + sorted(MARKED)), min_size=1, max_size=6))
def test_two_writings_are_the_same_as_unicode_says(text):
    # A mark before any letter has none to be on.
    text = "x" + text
    for form in ("NFC", "NFD"):
        assert same_name(unicodedata.normalize(form, text)) == same_name(text)
    assert unicodedata.normalize("NFC", same_name(text)) == caseless(text)


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [("Ann", " ann ", True), ("Ann  Lee", "ANN LEE", True), ("Ann", "Anna", False), ("Ann Lee", "Annlee", False),
     ("Ørsa", "øRSA", True), ("", None, True), ("Šárka", "šárka", True), ("Łukasz", "łukasz", True),
     ("Άννα", "άννα", True), ("Jos\u00e9", "Jose\u0301", True), ("José", "Jose", False), ("Ñu", "Nu", False)],
)  # fmt: skip
def test_names_are_the_same_without_case_and_blanks(one, other, same):
    assert (same_name(one) == same_name(other)) is same


@pytest.mark.parametrize(
    ("one", "other"),
    [("O'Brien", "O\u2019Brien"), ("Ann Lee", "Ann\u00a0Lee"), ("Ann", "Ann\u200b"), ("Ann-Lee", "Ann\u2011Lee"),
     ("Ann", "Ann. "), ("A. Lee", "A Lee"), ("D\u02bcArcy", "d\u2019arcy"), ("Ann\u2060 Lee", "Ann\u202fLee")],
)  # fmt: skip
def test_signs_as_two_keyboards_put_them_make_no_second_person(one, other):
    """The signs: Unicode 14, general punctuation; that phones put them so: common practice, no source."""
    assert same_name(one) == same_name(other) != same_name("Bo")


def test_a_sign_between_two_letters_still_tells_names_apart():
    assert same_name("Ann-Lee") != same_name("Annlee") != same_name("Ann Lee") != same_name("Ann-Lee")
    assert same_name("O'Brien") != same_name("Obrien")


def test_a_name_is_text_that_can_be_kept():
    assert json.loads(json.dumps(same_name("Šárka"))) == same_name("ŠÁRKA")
