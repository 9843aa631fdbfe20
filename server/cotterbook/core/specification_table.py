"""Torques that a person has as a table from the machine's own manual: which column is what, and each row checked.

Nothing of such a table is ever shipped. A row goes to fasteners that are written down already; what stands there is not
written over, and a row of a part that is foreseen and not off yet waits for it. `check_table` says of each row what
would become of it, and the act takes what a person then wants. How a cell is read is in `torque_cell`.
"""

from typing import Any

from .csv_reading import likely_delimiter, read_csv
from .entries import check_thing
from .fasteners import title
from .figures import read_figure
from .foreseen import all_foreseen, came_off_as
from .limits import CLOCK_LOW_MS
from .maker import Maker
from .maps_alike import has_specification, same_specification, specification_of, specification_words, thread_key
from .second_check import same_name
from .slips_torque import torque_questions
from .specification_form import specified
from .strip import Strip
from .thing import Thing
from .torque_cell import cells_of_torque, unit_in_head
from .torque_heads import NAMES, SIDE_OR_PAGE, condition_of, roles_by_word, side_of, words_of_head
from .words import Refused, problem, say

NEEDED = ("part", "torque")
STATES = ("fine", "asked", "same", "waits", "refused")
PREVIEW = 6
MOST_SHOWN = 60


def look_at_table(arguments: dict[str, Any]) -> dict[str, Any]:
    """What is in the text of a table: {"delimiter", "columns": how many, "preview": rows, "rows", "heads", "likely"}.

    "heads" is whether its first row names the columns; "likely" which role is which column, from 0. `delimiter` is None
    while nobody said. Refused where it is no table.
    """
    delimiter = arguments.get("delimiter") or likely_delimiter(str(arguments.get("text") or ""))
    rows = _without_title(read_csv(arguments.get("text"), delimiter))
    heads = not any([read_figure(cell.strip()) is not None for cell in rows[0][1] if cell.strip()])
    return {
        "delimiter": delimiter,
        "columns": max([len(cells) for _, cells in rows]),
        "preview": [{"line": line, "cells": [_short(cell) for cell in cells]} for line, cells in rows[:PREVIEW]],
        "rows": len(rows),
        "heads": heads,
        "likely": _likely(rows[0][1], [cells for _, cells in rows[1:]]) if heads else {},
    }


def _without_title(rows: list[tuple[int, list[str]]]) -> list[tuple[int, list[str]]]:
    """The rows from the first with two cells: what stands alone above them is the table's title, and says no torque."""
    for n in range(len(rows)):
        if len([cell for cell in rows[n][1] if cell.strip()]) > 1:
            return rows[n:]
    return rows


def _short(cell: str) -> str:
    return cell if len(cell) <= MOST_SHOWN else cell[:MOST_SHOWN] + "…"


def _likely(heads: list[str], rows: list[list[str]]) -> dict[str, int]:
    by_word, told = roles_by_word(), []
    for column in range(len(heads)):
        words = words_of_head(heads[column])
        roles = [by_word[word] for word in words if word in by_word]
        if any([word in SIDE_OR_PAGE for word in words]):
            cells = [row[column] for row in rows if column < len(row) and row[column].strip()]
            sides = [cell for cell in cells if side_of(cell) is not None]
            # Half of them: somebody may have written in a hurry.
            roles.append("side" if 2 * len(sides) >= max(1, len(cells)) else "torque_page")
        if unit_in_head(heads[column]):
            roles.append("torque")
        told.append(roles)
    found: dict[str, int] = {}
    for name in NAMES:
        for column in range(len(heads)):
            if column not in found.values() and name in told[column]:
                found[name] = column
                break
    return found


