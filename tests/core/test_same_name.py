"""Names of people compared as both Pythons do, held against CPython's own knowledge of Unicode."""

import pytest

from cotterbook.core.second_check import same_name

# Latin-1, Greek without accents, Cyrillic: the runs that the rule knows (Unicode 16 code charts).
RUNS = [chr(code) for code in [*range(0x20, 0x100), *range(0x391, 0x3AA), *range(0x400, 0x460)] if chr(code).strip()]


@pytest.mark.parametrize("letter", RUNS)
def test_a_capital_and_its_small_letter_are_the_same(letter):
    # U+03A2 is no letter: the final sigma has no capital of its own.
    if letter != "\u03a2":
        assert same_name(letter) == letter.lower()


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [("Ann", " ann ", True), ("Ann  Lee", "ANN LEE", True), ("Ann", "Anna", False), ("Ann Lee", "Annlee", False),
     ("Ørsa", "øRSA", True), ("", None, True)],
)  # fmt: skip
def test_names_are_the_same_without_case_and_blanks(one, other, same):
    assert (same_name(one) == same_name(other)) is same
