"""Every text that the program may say to a person, as it stands in the code: the keys of the tables of languages.

`python tests/web/texts.py` tells which of them a table of `webui/languages` lacks, and which it has for nothing.

In JavaScript a text is what `t` is called with, what a sentence holds as `text`, a word of `labels.js`, and any literal
that is a whole sentence. In Python it is what `say`, `problem` and the like are called with, and in core any literal
that is a whole sentence. What is no text for a person may be among them; a table then says the same.
"""

import ast
import json
import re
from collections.abc import Iterator
from pathlib import Path

from cotterbook.core.ordinary_parts import ORDINARY_PARTS
from cotterbook.error_table import ERRORS

ROOT = Path(__file__).resolve().parents[2]
LANGUAGES = ROOT / "webui" / "languages"
LITERAL = re.compile(r'"((?:[^"\\\n]|\\.)*)"')
CALLS = ("say", "words", "problem", "refuse", "lacks", "column", "known", "Refused")
TOLD_TO_PHONES = range(400, 500)
# What names an option, a folder or a file was asked for by a command, and is said in English there.
TOLD_IN_A_TERMINAL = re.compile(r"--|\{(?:folder|file|database|target|host|strip)\}")
UNSPOKEN = ("lengths", "share_", "phone", "threads_table", "unit_factors")
OPENS, CLOSES = "([{", ")]}"


def texts() -> set[str]:
    """All texts, in English."""
    errors = [text for _, status, text in ERRORS if status in TOLD_TO_PHONES and not TOLD_IN_A_TERMINAL.search(text)]
    return set(_of_the_pages()) | set(_of_python()) | set(errors) | {part[0] for part in ORDINARY_PARTS}


def table(code: str) -> dict[str, str]:
    """The table of a language."""
    return json.loads((LANGUAGES / f"{code}.json").read_text(encoding="utf-8"))


def gaps(text: str) -> set[str]:
    """The names of the gaps of a text."""
    return set(re.findall(r"\{(\w+)\}", text))


def _of_the_pages() -> Iterator[str]:
    for path in sorted((ROOT / "webui").rglob("*.js")):
        if "vendor" in path.parts:
            continue
        source = path.read_text(encoding="utf-8")
        for argument in _arguments_of_t(source):
            yield from map(_unquoted, LITERAL.findall(argument))
        yield from _worded(map(_unquoted, re.findall(r'\btext: "((?:[^"\\\n]|\\.)*)"', source)))
        literals = map(_unquoted, LITERAL.findall(source))
        yield from _worded(each for each in literals if re.fullmatch(r"[A-Z{].* .*[.?!]", each, re.DOTALL))
        if path.name == "labels.js":
            yield from map(_unquoted, re.findall(r':\s*"((?:[^"\\\n]|\\.)*)"', source))


def _unquoted(literal: str) -> str:
    try:
        return str(json.loads(f'"{literal}"'))
    except ValueError:
        return ""


def _worded(found: Iterator[str]) -> Iterator[str]:
    """Those that have a word, and are no code."""
    for each in found:
        if re.search(r"[A-Za-z]{2}", each) and not re.fullmatch(r"[a-z0-9_.]+", each):
            yield each


def _arguments_of_t(source: str) -> Iterator[str]:
    """The first argument of each call of `t`, whatever stands in it."""
    for call in re.finditer(r"(?<![\w.])t\(", source):
        depth, quoted, at = 0, "", call.end()
        while at < len(source):
            letter = source[at]
            if quoted:
                at += letter == "\\"
                quoted = "" if letter == quoted else quoted
            elif letter in "\"'`":
                quoted = letter
            elif letter in OPENS:
                depth += 1
            elif letter in CLOSES:
                depth -= 1
            if depth < 0 or (letter == "," and depth == 0 and not quoted):
                break
            at += 1
        yield source[call.end() : at]


def _of_python() -> Iterator[str]:
    for path in sorted((ROOT / "server").rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        said = {id(each) for call in ast.walk(tree) if _is_said(call) for each in ast.walk(call)}
        firsts = {id(call.args[0]) for call in ast.walk(tree) if _is_said(call, ("say", "words")) and call.args}
        documents = {id(node.body[0].value) for node in ast.walk(tree) if _is_documented(node)}
        for node in ast.walk(tree):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in documents:
                spoken = "core" in path.parts and not path.name.startswith(UNSPOKEN)
                # A head of a table is any word that begins with a capital there.
                head = path.name.startswith("tables")
                sentence = spoken and re.fullmatch(r"[A-Z{].*" if head else r"[A-Z{].* .*", node.value, re.DOTALL)
                worded = re.search(r"[a-z]{2}", node.value)
                if worded and id(node) in firsts:
                    yield node.value
                elif worded and (sentence or (id(node) in said and re.match(r"[A-Z{]|.* ", node.value))):
                    yield from _worded(iter([node.value]))


def _is_said(node: ast.AST, calls: tuple[str, ...] = CALLS) -> bool:
    if not isinstance(node, ast.Call):
        return False
    name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
    return name in calls


def _is_documented(node: ast.AST) -> bool:
    if not isinstance(node, ast.Module | ast.FunctionDef | ast.ClassDef) or not node.body:
        return False
    first = node.body[0]
    return isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant)


if __name__ == "__main__":
    every = texts()
    for path in sorted(LANGUAGES.glob("*.json")):
        have = set(table(path.stem))
        print(path.stem, "lacks", sorted(every - have), "has for nothing", sorted(have - every))
