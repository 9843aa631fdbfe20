"""Units as people write them: the code of each, and what is wrong with one that cannot be meant.

A unit may be written with spaces, points, hyphens or raised points inside it and in
capitals; a torque has its force and its arm in either order.
"""

from typing import Any

from .unit_factors import AMBIGUOUS, FACTORS, WRITINGS
from .words import Refused, problem

INSIDE_UNITS = " .-_*·⋅×"
EXAMPLES = {
    "mass": "1.9 kg",
    "torque": "8 lbf ft",
    "length": "25 mm",
    "volume": "1.5 l",
    "distance": "140 km",
    "pressure": "2.5 bar",
}


def refused(code: str, text: str, **values: Any) -> Refused:
    """What is wrong with something typed, with no field: whoever has one adds it."""
    return Refused([problem(code, "", text, **values)])


def _squeezed(name: str) -> str:
    """A unit as written, without what may stand inside it, in small letters."""
    return "".join([c for c in name.lower().replace("³", "3").replace("²", "2") if c not in INSIDE_UNITS])


def _codes(table: str) -> dict[str, str]:
    if table not in _KNOWN:
        _KNOWN[table] = {word: code for code in WRITINGS[table] for word in WRITINGS[table][code].split(" ")}
    return _KNOWN[table]


_KNOWN: dict[str, dict[str, str]] = {}


def code_of(name: str, dimension: str) -> Any:
    """The code of a unit as somebody wrote it, or None when it is none of that dimension."""
    key = _squeezed(name)
    if dimension != "torque":
        return _codes(dimension).get(key) if dimension else None
    for cut in range(1, len(key)):
        code = _torque(key[:cut], key[cut:])
        if code is not None:
            return code
    return None


def _torque(first: str, second: str) -> Any:
    """The code of a force and its arm, in either order; "mN" is no metre newton but a thousandth of a newton."""
    force, arm = _codes("force").get(first), _codes("arm").get(second)
    if force is None or arm is None:
        force, arm = _codes("force").get(second), _codes("arm").get(first)
        if force is None or arm is None or force in ("N", "daN"):
            return None
    return force + "." + arm if force + "." + arm in FACTORS["torque"] else None


def known_code(name: str, dimension: str) -> str:
    """As `code_of`; Refused, with no field, for a unit that is not known or not one of the dimension."""
    code = code_of(name, dimension)
    if code is None:
        refuse_known(name, dimension)
        raise refused("unknown_unit", "The unit {unit} is not known here.", unit=name[:20])
    return str(code)


def refuse_known(name: str, dimension: str) -> None:
    """Raises Refused when the unit is known but may mean several, or measures something else."""
    key = _squeezed(name)
    for words in AMBIGUOUS:
        if key in words.split(" "):
            first, second = AMBIGUOUS[words]
            text = "“{unit}” may be {first} or {second}: write which."
            raise refused("ambiguous_unit", text, unit=name[:20], first=first, second=second)
    for other in sorted(FACTORS):
        if other != dimension and code_of(name, other) is not None:
            if dimension == "torque" and other == "mass":
                text = "“{unit}” alone is no torque. Write its arm too, such as {example}."
                raise refused("wrong_dimension", text, unit=name[:20], example=EXAMPLES["torque"])
            text = "“{unit}” is a unit of {other}; what is wanted here is {wanted}."
            wanted = {"label": dimension or "plain_number"}
            raise refused("wrong_dimension", text, unit=name[:20], other={"label": other}, wanted=wanted)