def check_table(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """What would become of each row: {"rows", "fine", "asked", "same", "waits", "refused"}.

    A row is {"line", "part", "what", "torque": words, "state", "why": sentences, "group"}. `text` is parted by
    `delimiter`; `heads` says whether the first row is no torque, `columns` {role: its number from 0, as text}, `unit`
    what holds where neither row nor head says one, `manual` which one it is. "waits" is a row of a part that a map
    foresees and that is not off yet: it can be taken once it is.
    """
    rows = [row for row, _ in _checked(strip, arguments)]
    states = [row["state"] for row in rows]
    return dict({state: states.count(state) for state in STATES}, rows=rows)


def take_specifications(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """The torques of every row that is fine; with `asked` also of those with a question, which somebody answered so."""
    wanted = ("fine", "asked") if form.get("asked") else ("fine",)
    try:
        found = [(row, values) for row, values in _checked(strip, dict(form, text=form.get("csv")))
                 if row["state"] in wanted]  # fmt: skip
    except Refused as refused:
        for each in refused.problems:
            make.problems.append(each)
        return make.done()
    for row, values in found:
        make.put(row["group"], "group", values, "")
    if not found:
        make.refuse("nothing", "", "No row of this table can be taken.")
    return make.done()


def _checked(strip: Strip, arguments: dict[str, Any]) -> list[tuple[dict[str, Any], dict[str, Any]]]:
    columns = _columns(arguments)
    rows = _without_title(read_csv(arguments.get("text"), arguments.get("delimiter") or ""))
    heads, by_name = rows[0][1] if arguments.get("heads") else [], _by_name(strip)
    unit = unit_in_head(heads[columns["torque"]]) if columns["torque"] < len(heads) else None
    asked = dict(arguments, unit=unit or arguments.get("unit") or "N.m")
    found: list[tuple[dict[str, Any], dict[str, Any]]] = []
    spoken_of: dict[str, int] = {}
    for line, cells in rows[1:] if heads else rows:
        said = {role: cells[columns[role]].strip() for role in columns if columns[role] < len(cells)}
        row = {"line": line, "part": said.get("part") or "", "what": "", "torque": "", "group": None}
        group, state, why = _group(strip, said, by_name)
        values: dict[str, Any] = {}
        if group is not None:
            row.update(group=group.id, what=title(group.values))
            values, why = _values(strip, said, asked)
            row["torque"] = specification_words(values)
            if why:
                state = "refused"
            else:
                state, why = _against(group, values, said, asked, spoken_of.get(group.id))
            spoken_of.setdefault(group.id, line)
        found.append((dict(row, state=state, why=why), values))
    return found


def _by_name(strip: Strip) -> dict[str, list[Thing]]:
    """All parts by what their names are compared by; those that are foreseen and not off yet among them."""
    came = came_off_as(strip)
    to_come = [each for each in all_foreseen(strip) if each.id not in came and not each.values.get("dropped")]
    found: dict[str, list[Thing]] = {}
    for part in list(strip.of_type("part")) + to_come:
        found.setdefault(same_name(part.values.get("name")), []).append(part)
    return found


def _columns(arguments: dict[str, Any]) -> dict[str, int]:
    columns = arguments.get("columns") or {}
    problems = [problem("missing", "columns." + role, "Say which column this is.") for role in NEEDED
                if columns.get(role) is None]  # fmt: skip
    for role in sorted(columns):
        column = columns[role]
        if column is not None and (role not in NAMES or len(str(column)) > 3 or not str(column)
                                   or str(column).strip("0123456789")):  # fmt: skip
            problems.append(problem("bad_form", "columns", "This part of the form cannot be read."))
    if problems:
        raise Refused(problems)
    return {role: int(columns[role]) for role in columns if columns[role] is not None}


def _group(strip: Strip, said: dict[str, str], by_name: dict[str, list[Thing]]) -> tuple[Any, str, list[Any]]:
    """The one group of fasteners that a row speaks of, or None; with the state of a row that has none, and why."""
    if not said.get("part"):
        return (None, "refused", [say("It names no part.")])
    parts = by_name.get(same_name(said["part"])) or []
    if not parts:
        return (None, "refused", [say("No part of this name is written down here.")])
    if said.get("side"):
        side = side_of(said["side"])
        parts = [part for part in parts if part.values.get("side") == side]
    if len(parts) != 1:
        return (None, "refused", [say("More than one part has this name: say which side.") if parts
                                  else say("The part of this name is on another side.")])  # fmt: skip
    if parts[0].type == "foreseen":
        words = "This part is foreseen and not off yet. Nothing of this row is kept: take the table again when it is."
        return (None, "waits", [say(words)])
    groups = strip.groups_of(parts[0].id)
    if said.get("thread"):
        groups = [each for each in groups if thread_key(each.values.get("thread")) == thread_key(said["thread"])]
    if len(groups) > 1 and said.get("sits"):
        groups = [each for each in groups if same_name(each.values.get("sits")) == same_name(said["sits"])]
    if len(groups) == 1:
        return (groups[0], "", [])
    if not groups:
        return (None, "refused", [say("The part has no such fasteners written down.")])
    words = "More than one kind of its fasteners fits: say the thread, or where they sit."
    return (None, "refused", [say(words)])


def _values(strip: Strip, said: dict[str, str], arguments: dict[str, Any]) -> tuple[dict[str, Any], list[Any]]:
    """The fields of the specification that a row says, and what is wrong with it."""
    make = Maker(strip.id, 0, {"now": CLOCK_LOW_MS, "device": strip.id, "who": "?"}, None)
    row, why = _row(said, arguments), []
    if not said.get("torque"):
        why.append(say("It says no torque."))
    if len(row["units"]) > 1:
        why.append(say("It says more than one unit: {units}.", units=[{"label": each} for each in row["units"]]))
    if row["torque_unit"] is None:
        why.append(say("Its unit is not known here."))
    if why and said.get("torque"):
        return ({}, why)
    if said.get("torque_condition") and row["torque_condition"] is None:
        why.append(say("Threads are dry, oiled, or with locking compound."))
    if not row["torque_page"]:
        why.append(say("Its page in the manual is missing."))
    found = specified(make, row, "")
    values = {name: found[name] for name in found if found[name] is not None}
    low, high = values.get("torque_low_newton_metres") or 0.0, values.get("torque_high_newton_metres")
    wrong = make.problems + (check_thing("group", values, False) if values else [])
    if high is not None and low > high:
        why.append(say("The range begins above its end."))
    said_of: dict[str, bool] = {}
    for each in wrong:
        if each["text"] not in said_of and not (each["code"] == "missing" and not said.get("torque")):
            said_of[each["text"]] = True
            why.append(say(each["text"], **each["values"]))
    return (values, why)


def _row(said: dict[str, str], arguments: dict[str, Any]) -> dict[str, Any]:
    """A row as a form for a specification has it, with all `units` that it names."""
    pages = [each for each in (str(arguments.get("manual") or "").strip(), said.get("torque_page")) if each]
    return dict(
        cells_of_torque(said, arguments["unit"]),
        torque_condition=condition_of(said.get("torque_condition")),
        torque_page=", ".join(pages),
    )


def _against(
    group: Thing, values: dict[str, Any], said: dict[str, str], arguments: dict[str, Any], before: Any
) -> tuple[str, list[dict[str, Any]]]:
    """What becomes of a row that can be read: against what stands there, another row, and what the thread bears."""
    if before is not None:
        return ("refused", [say("Line {line} speaks of the same fasteners.", line=before)])
    if has_specification(group.values):
        if same_specification(specification_of(group.values), values):
            return ("same", [say("This stands there already.")])
        stands = specification_words(group.values)
        return ("refused", [say("Another torque stands there: {torque}. Change it on its card.", torque=stands)])
    asked = torque_questions({"groups": [dict(_row(said, arguments), thread=group.values.get("thread"))], "index": 0})
    return ("asked" if asked else "fine", [each["sentence"] for each in asked])


TABLE_ACTS = {"take_specifications": take_specifications}
