"""What tables for spreadsheets are made of: their columns, and cells that several tables have.

A column is (key, name as a sentence, unit, kind). What a cell of a kind holds, None where nothing is known:

- "text" what a person wrote, "word" a choice's code, "words" a list of codes, "fields" a list of fields' names,
  "sentence" as of `words.say`;
- "number", with the column's unit; "yes_no" true or false; "moment" ms since 1970.

Nothing in a table is rounded or formatted. An uncertainty is an expanded one, k = 2, and more where it rests on few
readings.
"""

from typing import Any

from .strip import Strip
from .thing import Thing
from .things import THINGS
from .words import say

CHOICE_KINDS = {"choice": "word", "boolean": "yes_no", "integer": "number", "measure": "number", "date": "text"}


def column(key: str, name: str, kind: str = "text", unit: str = "") -> list[Any]:
    """A column of a table."""
    return [(key, say(name), unit, kind)]


def known(key: str, name: str, unit: str) -> list[Any]:
    """The column of a figure, and that of its expanded uncertainty."""
    spread = say("{figure}, uncertainty", figure=say(name))
    return [(key, say(name), unit, "number"), (key + "_uncertainty", spread, unit, "number")]


def columns(*found: list[Any]) -> list[Any]:
    """Columns together, in their order."""
    return [each for one in found for each in one]


def of_fields(thing_type: str, wanted: Any) -> list[Any]:
    """The columns of a thing's own fields, as (field, name, unit), their kinds by the rules for that field."""
    kinds = {field[0]: field[1] for field in THINGS[thing_type]}
    return [(field, say(name), unit, CHOICE_KINDS.get(kinds[field], kinds[field])) for field, name, unit in wanted]


def pair(amount: Any) -> list[Any]:
    """The two cells of an amount in grams: the figure and its expanded uncertainty."""
    return [None, None] if amount is None else [amount.grams, amount.expanded]


def whose(part: Any) -> list[Any]:
    """The cells of `WHOSE`: which part something belongs to."""
    return [None, None] if part is None else [part.values.get("name"), part.values.get("side")]


WHOSE = columns(column("part", "Part"), column("side", "Side", "word"))


def disputed(thing: Thing) -> list[str]:
    """The fields that people gave different values apart, of which the row shows one."""
    return sorted([name for name in thing.fields if thing.fields[name].disputed])


def struck_why(strip: Strip, entry: dict[str, Any]) -> Any:
    """Why an entry was struck as a mistake; None where it stands."""
    strike = strip.striker(entry["id"])
    return None if strike is None else strike["why"]
