"""How the fasteners of a group that are on the machine are held: tight, marked, looked at, or loose."""

from typing import Any

from .apart import Unseen, many, noted
from .positions import Positions
from .second_check import SecondCheck

# Held by their own spring or by being deformed: counted back, never torqued or marked.
NOT_TIGHTENED = ("clip", "rivet", "pin")


class Held:
    """Of the fasteners on the machine, how many are tight and marked, after each entry.

    `untouched` ones stayed as they came, `loose` ones are in, not tightened, `tight` ones are, `marked` ones of those
    carry a line. `steps` is how many steps the manual has before the last one: a fastener at one of them
    is loose still. `check` tells of how many another person looked at, as they are now: of the marked ones, or, of
    those that are never tightened, by their `head`, of those that went in; `not_right` how many of the latter somebody
    found not right that were not out since, nor found right with all the others.

    What a phone did not know (see `apart`) may be the same as what it did, and is not counted twice. `note` is what
    followed from that for the last entry, `apart` what still wants a hand.
    """

    def __init__(self, untouched: int, steps: int, head: Any):
        self.steps, self.is_tightened = steps, head not in NOT_TIGHTENED
        self.check = SecondCheck()
        # How many have had each step since they were last loose, by the step's number.
        self.at_step: dict[int, int] = {}
        # How many that were tight each tightening turned once more, by its id: the lines across those are gone.
        self._once_more: dict[str, int] = {}
        self.untouched = untouched
        self.loose = self.tight = self.marked = self.not_right = 0
        self._positions = Positions()
        self.note: Any = None
        self.apart: Any = None

    def work(self, entry: dict[str, Any], unseen: Unseen) -> None:
        """A tightening, a mark, a look or a waiver; `unseen` is what its phone did not know."""
        if entry["kind"] == "tighten":
            self._tightened(entry, unseen)
        elif entry["kind"] == "witness":
            self._marked(entry, unseen)
        elif entry["kind"] == "second_check" and entry["found"] == "right":
            self._looked(entry, unseen)
        elif entry["kind"] == "second_check":
            self._not_right(entry, unseen)
        elif entry["kind"] == "waive":
            self._waived(entry, unseen)

    def finish(self) -> None:
        """After an entry whose phone knew of all before it: where it was the last thing wanted, nothing is open."""
        if self.marked == self.tight and not (self.loose and self.is_tightened):
            self.apart = None

    def came_out(self, count: int, unseen: Unseen) -> None:
        """So many left the machine; which of them is not known: what stays is taken to be the loose ones."""
        self._positions.forget()
        from_tight = min(self.tight, count)
        from_untouched = min(self.untouched, count - from_tight)
        self.tight -= from_tight
        self.untouched -= from_untouched
        self.loose = max(0, self.loose - (count - from_tight - from_untouched))
        self.not_right = max(0, self.not_right - count)
        self._lose_marks(count, count)
        if not self.loose:
            self.at_step = {}
        self._forget_work(unseen)

    def went_in(self, count: int, who: Any) -> None:
        """So many were put in, loose."""
        self.loose += count
        if not self.is_tightened:
            # What holds by its own spring is done by whoever put it in.
            self.check.worked(who)

    def _tightened(self, entry: dict[str, Any], unseen: Unseen) -> None:
        step = entry.get("step") or self.steps + 1
        there = self.loose + self.tight + self.untouched
        if not there:
            # A torque on what is off the machine holds nothing: somebody else took it out meanwhile.
            return
        if step == 1 and entry["count"] >= there and not unseen.work():
            # All of them from the first step on: what others did before is undone.
            self.check.begun_anew()
        self.check.worked(entry["who"])
        places, same = self._positions.of(entry), many(unseen.same_step())
        if step <= self.steps:
            self._step(step, entry["count"], places, same)
            return
        # What others took out meanwhile may be what was tightened, and what they put in is not.
        stay_loose, gone = min(self.loose, many(unseen.came_loose("to"))), many(unseen.came_loose("from"))
        count = max(0, min(entry["count"] - gone, there - stay_loose))
        doubtful = min(entry["count"], there) - count
        if doubtful:
            places = []  # Which of them it holds nobody wrote down.
            self._note_apart("loose", entry, unseen.came_loose("from") or unseen.came_loose("to"))
            # Nor do those that stayed as they came: one of them may have been tightened, and wants its mark.
            touched = min(self.untouched, doubtful)
            self.untouched -= touched
            self.loose += touched
            stay_loose += touched
            # It may as well have turned some that are in, and whose lines were drawn before.
            self._turned(entry, min(doubtful, max(0, self.marked - many(unseen.marks()))))
        if not count:
            self._positions.doubt(entry, there)
            return
        # With untouched ones about, these may be the ones meant: what was done to the others stands.
        if count >= there and not same:
            self.apart = None
            self._positions.none_hold()
        self._positions.apply(entry, places, there)
        again = min(self.tight, len(self._positions.with_step(step) & set(places)))
        same = min(same, self.tight - again, count - again)
        if same and self.note is None and min(self.loose + self.untouched, count - again) > count - again - same:
            self._note_apart("same", entry, unseen.same_step())
        self._tighten(entry, count, again + same, stay_loose)
        self._positions.take(step, places, step)

    def _marked(self, entry: dict[str, Any], unseen: Unseen) -> None:
        if self.tight:
            self.check.worked(entry["who"])
        without, loose = self.tight - self.marked, unseen.came_loose("from") or unseen.came_loose("to")
        same = min(entry["count"], self.marked, many(unseen.marks()))
        turned = [each for each in unseen.work() if self._once_more.get(each["id"])]
        again = sum([self._once_more[each["id"]] for each in turned])
        most = entry["count"] - same - many(unseen.came_loose("from"))
        unmarked = max(0, min(most, without - many(unseen.came_loose("to"))) - again)
        if unmarked < min(entry["count"], without):
            for code, others in (("loose", loose), ("same", unseen.marks()), ("turned", turned)):
                if others and self.note is None:
                    self._note_apart(code + "_marked", entry, others)
        self.marked += unmarked
        self._lose_marks(0, entry["count"] - unmarked)

    def _looked(self, entry: dict[str, Any], unseen: Unseen) -> None:
        """A look that found them right; what was done to them unseen nobody looked at."""
        if unseen.work():
            self.note = self.check.blind = noted("looked", entry, unseen.work())
            return
        same = min(entry["count"], self.check.checked, many(unseen.looks()))
        if same and self.checkable > self.check.checked:
            self._note_apart("same_looked", entry, unseen.looks())
        if self.not_right and unseen.found_not_right():
            self.note = self.check.blind = noted("looked", entry, unseen.found_not_right())
            return
        self.check.look(entry, self.checkable, same)
        # Who finds some right and some not writes both down: what is right is the others, as far as there are any.
        self.not_right = min(self.not_right, max(0, self.checkable - self.check.checked))

    def _waived(self, entry: dict[str, Any], unseen: Unseen) -> None:
        """The owner does without a look, but not over what somebody found meanwhile."""
        if unseen.found_not_right():
            self.note = self.check.blind = noted("waived", entry, unseen.found_not_right())
        else:
            self.check.waived = entry

    def _note_apart(self, code: str, entry: dict[str, Any], others: list[dict[str, Any]]) -> None:
        self.note = self.apart = noted(code, entry, others)

    def _not_right(self, entry: dict[str, Any], unseen: Unseen) -> None:
        """What another person found wrong is tight for nobody any more, until it is tightened and marked anew."""
        from_tight = min(self.tight, entry["count"])
        from_untouched = min(self.untouched, entry["count"] - from_tight)
        self.check.not_right(entry)
        self._positions.forget()
        self.tight -= from_tight
        self.untouched -= from_untouched
        self.loose += from_tight + from_untouched
        if not self.is_tightened:
            self.not_right = min(self.loose, self.not_right + entry["count"])
        self._lose_marks(from_tight, entry["count"])
        self._forget_work(unseen)

    def _turned(self, entry: dict[str, Any], once_more: int, others: int = 0) -> None:
        """A tightening turned so many that were tight, and others that nobody marks."""
        number = entry.get("id") or ""
        self._once_more[number] = self._once_more.get(number, 0) + min(once_more, self.marked)
        self._lose_marks(once_more, once_more + others)

    def _lose_marks(self, marks: int, checks: int) -> None:
        self.marked = min(self.tight, max(0, self.marked - marks))
        self.check.lose(checks, self.checkable)

    def _forget_work(self, unseen: Unseen) -> None:
        """With none tight, nobody's work is on them but what was not known then: it may be later."""
        if not self.tight:
            self._positions.none_hold(unseen.work())
            if not self.at_step and (self.is_tightened or not self.loose):
                self.check.begun_anew(unseen.work())
        if not (self.tight or self.loose):
            self.check.last = self.check.blind = None

    @property
    def applied(self) -> list[dict[str, Any]]:
        """Tightenings to the last step that may still hold some of those on the machine."""
        return self._positions.applied

    @property
    def in_doubt(self) -> list[dict[str, Any]]:
        """Such tightenings that hold none, since their phone did not know what others did; they may all the same."""
        return self._positions.in_doubt

    @property
    def checkable(self) -> int:
        """Of how many a second look can count: the marked ones, or all that went in where nothing is tightened."""
        return self.marked if self.is_tightened else self.loose + self.tight

    def _step(self, step: int, count: int, places: list[int], same: int) -> None:
        """A step before the last: what gets it is not tight, or, slackened for it, no longer so."""
        most = self._positions.slackened(count, places, self.loose, self.steps + 1)
        slackened = min(self.tight + self.untouched, most)
        from_untouched = min(self.untouched, slackened)
        self.untouched -= from_untouched
        self.tight -= slackened - from_untouched
        self.loose += slackened
        self._lose_marks(slackened - from_untouched, slackened - from_untouched)
        if not self.tight:
            self._positions.none_hold()
        round_is_done = not places or not (self.tight or self.untouched)
        if self.at_step.get(step, 0) >= self.loose and round_is_done:
            # All have had this step already: they begin again with it.
            self.at_step = {each: self.at_step[each] for each in self.at_step if each < step}
            self._positions.begin_anew(step)
        new = max(0, count - len(self._positions.with_step(step) & set(places)) - same)
        self.at_step[step] = min(self.loose, self.at_step.get(step, 0) + new)
        self._positions.take(step, places, self.steps + 1)

    def next_step(self) -> Any:
        """The first step that not every loose fastener has had, counted from 1; None where the manual has no steps."""
        if not self.steps:
            return None
        behind = [step for step in range(1, self.steps + 1) if self.at_step.get(step, 0) < self.loose]
        return behind[0] if behind else self.steps + 1

    def _tighten(self, entry: dict[str, Any], count: int, known_tight: int, stay_loose: int) -> None:
        from_loose = min(self.loose - stay_loose, count - known_tight)
        self.loose -= from_loose
        again = count - from_loose
        from_untouched = min(self.untouched, again - known_tight)
        self.untouched -= from_untouched
        self.tight += from_loose + from_untouched
        # Tightened once more: the line across it no longer tells anything. A look at what is never tightened was at
        # those that went in, and somebody had a hand on them since.
        once_more = again - from_untouched
        self._turned(entry, once_more, 0 if self.is_tightened else from_loose)
        # Those that went on to the last step are no longer at one before it.
        for step in list(self.at_step):
            self.at_step[step] = min(self.loose, max(0, self.at_step[step] - from_loose))
