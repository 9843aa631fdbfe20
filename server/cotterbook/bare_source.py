"""Python's source without what only people read: a phone fetches a quarter less of the core.

Every line that is left stands where it stood, so that a traceback of a phone names the lines of the source.
"""

DOCSTRING = '"""'


def bare_source(text: str) -> str:
    """The source with its docstrings, and the comments that have a line of their own, as empty lines.

    It goes by lines, as parsing takes a PC thirty times as long at each start: a docstring begins its line with three
    quotation marks, as no other text of the core does. A test parses every module both ways.
    """
    lines, found = text.split("\n"), []
    in_docstring = in_text = False
    for number, line in enumerate(lines):
        begins, marks = line.lstrip(), line.count(DOCSTRING)
        if in_docstring:
            in_docstring = marks == 0
            found.append("")
        elif in_text:
            in_text = marks == 0
            found.append(line)
        elif begins.startswith(DOCSTRING):
            in_docstring = marks == 1
            indent = len(line) - len(begins)
            found.append(" " * indent + "pass" if _is_alone(lines, number, indent) else "")
        else:
            in_text = marks == 1
            found.append("" if begins.startswith("#") else line)
    return "\n".join(found)


def _is_alone(lines: list[str], number: int, indent: int) -> bool:
    """Whether a docstring is all there is of what it stands in."""
    closed = number if lines[number].count(DOCSTRING) > 1 else next(
        later for later in range(number + 1, len(lines)) if DOCSTRING in lines[later]
    )  # fmt: skip
    for line in lines[closed + 1 :]:
        if line.strip() and not line.lstrip().startswith("#"):
            return len(line) - len(line.lstrip()) < indent
    return True
