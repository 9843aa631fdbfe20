"""The one door to the core: the phone's worker calls it, and so can tests and the PC.

Everything passes as JSON text, so that both sides of the door may be any runtime.
"""

import json
from typing import Any

from . import entries
from .acts import ACTS
from .acts_to_standard import STANDARD_ACTS
from .apart import say_what_was_known
from .choices import choices
from .conversion import convert_torque
from .forms import check_shape
from .in_the_shop import in_the_shop
from .kept_rows import Rows
from .machine_history import history
from .maker import Maker
from .specification_form import read_steps
from .specification_table import check_table, look_at_table
from .strip import Strip
from .torque_setting import torque_setting
from .typed_quantities import Typed, dimension_of, read_for, shown_typed
from .views import VIEWS
from .views_fasteners import beside
from .views_maps import look_at_map, make_map, merge_maps
from .words import Refused, problem


class Door:
    """Holds the strip-downs that are loaded. `new_id` gives a new UUIDv7 at each call."""

    def __init__(self, new_id: Any):
        self._new_id = new_id
        self._strips: dict[str, Strip] = {}

    def call(self, name: str, arguments_json: str) -> str:
        """Calls `name` with its arguments: JSON of {"result": ...} or {"problems": [...]}."""
        try:
            if name not in CALLS:
                raise Refused([problem("unknown_call", "", "There is no call {name}.", name=name)])
            return '{"result": ' + _json(CALLS[name](self, json.loads(arguments_json))) + "}"
        except Refused as refused:
            return json.dumps({"problems": refused.problems})

    def strip(self, strip: str) -> Strip:
        """The strip-down with this id, begun empty if it is not loaded."""
        if strip not in self._strips:
            self._strips[strip] = Strip(strip)
        return self._strips[strip]

    def _known(self, strip: str) -> Strip:
        """The strip-down, if it has any entry: work for one that nobody began would be lost from sight."""
        if strip not in self._strips or not self._strips[strip].entries:
            text = "This strip-down is not in the log of this phone. Go to all machines and open it there."
            raise Refused([problem("no_such_strip", "", text)])
        return self._strips[strip]

    def _load(self, arguments: dict[str, Any]) -> dict[str, Any]:
        strip = self.strip(arguments["strip"])
        strip.add(arguments["entries"])
        # A long log comes in pages: folding each as it comes leaves no call that takes longer than somebody waits.
        strip.counts()
        return {"entries": len(strip.entries), "last_at": strip.last_at}

    def _drop(self, arguments: dict[str, Any]) -> dict[str, Any]:
        self._strips.pop(arguments["strip"], None)
        return {}

    def _check(self, arguments: dict[str, Any]) -> dict[str, Any]:
        problems = entries.check(arguments["entry"])
        if problems:
            raise Refused(problems)
        return {}

    def _check_all(self, arguments: dict[str, Any]) -> dict[str, Any]:
        """Check entries until one is not right: its place among them, from 0, and its first problem; or neither."""
        for place, entry in enumerate(arguments["entries"]):
            problems = entries.check(entry)
            if problems:
                return {"place": place, "problem": problems[0]}
        return {"place": None, "problem": None}

    def _figure(self, arguments: dict[str, Any]) -> dict[str, Any]:
        unit = arguments.get("unit") or "g"
        dimension = dimension_of(unit)
        typed = read_for("figure", arguments["figure"], dimension, unit)
        return {"value": typed.value, "step": typed.step, "unit": typed.unit, "shown": shown_typed(typed, dimension)}

    def _torques(self, arguments: dict[str, Any]) -> dict[str, Any]:
        values, own = read_steps(arguments["figures"], arguments["unit"])
        return {"unit": own, "shown": [shown_typed(Typed(value, 0.0, own), "torque") for value in values]}

    def _view(self, arguments: dict[str, Any]) -> Any:
        if arguments["view"] not in VIEWS:
            raise Refused([problem("unknown_view", "", "There is no view {name}.", name=str(arguments["view"])[:40])])
        return VIEWS[arguments["view"]](self._known(arguments["strip"]), arguments)

    def _act(self, arguments: dict[str, Any]) -> dict[str, Any]:
        name, form = arguments["act"], arguments["form"]
        if name not in ACTS and name not in STANDARD_ACTS:
            raise Refused([problem("unknown_act", "", "There is no act {name}.", name=str(name)[:40])])
        problems = check_shape(form)
        if problems:
            raise Refused(problems)
        if name in STANDARD_ACTS:
            source, strip = self._known(form.get("of_strip") or ""), Strip(self._new_id())
            return STANDARD_ACTS[name](source, strip, form, Maker(strip.id, 0, arguments, self._new_id))
        strip = self._known(form["strip"]) if form.get("strip") else Strip(self._new_id())
        done = ACTS[name](strip, form, Maker(strip.id, strip.last_at, arguments, self._new_id))
        say_what_was_known(strip, done["entries"])
        return done

    def _torque_setting(self, arguments: dict[str, Any]) -> dict[str, Any]:
        problems = check_shape(arguments)
        if problems:
            raise Refused(problems)
        return torque_setting(self._known(arguments["strip"]), arguments)

    def _convert_torque(self, arguments: dict[str, Any]) -> dict[str, Any]:
        problems = check_shape(arguments)
        if problems:
            raise Refused(problems)
        return convert_torque(self._known(arguments["strip"]), arguments)

    def _history(self, arguments: dict[str, Any]) -> dict[str, Any]:
        return history(arguments)

    def _in_the_shop(self, arguments: dict[str, Any]) -> dict[str, Any]:
        return in_the_shop(arguments)

    def _fasteners(self, arguments: dict[str, Any]) -> dict[str, Any]:
        return beside(arguments)

    def _make_map(self, arguments: dict[str, Any]) -> dict[str, Any]:
        return make_map(self._known(arguments["strip"]), arguments)

    def _look_at_map(self, arguments: dict[str, Any]) -> dict[str, Any]:
        return look_at_map(arguments)

    def _merge_maps(self, arguments: dict[str, Any]) -> dict[str, Any]:
        return merge_maps(arguments)

    def _look_at_table(self, arguments: dict[str, Any]) -> dict[str, Any]:
        return look_at_table(arguments)

    def _check_table(self, arguments: dict[str, Any]) -> dict[str, Any]:
        problems = check_shape(arguments)
        if problems:
            raise Refused(problems)
        return check_table(self._known(arguments["strip"]), arguments)

    def _choices(self, arguments: dict[str, Any]) -> dict[str, Any]:
        return choices()


