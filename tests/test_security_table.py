"""The page of security points: it names tests that exist and leaves out no point of levels 1 and 2.

Beside it stand two looks at the source, for points that no request shows: nothing runs commands or makes code of text.
"""

import ast
import re
from functools import cache
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[1]
PAGE = (ROOT / "tests" / "security.md").read_text("utf-8")

# OWASP ASVS 5.0.0, 5.0/docs_en/OWASP_Application_Security_Verification_Standard_5.0.0_en.csv in github.com/OWASP/ASVS:
# each section with a point of level 1 or 2, and how many of these it has. In every section they come first, numbered
# from 1. Together 253: 70 of level 1, 183 of level 2.
SECTIONS = (
    ("1.1", 2), ("1.2", 9), ("1.3", 11), ("1.4", 3), ("1.5", 2), ("2.1", 3), ("2.2", 3), ("2.3", 4), ("2.4", 1),
    ("3.2", 2), ("3.3", 4), ("3.4", 6), ("3.5", 5), ("3.7", 2), ("4.1", 3), ("4.2", 1), ("4.3", 2), ("4.4", 4),
    ("5.1", 1), ("5.2", 3), ("5.3", 2), ("5.4", 3), ("6.1", 3), ("6.2", 12), ("6.3", 4), ("6.4", 4), ("6.5", 5),
    ("6.6", 3), ("6.8", 4), ("7.1", 3), ("7.2", 4), ("7.3", 2), ("7.4", 5), ("7.5", 2), ("7.6", 2), ("8.1", 2),
    ("8.2", 3), ("8.3", 1), ("8.4", 1), ("9.1", 3), ("9.2", 4), ("10.1", 2), ("10.2", 2), ("10.3", 4), ("10.4", 11),
    ("10.5", 5), ("10.6", 2), ("10.7", 3), ("11.1", 2), ("11.2", 3), ("11.3", 3), ("11.4", 4), ("11.5", 1),
    ("11.6", 1), ("12.1", 3), ("12.2", 2), ("12.3", 4), ("13.1", 1), ("13.2", 5), ("13.3", 2), ("13.4", 5),
    ("14.1", 2), ("14.2", 4), ("14.3", 3), ("15.1", 3), ("15.2", 3), ("15.3", 7), ("16.1", 1), ("16.2", 5),
    ("16.3", 4), ("16.4", 3), ("16.5", 3), ("17.1", 1), ("17.2", 4), ("17.3", 2),
)
POINTS = [f"{section}.{number}" for section, count in SECTIONS for number in range(1, count + 1)]

A_TEST = re.compile(r"`(tests/[\w/]+\.py)::(\w+)`")
A_PAGE = re.compile(r"`([\w/]+\.md)`")
# What a row may say instead of a test, each with its reason behind it.
WITHOUT = re.compile(r"(NOT MET|not shown|n/a)\b.{12,}")

COMMANDS = {"subprocess", "pty", "commands"}
OBJECTS = {"pickle", "marshal", "shelve", "dill", "yaml", "xml"}
CODE = {"eval", "exec", "compile", "__import__"}
OF_THE_SYSTEM = re.compile(r"os\.(system|popen|exec\w+|spawn\w+|posix_spawnp?|startfile)")
MARKUP = re.compile(
    r"innerHTML|outerHTML|insertAdjacentHTML|dangerouslySetInnerHTML|srcdoc|document\.write|DOMParser"
    r"|createContextualFragment|\beval\s*\(|new Function|javascript:")


class Row(NamedTuple):
    """One row of a chapter's table."""

    points: str
    words: str
    how: str
    shown: str


def rows():
    """The rows of all chapters; those of other tables begin with no number."""
    lines = [line for line in PAGE.splitlines() if re.match(r"\| \d", line)]
    return [Row(*(cell.strip() for cell in line.strip().removeprefix("|").removesuffix("|").split("|")))
            for line in lines]


def named(points):
    """The points and sections of a first cell: "1.2.6 to 1.2.8" are three, "6.2" is a whole section."""
    for each in points.split(", "):
        first, _, last = each.partition(" to ")
        if not last:
            yield first
            continue
        section, _, begin = first.rpartition(".")
        assert last.rpartition(".")[0] == section, points
        yield from (f"{section}.{number}" for number in range(int(begin), int(last.rpartition(".")[2]) + 1))


@cache
def names_in(path):
    """The names of a file's tests, by its syntax: nothing of it is run."""
    return {each.name for each in ast.parse((ROOT / path).read_text("utf-8")).body if isinstance(each, ast.FunctionDef)}


def test_there_are_as_many_points_as_the_standard_has():
    assert len(POINTS) == len(set(POINTS)) == 253


def test_every_point_is_there_once_and_no_other():
    told = [each for row in rows() for each in named(row.points)]
    sections = dict(SECTIONS)
    points = [point for each in told for point in (
        [f"{each}.{number}" for number in range(1, sections[each] + 1)] if each in sections else [each])]
    assert sorted(points) == sorted(POINTS)


def test_every_test_that_is_named_exists():
    found = A_TEST.findall(PAGE)
    assert len(found) > 150
    missing = {f"{path}::{name}" for path, name in found if not name.startswith("test_") or name not in names_in(path)}
    assert missing == set()
    # A name in another shape would not have been looked up.
    assert PAGE.count("::") == len(found)


def test_no_row_is_empty_and_each_says_how_it_is_known():
    for row in rows():
        assert all(len(cell) >= 3 for cell in row), row
        pages = A_PAGE.findall(row.shown)
        assert all((ROOT / each).is_file() for each in pages), row
        assert A_TEST.search(row.shown) or pages or WITHOUT.match(row.shown), row


def test_the_program_runs_no_commands_and_unpacks_no_objects():
    files = sorted((ROOT / "server" / "cotterbook").rglob("*.py"))
    assert len(files) > 100
    for path in files:
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            imported = [each.name for each in node.names] if isinstance(node, ast.Import) else []
            imported += [node.module or ""] if isinstance(node, ast.ImportFrom) and not node.level else []
            assert not {each.split(".")[0] for each in imported} & (COMMANDS | OBJECTS), (path, imported)
            if isinstance(node, ast.Call):
                called = ast.unparse(node.func)
                assert called not in CODE and not OF_THE_SYSTEM.fullmatch(called), (path, called)


def test_the_pages_make_no_markup_or_code_from_text():
    files = [path for path in sorted((ROOT / "webui").rglob("*.js")) if "vendor" not in path.parts]
    assert len(files) > 80
    found = {path.name: hit[0] for path in files if (hit := MARKUP.search(path.read_text("utf-8")))}
    assert found == {}
