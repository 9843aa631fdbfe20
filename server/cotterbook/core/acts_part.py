"""Acts that add to a part: fastener groups, readings, photos, things to do."""

from typing import Any

from .fasteners import begins_in
from .maker import Maker, given, whole
from .specification_form import specified
from .strip import Strip
from .typed_quantities import own_unit, written, written_each

ITEM_CHARACTERS = 400


def existing(strip: Strip, make: Maker, thing: Any, thing_type: Any, field: str) -> Any:
    """The thing of that type, or None with the act refused."""
    found = strip.thing(thing) if isinstance(thing, str) else None
    if found is None or found.type != thing_type or not found.alive:
        make.refuse("no_such_" + str(thing_type)[:20], field, "That is not in this strip-down.")
        return None
    return found


def saw_of(thing: Any, name: str) -> list[str]:
    """The ids of the entries that give a field its value now."""
    field = thing.fields.get(name)
    return [entry["id"] for entry in field.heads] if field is not None else []


def bag_of(strip: Strip, make: Maker, label: Any) -> Any:
    """The bag with this label, new if there is none yet; None without a label."""
    if label is None:
        return None
    for bag in strip.of_type("bag"):
        if bag.values.get("label") == label:
            return bag.id
    for entry in make.entries:
        if entry["kind"] == "set" and entry["values"].get("label") == label:
            return entry["thing"]
    bag = make.new_id()
    make.put(bag, "bag", {"label": label}, "")
    return bag


