"""Label papers: their grids stand on their pages, whose sizes are published."""

import pytest

from cotterbook.core.tag_papers import PAPERS, lines_on, paper_of

# Millimetres: ISO 216:2007 table 1 (A4); ANSI/ASME Y14.1-2020 table 1 (size A, 8.5 in by 11 in).
PUBLISHED = {"a4": (210.0, 297.0), "letter": (8.5 * 25.4, 11 * 25.4)}
CODES = [paper["code"] for paper in PAPERS]


@pytest.mark.parametrize("code", CODES)
def test_every_label_is_on_its_page_and_none_on_another(code):
    paper = paper_of(code)
    assert paper["code"] == code and len(set(CODES)) == len(CODES)
    boxes = [
        (paper["left"] + column * paper["across"], paper["top"] + row * paper["down"])
        for row in range(paper["rows"])
        for column in range(paper["columns"])
    ]
    for left, top in boxes:
        assert 0 <= left <= left + paper["wide"] <= paper["page_wide"] + 1e-9
        assert 0 <= top <= top + paper["high"] <= paper["page_high"] + 1e-9
    # The grid stands in the middle: turned round, the sheet is the same.
    right, foot = boxes[-1][0] + paper["wide"], boxes[-1][1] + paper["high"]
    assert paper["page_wide"] - right == pytest.approx(paper["left"], abs=0.002)
    assert paper["page_high"] - foot == pytest.approx(paper["top"], abs=0.002)
    assert paper["across"] >= paper["wide"] and paper["down"] >= paper["high"]


@pytest.mark.parametrize("code", [code for code in CODES if not code.startswith("roll")])
def test_pages_are_of_the_published_sizes(code):
    paper = paper_of(code)
    assert (paper["page_wide"], paper["page_high"]) == pytest.approx(PUBLISHED[paper["page"]])


def test_a_label_holds_the_lines_that_are_let_onto_it():
    assert {code: lines_on(paper_of(code)) for code in ("letter_30", "a4_21", "a4_plain", "a4_8")} == {
        "letter_30": 1, "a4_21": 4, "a4_plain": 9, "a4_8": 13}  # fmt: skip


def test_a_paper_that_is_not_known_is_the_first():
    assert paper_of("of another program") is paper_of(None) is PAPERS[0]
