"""Acts of moving fasteners and putting back: move, tighten, mark, check, the part is on or off."""

from typing import Any

from . import tightening
from .acts_part import bag_of, existing, saw_of
from .apart import group_words
from .going_on import NEW_THING
from .limits import CLOCK_HIGH_MS
from .maker import AHEAD_MS, Maker, given, whole
from .mass import outcome_of
from .replaced import new_each_time, new_ones
from .strip import Strip
from .way_back import Waits

USED_BEFORE = (
    "New each time ({kind}), and {n} of {count} were used before. Take new ones, or say why these are used again."
)


def come_after(strip: Strip, make: Maker, thing: str) -> None:
    """What is done now comes after all that was done to it before, also by a clock that is days ahead.

    Else a tightening would stand before the bolts went in, and hold none of them, until that day is past.
    """
    entries = [entry for entry in strip.filed(thing) if entry["at"] < CLOCK_HIGH_MS - AHEAD_MS]
    if entries:
        make.follow(entries[-1])


def move(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """Fasteners from one place to another; never more than are there."""
    group = existing(strip, make, form.get("group"), "group", "group")
    if group is None:
        return make.done()
    come_after(strip, make, group.id)
    count = whole(form, "count")
    source = (form.get("from") or "", form.get("from_bag") or "")
    there = strip.ledger(group.id).places.get(source, 0)
    if source[0] != "stock" and isinstance(count, int) and count > there:
        make.refuse(
            "not_that_many", "count", "Asked for {count}, but there: {there}.", there=max(0, there), count=count
        )
    why = given(form, "why")
    used = 0
    if form.get("to") == "machine" and isinstance(count, int) and new_each_time(strip, group) is not None:
        used = count - new_ones(group).new_of(source, count)
    if used > 0 and why is None:
        kind = {"label": new_each_time(strip, group)["kind"]}
        make.refuse("used_again", "why", USED_BEFORE, n=used, count=count, kind=kind)
    make.entry(
        "move",
        "",
        group=group.id,
        count=count,
        used_again_why=why if used > 0 else None,
        **{"from": form.get("from")},
        from_bag=form.get("from_bag") or None,
        to=form.get("to"),
        to_bag=bag_of(strip, make, given(form, "to_bag_label")) if form.get("to") == "bag" else None,
    )
    return make.done()


def tighten(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """Fasteners of a group tightened: to a torque, or with the wrench at a setting; see `tightening.of_form`."""
    group = existing(strip, make, form.get("group"), "group", "group")
    if group is None:
        return make.done()
    come_after(strip, make, group.id)
    count, on, twice = whole(form, "count"), strip.ledger(group.id).on, strip.ledger(group.id).moved_twice
    if on <= 0 and twice is not None:
        make.refuse("moved_twice", "count", group_words(twice)["text"], **group_words(twice)["values"])
    elif on <= 0:
        make.refuse("off_the_machine", "count", "None of these is on the machine. Put them in first, then tighten.")
    elif isinstance(count, int) and count > on:
        make.refuse("not_that_many", "count", "Asked for {count}, but on the machine: {there}.", there=on, count=count)
    angle = make.figure(form, "angle", "")
    positions, many = form.get("positions") or None, strip.ledger(group.id).count
    if positions is not None and max(positions) > many:
        make.refuse("no_such_place", "positions", "There are {many} places in this order.", many=many)
    found = tightening.of_form(strip, group, form, make)
    # What was refused is not stored; a figure in its place keeps it from being called missing as well.
    figures = {"newton_metres": 1.0} if found is None else tightening.fields_of(found)
    chosen = None if found is None else found["tool"]
    make.entry(
        "tighten",
        "",
        group=group.id,
        count=count,
        as_read=tightening.as_read(form),
        angle_degrees=angle,
        positions=positions,
        pattern=group.values.get("pattern") if positions else None,
        retorque=form.get("retorque") or None,
        tool=given(form, "tool") if chosen is None else chosen.values.get("name"),
        **figures,
    )
    return make.done()


def mark(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """The paint line across tightened fasteners; only what is tight can be marked."""
    group = existing(strip, make, form.get("group"), "group", "group")
    if group is None:
        return make.done()
    come_after(strip, make, group.id)
    count, tight = whole(form, "count"), strip.ledger(group.id).tight
    if isinstance(count, int) and count > tight:
        make.refuse("not_tight", "count", "Tightened so far: {tight}. Tighten first, then mark.", tight=tight)
    make.entry("witness", "", group=group.id, count=count)
    return make.done()


def second_check(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """Another person's look at what is tight and marked: how many, what was looked at, right or not.

    That something is not right anybody may say, also who tightened it: it makes nothing pass.
    """
    group = existing(strip, make, form.get("group"), "group", "group")
    if group is None:
        return make.done()
    come_after(strip, make, group.id)
    ledger, count, right = strip.ledger(group.id), whole(form, "count"), form.get("found") != "not_right"
    if right and ledger.check.has_worked(make.who):
        text = "{who} tightened these. Another person looks." if ledger.is_tightened else OWN_LOOK
        make.refuse("same_person", "who", text, who=make.who)
    there = ledger.checkable - ledger.check.checked if right else ledger.loose + ledger.tight + ledger.untouched
    if isinstance(count, int) and count > there:
        text = "Marked and not yet checked: {there}. Torque and mark first." if ledger.is_tightened else NOT_SO_MANY_IN
        make.refuse("not_marked", "count", text if right else "On the machine: {there}.", there=there, count=count)
    looked_at = given(form, "looked_at")
    make.entry("second_check", "", group=group.id, count=count, looked_at=looked_at, found=form.get("found"))
    return make.done()


OWN_LOOK = "{who} put these in. Another person looks."
NOT_SO_MANY_IN = "In and not yet checked: {there}. Put them in first."


def waive(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """The owner does without a second check of a group, and says why."""
    group = existing(strip, make, form.get("group"), "group", "group")
    if group is None:
        return make.done()
    come_after(strip, make, group.id)
    if "second_check" not in strip.needs(group.id):
        make.refuse("not_wanted", "", "No second check is wanted here now.")
    make.entry("waive", "", group=group.id, what="second_check", why=given(form, "why"))
    return make.done()


def part_on(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """The part is on the machine again, or its replacement is."""
    return _on_or_off(strip, form, make, True)


def _why_early(strip: Strip, form: dict[str, Any], make: Maker, part: Any) -> Any:
    """Why a part goes on before what it waits for, in the words of who puts it on; None where nothing is in the way."""
    blockers = Waits(strip).blockers(part)
    why = given(form, "early_why")
    if blockers and why is None:
        text = "{sentence} Do that first, or say why this part goes on before it."
        make.refuse("waits", "early_why", text, sentence=blockers[0]["sentence"])
    return why if blockers else None


def part_off(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """The part came off again."""
    return _on_or_off(strip, form, make, False)


def _on_or_off(strip: Strip, form: dict[str, Any], make: Maker, on: bool) -> dict[str, Any]:
    part = existing(strip, make, form.get("part"), "part", "part")
    if part is None:
        return make.done()
    come_after(strip, make, part.id)
    outcome = outcome_of(part.values)
    values: dict[str, Any] = {} if outcome in NEW_THING else {"off": not on}
    if outcome in NEW_THING + ("goes_back", "moved"):
        values["outcome_done"] = on
    if on:
        values["early_why"] = _why_early(strip, form, make, part)
    saw = {name: saw_of(part, name) for name in values if saw_of(part, name)}
    make.put(part.id, "part", values, "", saw or None)
    if not on:
        take_fasteners_out(strip, make, part)
    return make.done()


def take_fasteners_out(strip: Strip, make: Maker, part: Any) -> None:
    """What held a part that came off again is out too, in the part's bag or in none yet."""
    bag = part.values.get("bag")
    for group in strip.groups_of(part.id):
        count = strip.ledger(group.id).on
        if count > 0:
            come_after(strip, make, group.id)
            make.entry("move", "", group=group.id, count=count, **{"from": "machine"}, to="bag", to_bag=bag)


BACK_ACTS = dict(
    move=move,
    tighten=tighten,
    mark=mark,
    second_check=second_check,
    waive=waive,
    part_on=part_on,
    part_off=part_off,
)