def add(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """More groups, readings, photos or items for a part that is logged."""
    part = existing(strip, make, form.get("part"), "part", "part")
    if part is None:
        return make.done()
    bag = bag_of(strip, make, given(form, "bag_label")) or part.values.get("bag")
    came_off = bool(part.values.get("off")) and begins_in(part.values) == "machine"
    return add_to_part(strip, form, make, bag, came_off)


def add_to_part(strip: Strip, form: dict[str, Any], make: Maker, bag: Any, came_off: bool) -> dict[str, Any]:
    """The rows of a form as entries; fasteners of a part that came off go to its bag, or to none yet."""
    part = form["part"]
    for index, row in enumerate(form.get("groups") or ()):
        _group(make, part, row, "groups." + str(index) + ".", bag, came_off)
    for index, row in enumerate(form.get("readings") or ()):
        reading(strip, make, part, row, "readings." + str(index) + ".")
    for index, row in enumerate(form.get("photos") or ()):
        _photo(make, part, row, "photos." + str(index) + ".")
    for index, row in enumerate(form.get("items") or ()):
        put_item(make, part, row, "items." + str(index) + ".")
    return make.done(part=part)


def _group(make: Maker, part: str, row: dict[str, Any], prefix: str, bag: Any, came_off: bool) -> None:
    group, count = make.new_id(), whole(row, "count")
    torque = specified(make, row, prefix)
    if count is None:
        make.refuse("missing", prefix + "count", "Say how many there are.")
    make.put(
        group,
        "group",
        dict(
            torque,
            part=part,
            count=count,
            thread=given(row, "thread"),
            head=given(row, "head"),
            length_millimetres=make.figure(row, "length", prefix, "length"),
            key=given(row, "key"),
            grade=given(row, "grade"),
            sits=given(row, "sits"),
            washers=given(row, "washers"),
            into=given(row, "into"),
            pattern=given(row, "pattern"),
            size=given(row, "size"),
            replace_each_time=given(row, "replace_each_time"),
            note=given(row, "note"),
            thread_confirmed=row.get("thread_confirmed") or None,
            finish=given(row, "finish"),
            engagement_millimetres=make.figure(row, "engagement", prefix, "length"),
            outside_engine=row.get("outside_engine") or None,
            grams_each=make.figure(row, "grams_each", prefix, "mass", "g"),
        ),
        prefix,
    )
    if came_off and count is not None:
        make.entry("move", prefix, group=group, count=count, **{"from": "machine"}, to="bag", to_bag=bag)


def reading(strip: Strip, make: Maker, part: str, row: dict[str, Any], prefix: str) -> None:
    """One look at a scale, a range, a document's figure or an estimate, as typed."""
    if row.get("drained") or given(row, "litres") is not None or given(row, "fluid") is not None:
        _drained(make, part, row, prefix)
        return
    unit, basis = row.get("unit") or "g", row.get("basis") or "weighed"
    low, high = make.figure(row, "figure", prefix, "mass", unit), make.figure(row, "figure_high", prefix, "mass", unit)
    if given(row, "figure") is None:
        make.refuse("missing", prefix + "figure", "Give the figure.")
    again = strip.entries.get(given(row, "again") or "")
    if given(row, "again") is not None and (again is None or again.get("part") != part):
        make.refuse("no_such_reading", prefix + "again", "The reading to weigh again is not one of this part.")
    scale = given(row, "on_scale") if basis == "weighed" else None
    card = existing(strip, make, scale, "scale", prefix + "on_scale") if scale is not None else None
    step = make.figure(row, "step", prefix, "mass", unit)
    if step is None and high is None and card is not None:
        step = card.values.get("step_grams")
    if step is None and high is None and basis in ("weighed", "document"):
        step = make.resolution(row, "figure", prefix, "mass", unit)
    tare = make.figure(row, "tare", prefix, "mass", unit) or None
    make.entry(
        "weigh",
        prefix,
        part=part,
        weighed_as=row.get("weighed_as") or "taken_off",
        pieces=whole(row, "pieces") or 1,
        basis=basis,
        grams=low if high is None else None,
        low_grams=None if high is None else low,
        high_grams=high,
        step_grams=step,
        plus_minus_grams=make.figure(row, "plus_minus", prefix, "mass", unit),
        maturity=given(row, "maturity"),
        with_fasteners=row.get("with_fasteners"),
        again=given(row, "again"),
        scale=given(row, "scale") if card is None else card.values.get("name"),
        on_scale=None if card is None else card.id,
        tare_grams=tare,
        source=given(row, "source"),
        as_read=as_read(row, unit, high is not None, tare is not None),
    )


def as_read(row: dict[str, Any], unit: str, ranged: bool, tared: bool) -> str:
    """What the scale showed, as typed: "412 g", "7 – 10 g", "1250 (− 30) g", "1,9 kg (− 200 g)"."""
    names = ["figure"] + (["figure_high"] if ranged else []) + (["tare"] if tared else [])
    texts = [given(row, name) for name in names]
    if not any(own_unit(str(text), "mass") is not None for text in texts):
        return (
            " – ".join([str(text) for text in texts[: 2 if ranged else 1]])
            + (" (− " + str(texts[-1]) + ")" if tared else "")
            + " "
            + unit
        )
    each = written_each(texts, "mass", unit)
    return " – ".join(each[: 2 if ranged else 1]) + (" (− " + each[-1] + ")" if tared else "")


def _drained(make: Maker, part: str, row: dict[str, Any], prefix: str) -> None:
    """A fluid by its litres."""
    if given(row, "litres") is None:
        make.refuse("missing", prefix + "litres", "Say how many litres.")
        return
    make.entry(
        "weigh",
        prefix,
        part=part,
        weighed_as=row.get("weighed_as") or "taken_off",
        pieces=whole(row, "pieces") or 1,
        basis="worked_out",
        fluid=given(row, "fluid"),
        litres=make.figure(row, "litres", prefix, "volume"),
        plus_minus_litres=make.figure(row, "plus_minus_litres", prefix, "volume"),
        as_read=None if given(row, "litres") is None else written(given(row, "litres"), "volume", "l"),
    )


def _photo(make: Maker, thing: str, row: dict[str, Any], prefix: str) -> None:
    make.entry(
        "photo",
        prefix,
        thing=thing,
        sha256=row.get("sha256"),
        media_type="image/jpeg",
        bytes=row.get("bytes"),
        width=row.get("width"),
        height=row.get("height"),
        caption=given(row, "caption"),
    )


def put_item(make: Maker, part: Any, row: dict[str, Any], prefix: str) -> None:
    """Something to do as typed: what it needs, in words, who, before what or by which day, what it costs."""
    if given(row, "text") is None:
        make.refuse("missing", prefix + "text", "Say what is to be done.")
    values = {name: given(row, name) for name in ("text", "for_whom", "before", "due_on", "currency")}
    cost = make.figure(row, "cost", prefix)
    make.put(make.new_id(), "item", dict(values, what=row.get("what") or "decide", part=part, cost=cost), prefix)


def put_about(make: Maker, what: str, text: str, values: dict[str, Any]) -> None:
    """Something to do that the program words itself, cut where a text of an item ends."""
    make.put(make.new_id(), "item", dict(values, what=what, text=text[:ITEM_CHARACTERS]), "")


def photo(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """A picture of anything in the strip-down."""
    thing = form.get("thing") or strip.id
    if not isinstance(thing, str) or strip.thing(thing) is None:
        make.refuse("no_such_thing", "thing", "That is not in this strip-down.")
    _photo(make, thing, form.get("photo") or {}, "photo.")
    return make.done()


PART_ACTS = {"add": add, "photo": photo}
