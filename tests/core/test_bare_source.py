"""What phones fetch of the core does the very same as its source, line by line."""

import ast

import pytest

from cotterbook import resources
from cotterbook.bare_source import bare_source

MODULES = sorted((resources.PACKAGE / "core").glob("*.py"))


def meaning(text):
    """The syntax tree with the numbers of its lines, without docstrings."""
    tree = ast.parse(text)
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef) and ast.get_docstring(node, False) is not None:
            node.body = node.body[1:]
        if isinstance(node, ast.ClassDef | ast.FunctionDef):
            node.body = [each for each in node.body if not isinstance(each, ast.Pass)]
    for node in ast.walk(tree):
        # Where nothing but a docstring stood, what it stood in ends sooner.
        ends = ("end_lineno",) if isinstance(node, ast.ClassDef | ast.FunctionDef) else ()
        for name in ("col_offset", "end_col_offset", *ends):
            if hasattr(node, name):
                setattr(node, name, 0)
    return ast.dump(tree, include_attributes=True)


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_each_module_is_the_same_without_what_only_people_read(path):
    text = path.read_text(encoding="utf-8")
    bare = bare_source(text)
    assert meaning(bare) == meaning(text)
    assert bare.count("\n") == text.count("\n") and len(bare) <= len(text)
    assert not any(ast.get_docstring(node, False) for node in ast.walk(ast.parse(bare))
                   if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef))


@pytest.mark.parametrize(("text", "bare"), [
    ("", ""),
    ('"""Doc."""\nX = 1\n', "\nX = 1\n"),
    ('class A(B):\n    """Doc.\n\n    More.\n    """\n\n\nX = 1', "class A(B):\n    pass\n\n\n\n\n\nX = 1"),
    ('def f():\n    """Doc."""\n    # why\n    return "# no comment"\n', 'def f():\n\n\n    return "# no comment"\n'),
    ('X = """\n# not a comment\n"""\n# one\nY = 2', 'X = """\n# not a comment\n"""\n\nY = 2'),
    ('def f():\n    """Doc."""', "def f():\n    pass"),
])
def test_a_text_keeps_its_lines_and_a_body_that_was_a_docstring_is_one_still(text, bare):
    assert bare_source(text) == bare
