"""Making entries from a form: envelopes, the clock, and problems named by the form's own fields."""

from typing import Any

from .entries import check
from .figures import read_figure
from .limits import CLOCK_HIGH_MS, CLOCK_LOW_MS, READ_IN
from .typed_quantities import KEPT_IN, read
from .words import Refused, problem

# Where a form's field is named otherwise than the entry's.
FORM_NAMES = {
    "length_millimetres": "length",
    "engagement_millimetres": "engagement",
    "grams": "figure",
    "low_grams": "figure",
    "high_grams": "figure_high",
    "step_grams": "step",
    "plus_minus_grams": "plus_minus",
    "label": "bag_label",
    "torque_low_newton_metres": "torque",
    "torque_high_newton_metres": "torque_high",
    "torque_angle_degrees": "torque_angle",
    "torque_tolerance_newton_metres": "torque_tolerance",
    "torque_steps_newton_metres": "torque_steps",
    "newton_metres": "torque",
    "setting_newton_metres": "setting",
    "prevailing_newton_metres": "prevailing",
    "lever_millimetres": "lever",
    "adapter_millimetres": "adapter",
    "low_newton_metres": "low",
    "high_newton_metres": "high",
    "step_newton_metres": "step",
    "deviation_percent": "deviation",
    "angle_degrees": "angle",
    "front_grams": "front",
    "rear_grams": "rear",
    "standard_grams": "standard",
    "aim_grams": "aim",
    "capacity_grams": "capacity",
    "zero_grams": "zero",
    "known_grams": "known",
    "known_plus_minus_grams": "known_plus_minus",
    "tare_grams": "tare",
    "rider_grams": "rider",
    "kilometres": "odometer",
    "retorque_kilometres": "retorque_distance",
    "front_higher_millimetres": "front_higher",
    "rear_raised_millimetres": "rear_raised",
    "across_permille": "across",
    "down_permille": "down",
    "used_again_why": "why",
}
for _field in READ_IN:
    FORM_NAMES[_field[0]] = "value"
    FORM_NAMES["as_found_" + _field[0]] = "as_found"

# How far ahead of this clock another may be and still be followed: a day covers a wrong date or time zone.
AHEAD_MS = 24 * 3_600_000


class Maker:
    """Collects the entries of one act, and everything that is wrong with the form.

    `now` is the device's clock in ms; the entries' `at` follow it but never fall
    behind an entry already seen (hybrid logical clock), unless that one is from a
    clock far ahead: one wrong clock must not set everybody's. `new_id` gives UUIDv7s.
    """

    def __init__(self, strip: str, last_at: int, stamp: dict[str, Any], new_id: Any):
        self.strip, self.new_id = strip, new_id
        self.entries: list[dict[str, Any]] = []
        self.problems: list[dict[str, Any]] = []
        self._at = last_at if last_at <= stamp["now"] + AHEAD_MS else 0
        self.now: int = stamp["now"]
        self._stamp = stamp
        if not CLOCK_LOW_MS <= stamp["now"] <= CLOCK_HIGH_MS:
            self.refuse("clock", "", "This phone's clock is set wrong. Set it, then save again; nothing is lost.")
        if not self.who:
            self.refuse("missing", "who", "Say who is working first.")

    @property
    def who(self) -> str:
        """Who does the act, as its entries will say."""
        return (self._stamp.get("who") or "").strip()

    def refuse(self, code: str, field: str, text: str, **values: Any) -> None:
        """Notes a problem, the first of each field; with any, the act as a whole makes no entry."""
        if field in [each["field"] for each in self.problems]:
            return
        self.problems.append(problem(code, field, text, **values))

    def follow(self, entry: dict[str, Any]) -> None:
        """What is made from now on holds only after this entry: it comes later in the order, whatever its clock."""
        self._at = max(self._at, entry["at"])

    def entry(self, kind: str, prefix: str, **own: Any) -> str:
        """Makes an entry from the fields that are given (None is not) and returns its id."""
        self._at = max(self._stamp["now"], self._at + 1)
        entry = {name: value for name, value in own.items() if value is not None}
        entry.update(
            id=self.new_id(),
            strip=self.strip,
            kind=kind,
            at=self._at,
            by=self._stamp["device"],
            who=(self._stamp.get("who") or "?").strip(),
        )
        named = [each["field"] for each in self.problems]
        for wrong in check(entry):
            field = wrong["field"].replace("values.", "")
            field = prefix + FORM_NAMES.get(field, field)
            # One reason a field: what follows from a figure or a clock already refused would only confuse.
            if field not in named and not (wrong["field"] == "at" and "" in named):
                self.problems.append(dict(wrong, field=field))
        self.entries.append(entry)
        return str(entry["id"])

    def put(self, thing: str, thing_type: str, values: dict[str, Any], prefix: str, saw: Any = None) -> str:
        """Makes a `set` of the values that are given."""
        given = {name: value for name, value in values.items() if value is not None}
        return self.entry("set", prefix, thing=thing, type=thing_type, values=given, saw=saw) if given else ""

    def figure(
        self, form: dict[str, Any], name: str, prefix: str, measure: str = "", unit: Any = "", signed: bool = False
    ) -> Any:
        """A typed quantity in g, N.m, mm, l, km or kPa, or plain; None where nothing is typed; bad ones are refused.

        `measure` is "mass", "torque", "length", "volume", "distance", "pressure" or "" for a figure alone; a unit
        typed with the figure counts before `unit`, the field's.
        """
        typed = self._read(form, name, prefix, measure, unit, signed)
        return None if typed is None else typed.value

    def resolution(self, form: dict[str, Any], name: str, prefix: str, measure: str, unit: Any) -> Any:
        """What one step of the last typed digit is worth, or None where nothing is typed."""
        typed = self._read(form, name, prefix, measure, unit, False)
        return None if typed is None else typed.step

    def _read(self, form: dict[str, Any], name: str, prefix: str, measure: str, unit: Any, signed: bool) -> Any:
        text = given(form, name)
        if text is None:
            return None
        try:
            return read(text, measure, unit or KEPT_IN[measure], signed)
        except Refused as refused:
            for each in refused.problems:
                self.refuse(each["code"], prefix + name, each["text"], **each["values"])
            return None

    def done(self, **ids: Any) -> dict[str, Any]:
        """{"entries": [...]} and the ids given; raises Refused if anything was wrong."""
        if not self.entries and not self.problems:
            self.refuse("nothing", "", "There is nothing to save.")
        if self.problems:
            raise Refused(self.problems)
        return dict(ids, entries=self.entries)


def given(form: dict[str, Any], name: str) -> Any:
    """A form's value, with blank text as None; text is trimmed."""
    value = form.get(name)
    if isinstance(value, str):
        value = value.strip()
    return None if value == "" else value


def whole(form: dict[str, Any], name: str) -> Any:
    """A whole number as typed or tapped; what is none is left for `check` to refuse."""
    value = given(form, name)
    if isinstance(value, str):
        read = read_figure(value)
        return int(read[0]) if read is not None and read[0] == int(read[0]) else value
    return value
