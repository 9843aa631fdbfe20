"""The log of one strip-down, folded into its state.

The state depends on the set of entries alone, never on the order they arrived
in: entries are filed under the thing they speak of (`filing`), in their own order,
and a thing touched by a new entry is folded anew from its own entries only. So a
new entry costs what its thing holds, not what the log holds, and one that comes
late is right at once.
"""

from typing import Any

from . import mass, readings
from .apart import HANDLING, unseen_at_goings, unseen_of
from .came_off_with import with_the_part
from .fastener_mass import fastener_amount
from .fasteners import Ledger, begins_in
from .fields import value_before
from .filing import SPELLS, WEIGH_INS, Filing
from .group_needs import group_needs
from .kept_rows import KeptRows
from .of_types import OfTypes
from .ordering import in_order
from .thing import Thing, key_of
from .totals import Totals
from .work_entries import spells_of

# A group goes to these as a whole, so that its first move follows its count; what lies beside it does not.
GOES_WHOLE = ("machine", "bag")


class Strip(Filing):
    """A strip-down: `add` entries, then read things, ledgers and lines."""

    def __init__(self, strip: str):
        super().__init__(strip)
        self._things: dict[str, Thing] = {}
        self._of_types = OfTypes()
        self._totals = Totals()
        self._groups_of: dict[str, dict[str, bool]] = {}
        self._part_of: dict[str, str] = {}
        self._ledgers: dict[str, Ledger] = {}
        self._masses: dict[str, dict[str, Any]] = {}
        self._lines: dict[str, mass.Line] = {}
        self.kept = KeptRows()
        # Made by `find_index` at the first search, and by nothing else.
        self.found_by: Any = None

    def _refresh(self) -> None:
        while self._stale:
            subject = self._stale.pop()
            old = self._things.get(subject)
            thing = Thing(subject, self._filed.get(subject, []), self.is_struck)
            self._things[subject] = thing
            self._of_types.file(thing)
            # With a part that is struck, or is no longer, its groups count no more, or again.
            if subject == SPELLS or thing.type == "part" and (old is None or old.alive) != thing.alive:
                self._lines = {}
                self._totals.all_stale()
            self._forget_ledger(subject)
            self._forget_masses(subject)
            for group in self._groups_of.get(subject, ()):
                self._forget_ledger(group)
            for part in self._weighed_on.get(subject, ()):
                self._forget_masses(part)
            if thing.type == "group":
                # Where its fasteners are says whether they are given back to its part's line.
                self._forget_line(self._part_of.get(subject, ""))
                self._file_group(thing)
                self._forget_line(self._part_of[subject])

    def _forget_ledger(self, group: str) -> None:
        self._ledgers.pop(group, None)
        self._totals.stale(group)

    def _forget_masses(self, part: str) -> None:
        self._masses.pop(part, None)
        self._forget_line(part)

    def _forget_line(self, part: str) -> None:
        self._lines.pop(part, None)
        self._totals.stale(part)

    def _file_group(self, group: Thing) -> None:
        part = group.values.get("part") or ""
        self._groups_of.get(self._part_of.get(group.id, ""), {}).pop(group.id, None)
        self._groups_of.setdefault(part, {})[group.id] = True
        self._part_of[group.id] = part

    def thing(self, thing: str) -> Any:
        """The thing with this id, alive or struck, or None if no entry speaks of it."""
        self._refresh()
        return self._things.get(thing)

    def of_type(self, thing_type: str) -> list[Thing]:
        """All things of a type that are not struck, nor part of one that is, by their first entry."""
        return [thing for thing in self._all_of_type(thing_type) if self.counts_at_all(thing)]

    def struck_of_type(self, thing_type: str) -> list[Thing]:
        """The things of a type that were written down by mistake."""
        return [thing for thing in self._all_of_type(thing_type) if not thing.alive]

    def struck_groups(self) -> list[Thing]:
        """The groups of fasteners that are struck, or whose part is."""
        return [group for group in self._all_of_type("group") if not self.counts_at_all(group)]

    def _all_of_type(self, thing_type: str) -> list[Thing]:
        self._refresh()
        return [self._things[thing] for thing in self._of_types.of(thing_type)]

    def counts_at_all(self, thing: Thing) -> bool:
        """Whether a thing is neither struck nor a group of a part that is. What was to be done for one still is."""
        if not thing.alive or thing.type != "group":
            return thing.alive
        part = self._things.get(thing.values.get("part") or "")
        return part is None or part.alive

    def groups_of(self, part: str) -> list[Thing]:
        """The fastener groups of a part, by their first entry."""
        self._refresh()
        groups = [self._things[group] for group in self._groups_of.get(part, ())]
        return _in_order([group for group in groups if group.alive and group.type == "group"])

    def ledger(self, group: str) -> Ledger:
        """Where the group's fasteners are."""
        self._refresh()
        if group not in self._ledgers:
            self._ledgers[group] = self._fold_ledger(self._things[group], None)
        return self._ledgers[group]

    def _fold_ledger(self, group: Thing, key: Any) -> Ledger:
        """The group's ledger, or what it was just before an entry with this (at, id)."""
        ledger, handled = self.handling(group, key)
        for entry in handled:
            ledger.take(entry)
        return ledger

    def handling(self, group: Thing, before: Any = None) -> tuple[Ledger, list[dict[str, Any]]]:
        """The group's ledger before anything was done to it, and what was done, in order; up to `before`, an (at, id).

        Among it, as kinds of `came_off_with`, when its part came off and went on again.
        """
        part, values = self.thing(group.values.get("part") or ""), group.values
        steps = len(values.get("torque_steps_newton_metres") or ())
        begins = begins_in(part.values if part is not None else {})
        ledger = Ledger(values.get("count") or 0, begins, steps, values.get("head"))
        handled = self._handled(group, ledger.count, begins)
        placed = with_the_part(handled, part, before)
        ledger.unseen = unseen_of(self.filed(group.id), handled)
        ledger.unseen.update(unseen_at_goings(placed, ledger.unseen))
        return (ledger, placed)

    def needs(self, group: str) -> list[str]:
        """What a group still wants before it is done, as `group_needs` says."""
        ledger, thing = self.ledger(group), self._things[group]
        return group_needs(ledger, self.thing(thing.values.get("part") or ""), thing)

    def _handled(self, group: Thing, count: int, begins: str) -> list[dict[str, Any]]:
        """A group's moves, tightenings, marks and checks; where it went on or off as a whole first, it counts as now.

        So a corrected count needs no second entry, and two people who correct it
        apart are in dispute over one number instead of adding theirs together.
        """
        handled = group.of_kind(*HANDLING)
        moves = [entry for entry in handled if entry["kind"] == "move"]
        if moves and count:
            said = value_before(group.fields.get("count"), "count", key_of(moves[0]))
            if moves[0]["count"] == said and moves[0]["from"] == begins and moves[0]["to"] in GOES_WHOLE:
                whole = dict(moves[0], count=count)
                return [whole if entry is moves[0] else entry for entry in handled]
        return handled

    def masses(self, part: str) -> dict[str, Any]:
        """The part's mass in each state it was weighed in."""
        self._refresh()
        if part not in self._masses:
            thing = self._things[part]
            pieces = thing.values.get("pieces") or 1
            self._masses[part] = readings.state_masses(thing.of_kind("weigh"), pieces, self.scale)
        return self._masses[part]

    def scale(self, scale: str) -> Any:
        """What the card of a scale says, its fields by name; None where there is no such card."""
        self._refresh()
        thing = self._things.get(scale)
        return thing.values if thing is not None and thing.alive and thing.type == "scale" else None

    def line(self, part: str) -> mass.Line:
        """The part's line in the mass statement."""
        self._refresh()
        if part not in self._lines:
            thing, spell, before = self._things[part], self.last_spell(), None
            if spell is not None:
                key = key_of(spell["begins"])
                before = {name: value_before(thing.fields.get(name), name, key) for name in ("off", "outcome_done")}

            def fasteners(then: bool) -> list[tuple[int, int, Any]]:
                return self._fasteners_of(part, key_of(spell["begins"]) if then and spell is not None else None)

            self._lines[part] = mass.line(thing.values, self.masses(part), before, fasteners)
        return self._lines[part]

    def change_between(self, part: str, earlier: Any, later: Any = None) -> Any:
        """What a part changed from just before one entry, by its (at, id), to just before another, as an amount.

        `earlier` None stands for the machine as it came in, `later` None for now; None when a mass is not known.
        """
        self._refresh()
        thing = self._things[part]
        after = thing.values if later is None else dict(thing.values, **self.standing_before(thing, later))
        before = {} if earlier is None else self.standing_before(thing, earlier)

        def fasteners(then: bool) -> list[tuple[int, int, Any]]:
            return self._fasteners_of(part, earlier if then else later)

        return mass.line(after, self.masses(part), before, fasteners).spell_change

    @staticmethod
    def standing_before(part: Thing, key: Any) -> dict[str, Any]:
        """Whether a part was off, and its outcome done, just before the entry with this (at, id)."""
        return {name: value_before(part.fields.get(name), name, key) for name in ("off", "outcome_done")}

    def _fasteners_of(self, part: str, key: Any) -> list[tuple[int, int, Any]]:
        """Of each group of a part: how many are on the machine, in bags, and the mass of one; before `key` if given."""
        found = []
        for group in self.groups_of(part):
            ledger = self.ledger(group.id) if key is None else self._fold_ledger(group, key)
            in_bags = sum([ledger.places[place] for place in ledger.places if place[0] == "bag"])
            found.append((ledger.on, in_bags, fastener_amount(group.id, group.values)))
        return found

    def spells(self) -> list[dict[str, Any]]:
        """Spells of work in order: {"spell", "begins": entry, "ends": entry or None, "people"}."""
        self._refresh()
        return spells_of(self._things[SPELLS].of_kind("work") if SPELLS in self._things else [])

    def last_spell(self) -> Any:
        """The spell that began last, ended or not, or None."""
        spells = self.spells()
        return spells[-1] if spells else None

    def weigh_ins(self) -> list[dict[str, Any]]:
        """Weighings of the whole machine, in order."""
        self._refresh()
        return self._things[WEIGH_INS].of_kind("weigh_in") if WEIGH_INS in self._things else []

    def sums(self) -> dict[str, Any]:
        """The three sums, an amount each, and how many parts lack a mass they need."""
        self._refresh()
        found = self._totals.sums(self)
        return found if self.last_spell() else dict(found, spell=None)

    def counts(self) -> dict[str, int]:
        """How many parts, parts off, fasteners, fasteners out and lost, open items and disputes there are."""
        self._refresh()
        return self._totals.counts(self)


def _in_order(things: list[Thing]) -> list[Thing]:
    return in_order(things, lambda thing: key_of(thing.first))
