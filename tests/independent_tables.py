"""Tables of standard fasteners that others keep: the CSV files of the package bd_warehouse 0.4.0 (Apache-2.0).

The package itself is not imported: what it needs to run is not installed. Without it these tests fail.
"""

import csv
from fractions import Fraction
from importlib.metadata import files, version

PACKAGE, VERSION = "bd_warehouse", "0.4.0"


def table(name: str) -> dict[str, dict[str, str]]:
    """A table's rows by their first column, less what is empty: {"M8-1.25": {"iso4014:s": "13", ...}}."""
    assert version(PACKAGE) == VERSION
    [path] = [file for file in files(PACKAGE) or () if file.name == name + ".csv"]
    with open(path.locate(), newline="", encoding="utf-8") as text:
        head, *rows = list(csv.reader(text))
    names = [each.strip() for each in head[1:]]
    return {row[0]: {n: cell for n, cell in zip(names, row[1:], strict=False) if cell} for row in rows if row}


def column(name: str, of: str) -> dict[float, str]:
    """A column of the metric sizes by diameter in mm, coarse pitch where there are several."""
    found: dict[float, str] = {}
    for size, row in table(name).items():
        if size.startswith("M") and of in row:
            found.setdefault(float(size[1:].split("-")[0]), row[of])
    assert found, of
    return found


def inches(text: str) -> float:
    """ "5/16", "0.25" or "1/4" as a number."""
    return float(Fraction(text))