CALLS = {
    "load": Door._load,
    "drop": Door._drop,
    "check": Door._check,
    "check_all": Door._check_all,
    "figure": Door._figure,
    "torques": Door._torques,
    "view": Door._view,
    "act": Door._act,
    "choices": Door._choices,
    "fasteners": Door._fasteners,
    "history": Door._history,
    "in_the_shop": Door._in_the_shop,
    "torque_setting": Door._torque_setting,
    "convert_torque": Door._convert_torque,
    "make_map": Door._make_map,
    "look_at_map": Door._look_at_map,
    "merge_maps": Door._merge_maps,
    "look_at_table": Door._look_at_table,
    "check_table": Door._check_table,
}


def _json(result: Any) -> str:
    # The phone's json grows its text by a few bytes at a time: long lists are quicker written an item at a time.
    if isinstance(result, dict):
        return "{" + ", ".join([json.dumps(key) + ": " + _json(result[key]) for key in result]) + "}"
    if isinstance(result, Rows):
        return "[" + ", ".join(result.texts) + "]"
    if isinstance(result, list):
        return "[" + ", ".join([json.dumps(item) for item in result]) + "]"
    return json.dumps(result)


def start(new_id: Any) -> Any:
    """Opens the door; gives back its `call`. On the phone: call = phone.start(outside.new_id)."""
    return Door(new_id).call
