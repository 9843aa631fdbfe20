"""What one row of a table says of a torque: a range, a tolerance or an angle in one cell, and the one unit of it all.

"15–20 lbf ft" has one unit for both ends, "20 N·m + 90°" an angle; of two units in a row nobody knows which holds.
"""

from typing import Any

from .figures import NEWTON_METRES_IN, plain_digits
from .slips_asked import figure_apart
from .typed_quantities import DASHES, last_unit
from .unit_names import code_of

# What people type for either.
TOLERANCE, RANGE = ("±", "+/-", "+-"), ("-", "~", "…", "...", " to ", " bis ", " a ", " से ")
BRACKETS = "()[]{},;:/"


def unit_in_head(head: Any) -> Any:
    """The code of the one unit that a column's head names, "Torque (lbf ft)" or "Nm"; None of none and of two."""
    for mark in BRACKETS:
        head = str(head).replace(mark, "\n")
    named = [last_unit(each.strip(), "torque") for each in head.split("\n")]
    codes = sorted(set([each for each in named if each is not None]))
    return codes[0] if len(codes) == 1 else None


def cells_of_torque(said: dict[str, str], unit: Any) -> dict[str, Any]:
    """The fields of a specification's form out of a row's cells; `unit` holds where they name none.

    {"torque", "torque_high", "torque_tolerance", "torque_angle", "torque_unit", "units"}; the unit is None where it is
    not known here, "units" are the codes of all that the row names.
    """
    torque, high, tolerance, angle = parted(said.get("torque") or "")
    cells = {
        "torque": torque,
        "torque_high": high or said.get("torque_high"),
        "torque_tolerance": tolerance or said.get("torque_tolerance"),
    }
    units: list[str] = []
    for name in sorted(cells):
        if not str(cells[name] or "").strip("0123456789., "):
            continue
        apart = figure_apart(cells[name], "torque", NEWTON_METRES_IN)
        # What is in another unit than the forms offer stays with its figure.
        own = last_unit(cells[name], "torque") if apart is None else apart[1]
        if apart is not None:
            cells[name] = apart[0]
        if own is not None and own not in units:
            units.append(own)
    code: Any = units[0] if units else unit
    if said.get("unit"):
        code = code_of(said["unit"], "torque")
        if code is not None and code not in units:
            units.append(code)
    angle = angle or said.get("torque_angle") or ""
    return dict(cells, torque_unit=code, units=units, torque_angle=angle.replace("°", "").strip())


def parted(cell: str) -> tuple[str, str, str, str]:
    """(torque, upper end, tolerance, angle) of one cell; "" for what it does not say."""
    angle = ""
    if cell.rstrip().endswith("°"):
        cell, _, angle = cell.rpartition("+")
        if not cell:
            return (angle, "", "", "")
    plain = plain_digits("".join(["-" if c in DASHES else c for c in cell]))
    for marks in (TOLERANCE, RANGE):
        for mark in marks:
            at = _between(plain, mark)
            if at > 0:
                low, other = cell[:at].strip(), cell[at + len(mark) :].strip()
                return (low, "", other, angle) if marks is TOLERANCE else (low, other, "", angle)
    return (cell.strip(), "", "", angle)


def _between(plain: str, mark: str) -> int:
    """Where the mark stands between two figures, the first of which may have its unit; -1 where it does not."""
    at = plain.find(mark, 1)
    while at > 0:
        before, after = plain[:at], plain[at + len(mark) :].strip()
        if any([c in "0123456789" for c in before]) and after[:1] in tuple("0123456789"):
            return at
        at = plain.find(mark, at + 1)
    return -1
