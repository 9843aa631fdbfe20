"""A map on a phone: made, taken, taken off by it, and what is told of a file that is no map."""

import json
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from cotterbook.core.maps import map_text, read_map
from cotterbook.core.maps_make import map_of
from cotterbook.core.strip import Strip
from hands import PHONE, Hands
from one_part import act, phone_with_one_part, view
from screens import open_screen

DEMO = Path(__file__).resolve().parents[2] / "demo_data"
LOG = [json.loads(line) for line in (DEMO / "entries.jsonl").read_text(encoding="utf-8").splitlines()]
# Those of the demo's map that are taken off here, with what their scale shows this time.
SIDES = {"left": "Left", "right": "Right", "both": "Both sides", "middle": "Middle"}
PARTS = {"Seat": "4350", "Grab rail": "1250", "Centre stand": "3600", "Headlamp": "1650", "Silencer": "4300"}


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone with one part and its four bolts: (page, strip, part)."""
    with phone_with_one_part(chromium, module_server) as phone:
        yield phone


def bracket(**more: Any) -> dict[str, Any]:
    """A map of the kind of machine of `phone`."""
    bolts = {"count": 4, "thread": "M8", "length_millimetres": 30, "key": "12 mm socket",
             "torque_low_newton_metres": 25, "torque_page": "Manual 7-2"}  # fmt: skip
    seen = [{"machine": "01234567-89ab-7000-8000-000000000001", "grams_a_piece": 400, "minutes": 10}]
    parts = [{"name": "Caliper bracket", "pieces": 2, "fasteners": [bolts], "seen_on": seen},
             {"name": "Rear lamp", "place": "tail", "fasteners": [bolts], "seen_on": seen}]  # fmt: skip
    # What is told apart in one is not in the other: nothing is shared.
    return json.loads(json.dumps({"format": "cotterbook-map/1", "machine": "Test hack", "parts": parts} | more))


def file_of(found: Any) -> dict[str, Any]:
    text = found if isinstance(found, str) else json.dumps(found)
    return {"name": "a-map.json", "mimeType": "application/json", "buffer": text.encode()}


def choose(phone: Any, found: Any) -> Any:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/map")
    page.get_by_label("Choose a map’s file").set_input_files(file_of(found))
    return page


def take(phone: Any, found: Any) -> Any:
    page = choose(phone, found)
    page.get_by_role("button", name="Take this map").click()
    expect(page.get_by_text("Taken: 2 parts")).to_be_visible()
    return page


def test_a_map_is_made_without_a_network_and_read_back(phone: Any, tmp_path: Path) -> None:
    page, strip, _ = phone
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    page.context.set_offline(True)
    open_screen(page, f"#/strip/{strip}/handover")
    page.get_by_role("link", name="Make a map of this machine").click()
    page.get_by_role("button", name="Make the map").click()
    expect(page.get_by_role("alert")).to_contain_text("Say which kind of machine this is.")
    page.get_by_label("Kind of machine").fill("A small twin")
    page.get_by_role("button", name="Make the map").click()
    with page.expect_download() as download:
        page.get_by_role("link", name="Save it").click()
    path = tmp_path / download.value.suggested_filename
    assert path.name.startswith("cotterbook-map-") and path.suffix == ".json"
    download.value.save_as(path)
    found = json.loads(path.read_text(encoding="utf-8"))
    assert (found["machine"], [part["name"] for part in found["parts"]]) == ("A small twin", ["Caliper bracket"])
    assert "Ann" not in path.read_text(encoding="utf-8")


def test_what_differs_from_the_map_is_said_in_words(phone: Any) -> None:
    page = take(phone, bracket())
    _, strip, part = phone
    open_screen(page, f"#/strip/{strip}/map")
    rows = page.locator("section", has=page.get_by_role("heading", name="Foreseen", exact=True)).locator("li.line")
    expect(rows.nth(0)).to_contain_text("off, otherwise")
    expect(rows.nth(0)).to_contain_text("4 × M8×25: Length, mm: 25 mm, foreseen 30 mm.")
    expect(rows.nth(1)).to_contain_text("to come off")
    open_screen(page, f"#/strip/{strip}/part/{part}")
    expect(page.get_by_text("Otherwise than foreseen")).to_be_visible()
    # Taken again, it adds nothing.
    choose(phone, bracket()).get_by_role("button", name="Take this map").click()
    expect(page.get_by_role("alert")).to_contain_text("All that this map foresees is foreseen here already.")
    assert len(view(phone, "foreseen")["parts"]) == 2
    page.get_by_role("button", name="Not on this machine: Rear lamp").click()
    expect(rows.nth(1)).to_contain_text("not on this machine")
    page.get_by_role("button", name="It is there after all: Rear lamp").click()
    expect(rows.nth(1)).to_contain_text("to come off")


def test_the_form_for_taking_off_begins_in_the_maps_unit_or_in_this_countrys(phone: Any) -> None:
    found = bracket()
    lamp = found["parts"][1]["fasteners"][0]
    # 18 lbf·ft: NIST SP 811 (2008), B.8.
    lamp |= {"torque_low_newton_metres": 18 * 1.3558179483, "torque_as_written": "18 lbf.ft"}
    page = take(phone, found)
    _, strip, _ = phone
    units = """async ([strip, locale]) => {
      (await import('/words.js')).setLanguage({ locale, texts: {} });
      const { formOf } = await import('/screens/take_off_foreseen.js');
      const { parts } = await (await import('/shop.js')).view(strip, 'foreseen');
      const forms = await Promise.all(parts.map(({ foreseen }) => formOf(strip, foreseen)));
      return forms.filter(Boolean).map((form) => form.groups[0].torque_unit);
    }"""
    assert page.evaluate(units, [strip, "en-US"])[-1] == "lbf.ft"
    assert page.evaluate(units, [strip, "en-GB"])[-1] == "lbf.ft"
    lamp.pop("torque_as_written")
    found["parts"][1]["name"] = "Front lamp"
    page.evaluate("async () => (await import('/words.js')).setLanguage(null)")
    choose(phone, found)
    page.get_by_role("button", name="Take this map").click()
    expect(page.get_by_text("Taken: ")).to_be_visible()
    assert page.evaluate(units, [strip, "en-US"])[-1] == "lbf.ft"
    assert page.evaluate(units, [strip, "en-GB"])[-1] == "N.m"


def test_a_torque_of_the_map_waits_for_this_machines_manual(phone: Any) -> None:
    page = take(phone, bracket())
    _, strip, _ = phone
    form = view(phone, "foreseen")["parts"][1]["form"]
    lamp = act(phone, "take_off", **form)["part"]
    [group] = view(phone, "part", part=lamp)["groups"]
    open_screen(page, f"#/strip/{strip}/torque/{group['group']}")
    expect(page.get_by_text("From the map: 25 N·m (Manual 7-2)")).to_be_visible()
    expect(page.get_by_text("No torque written down yet")).to_be_visible()
    page.get_by_label("Manual and page, of this machine").fill("Its own book, 7-4")
    page.get_by_role("button", name="This machine’s manual says the same").click()
    expect(page.get_by_text("From the map:")).to_have_count(0)
    expect(page.get_by_text("Its own book, 7-4").first).to_be_visible()


@pytest.mark.parametrize("found, words", [
    ("a,b\n1,2\n", "This file is no map: it cannot be read as one."),
    (bracket(parts=[{"name": "N" * 200}]), "Part 1, " + "N" * 40 + "…: Name. This is longer than 120 characters."),
    (bracket(parts=[{"name": "Seat", "fasteners": [{"count": 2, "length_inches": 1}]}]),
     "A map has no field length_inches. Its lengths are in millimetres"),
])  # fmt: skip
def test_a_bad_file_is_told_and_nothing_of_it_is_taken(phone: Any, found: Any, words: str) -> None:
    page = choose(phone, found)
    told = page.get_by_role("alert")
    expect(told).to_contain_text("Nothing was taken of this file.")
    expect(told).to_contain_text(words)
    expect(page.get_by_role("button", name="Take this map")).to_have_count(0)
    assert view(phone, "foreseen")["parts"] == []


def test_a_map_of_another_machine_is_asked_about_and_right_to_left_names_keep_their_place(phone: Any) -> None:
    name = "מושב אחורי"
    page = choose(phone, bracket(machine=name, parts=[{"name": name, "pieces": 2}]))
    page.get_by_role("button", name="Take this map").click()
    expect(page.get_by_role("alert")).to_contain_text("and this machine is Test hack. Take it only if they are built")
    assert view(phone, "foreseen")["parts"] == []
    page.get_by_role("button", name="They are built alike: take it").click()
    expect(page.get_by_text("Taken: one part")).to_be_visible()
    assert [part["name"] for part in view(phone, "foreseen")["parts"]] == [name]
    shown = page.locator(".lines .name", has_text=name)
    assert shown.evaluate("(each) => getComputedStyle(each).unicodeBidi") in ("isolate", "plaintext")


def test_two_maps_are_merged_and_a_person_says_which_is_right(phone: Any, tmp_path: Path) -> None:
    page, strip, _ = phone
    other = bracket()
    other["parts"][0]["fasteners"][0] |= {"count": 3, "torque_low_newton_metres": 30}
    other["parts"][0]["seen_on"][0] |= {"machine": "01234567-89ab-7000-8000-000000000002", "grams_a_piece": 420}
    other["parts"].append({"name": "Tool box"})
    open_screen(page, f"#/strip/{strip}/map")
    page.get_by_role("link", name="Merge two maps").click()
    page.get_by_label("Choose the first map").set_input_files(file_of(bracket()))
    # A file that is no map stands in nobody's way.
    page.get_by_label("Choose the second map").set_input_files(file_of("a,b"))
    expect(page.get_by_role("alert")).to_contain_text("This file is no map: it cannot be read as one.")
    page.get_by_label("Choose the second map").set_input_files(file_of(other))
    expect(page.get_by_role("heading", name="In what they differ: 3")).to_be_visible()
    rows = page.locator("section", has=page.get_by_role("heading", name="In what they differ")).locator("li.line")
    expect(rows.nth(0).locator("strong")).to_have_text("Caliper bracket")
    expect(rows.nth(0)).to_contain_text("4 × M8×30: How many: 4 in the first map, 3 in the second.")
    expect(rows.nth(1)).to_contain_text("torque: 25 N·m (Manual 7-2) in the first map, 30 N·m (Manual 7-2) in the")
    # The name of a part stands once.
    expect(rows.nth(1).locator("strong")).to_have_count(0)
    expect(rows.nth(2)).to_contain_text("Tool box")
    expect(rows.nth(2)).to_contain_text("Only in the second map.")
    stands = page.get_by_text("The second map stands in")
    page.get_by_role("button", name="The second is right in all").click()
    expect(stands).to_have_text("The second map stands in 2 of 2, the first in all others.")
    expect(rows.nth(1).get_by_label("The second map is right")).to_be_checked()
    page.get_by_role("button", name="The first is right in all").click()
    expect(stands).to_have_text("The second map stands in 0 of 2, the first in all others.")
    rows.nth(0).get_by_label("The second map is right").check()
    expect(rows.nth(0).get_by_label("The second map is right")).to_be_checked()
    page.get_by_role("button", name="Make the merged map").click()
    with page.expect_download() as download:
        page.get_by_role("link", name="Save it").click()
    path = tmp_path / "merged.json"
    download.value.save_as(path)
    found = read_map(path.read_text(encoding="utf-8"))
    assert [part["name"] for part in found["parts"]] == ["Caliper bracket", "Rear lamp", "Tool box"]
    bolts = found["parts"][0]["fasteners"][0]
    assert (bolts["count"], bolts["torque_low_newton_metres"]) == (3, 25)
    assert [seen["grams_a_piece"] for seen in found["parts"][0]["seen_on"]] == [400, 420]


def taken_apart(phone: Any, machine: str) -> Any:
    """A strip-down of a machine of this name, with a part and its bolts: the PC has those of other tests too."""
    page, _, _ = phone
    made = page.evaluate("""async (machine) => (await import('/shop.js')).act('begin_strip',
        { name: 'The first of them', machine_name: machine })""", machine)  # fmt: skip
    of = (page, made["strip"], None)
    bolts = {"count": 4, "thread": "M8", "torque": "25", "torque_page": "Its own book 7-2"}
    act(of, "take_off", name="Caliper bracket", groups=[bolts])
    return of


def begin(page: Any, machine: str) -> None:
    open_screen(page, "#/begin")
    page.reload()
    page.get_by_role("radio", name="A new machine").check()
    page.get_by_label("Machine", exact=True).fill(machine)
    page.get_by_label("Name of the strip-down").fill("The second of them")


def test_whoever_begins_a_second_machine_takes_the_map_of_the_first_without_a_file(phone: Any) -> None:
    page, first, _ = taken_apart(phone, "Twice built twin")
    # Started anew, the phone has not looked at that strip-down: the core lets it go once its map is made.
    begin(page, "Twice built twin")
    page.get_by_label("Take a map of its kind first").check()
    page.get_by_role("button", name="Begin", exact=True).click()
    expect(page.get_by_role("heading", name="Map of this kind of machine")).to_be_visible()
    second = page.url.split("/strip/")[1].split("/")[0]
    assert second != first
    of = (page, second, None)
    page.get_by_role("button", name="Twice built twin").click()
    expect(page.get_by_text("Kind of machine: Twice built twin")).to_be_visible()
    assert view(of, "foreseen")["parts"] == []
    page.get_by_role("button", name="Take this map").click()
    expect(page.get_by_text("Taken: one part")).to_be_visible()
    page.get_by_role("link", name="Begin taking off").click()
    page.get_by_role("region", name="Foreseen").get_by_role("button", name="Caliper bracket").click()
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("heading", name="Saved: Caliper bracket")).to_be_visible()
    # The torque of the first machine stays in the map until the second's manual says the same.
    [row] = view(of, "foreseen")["parts"]
    [group] = view(of, "part", part=row["part"])["groups"]
    card = view(of, "torque", group=group["group"])
    assert card["specification"] is None and "Its own book 7-2" in card["from_map"]["words"]


def test_whoever_begins_without_a_map_takes_off_and_finds_it_from_there(phone: Any) -> None:
    page, _, _ = phone
    begin(page, "Small single")
    page.get_by_role("button", name="Begin", exact=True).click()
    expect(page.get_by_role("heading", name="Take off", exact=True)).to_be_visible()
    page.get_by_role("link", name="Is there a map of this kind of machine? Take it first.").click()
    expect(page.get_by_role("heading", name="Or from a strip-down on this phone")).to_be_visible()


def test_many_doubts_of_a_map_fold_away_behind_the_first(phone: Any) -> None:
    bolts = {"count": 2, "thread": "M6", "torque_low_newton_metres": 90, "torque_page": "7"}
    parts = [{"name": f"Part {n}", "fasteners": [bolts]} for n in range(1, 9)]
    page = choose(phone, bracket(parts=parts))
    expect(page.get_by_text("Part 5, 2 × M6: 90 N·m is more than M6 stands")).to_be_visible()
    last = page.get_by_text("Part 8, 2 × M6: 90 N·m is more than M6 stands")
    expect(last).to_be_hidden()
    page.get_by_text("3 more to look at").click()
    expect(last).to_be_visible()


def test_what_is_more_than_a_map_holds_is_told_and_can_be_taken_back(phone: Any) -> None:
    page, _, _ = phone
    rows = [{"count": n, "length_millimetres": 10 * n} for n in range(1, 42)]
    open_screen(page, "#/maps")
    for which, some in (("first", rows[:40]), ("second", rows[40:])):
        parts = [{"name": "Engine", "fasteners": some}]
        page.get_by_label(f"Choose the {which} map").set_input_files(file_of(bracket(parts=parts)))
    taken = page.locator("li.line", has_text="only in the second map").get_by_label("The second map is right")
    taken.check()
    words = "Engine: both maps together have more than 40 kinds of fasteners here. Take fewer from the second."
    expect(page.get_by_role("alert")).to_contain_text(words)
    expect(page.get_by_role("button", name="Make the merged map")).to_have_count(0)
    taken.uncheck()
    expect(page.get_by_role("alert")).to_have_count(0)
    expect(page.get_by_role("button", name="Make the merged map")).to_be_visible()


class Counted(Hands):
    """Hands that count: what is tapped, and what is typed."""

    taps = keys = 0

    def tap(self, name: str, within: Any = None) -> None:
        Counted.taps += 1
        super().tap(name, within)

    def write(self, label: str, text: str, within: Any = None) -> None:
        Counted.taps += 1
        Counted.keys += len(text)
        super().write(label, text, within)

    def unfold(self, title: str, within: Any = None) -> None:
        Counted.taps += 1
        super().unfold(title, within)

    def choose(self, label: str, choice: str, within: Any = None) -> None:
        Counted.taps += 1
        super().choose(label, choice, within)

    def pick(self, label: str, code: str, within: Any = None) -> None:
        """Choose in a list of the phone's own: one tap opens it, one chooses."""
        Counted.taps += 2
        (within or self.page).get_by_label(label, exact=True).select_option(code)


def begun(chromium: Any, server: Any) -> Counted:
    page = chromium.new_context(**PHONE).new_page()
    hands = Counted(page, server.url)
    hands.open()
    made = page.evaluate("""async () => { const shop = await import('/shop.js'); await shop.setPerson('Ann');
        return shop.act('begin_strip', { name: 'Second one', machine_name: 'Marlwick 410' }); }""")
    hands.open(f"#/strip/{made['strip']}/take_off")
    hands.tap("Read. Put away for this spell")
    return hands


def weigh(hands: Counted, grams: str) -> None:
    hands.unfold("Weight")
    hands.write("Figure", grams, hands.page.get_by_role("group", name="Reading 1"))


def by_hand(hands: Counted, part: dict[str, Any], bag: str) -> None:
    """A part for the first time: all that the map will know of it is typed."""
    hands.write("Name of the part", part["name"])
    hands.pick("Place on the machine", part["place"])
    for _each in range(part.get("pieces", 1) - 1):
        hands.tap("One more: Pieces")
    if part.get("side"):
        hands.choose("Side", SIDES[part["side"]])
    for number, row in enumerate(part["fasteners"], 1):
        if number == 1:
            hands.unfold("Fasteners and bag")
        else:
            hands.tap("Another kind of fastener")
        form = hands.page.get_by_role("group", name=f"Fasteners {number}")
        hands.write("How many", str(row["count"]), form)
        for label, name in (("Thread", "thread"), ("Length, mm", "length_millimetres")):
            if name in row:
                hands.write(label, f"{row[name]:g}" if name == "length_millimetres" else row[name], form)
        hands.unfold("Head, key, where it sits", form)
        for label, name in (("Head", "head"), ("Screws into", "into")):
            if name in row:
                hands.pick(label, row[name], form)
        for label, name in (("Key or spanner", "key"), ("Where it sits", "sits"), ("Washers", "washers")):
            if name in row:
                hands.write(label, row[name], form)
    if part["fasteners"]:
        hands.write("Into which bag", bag)


def test_the_second_machine_takes_fewer_taps_for_each_part(chromium: Any, module_server: Any) -> None:
    """Taps, keys and seconds are printed (pytest -s); only taps and keys are held against one another."""
    strip = Strip(LOG[0]["strip"])
    strip.add(LOG)
    whole = map_of(strip, "Marlwick 410")
    chosen = [part for part in whole["parts"] if part["name"] in PARTS]
    assert len(chosen) == len(PARTS)
    found = whole | {"parts": chosen}
    hands = begun(chromium, module_server)
    first = []
    for number, part in enumerate(chosen, 1):
        Counted.taps, Counted.keys, started = 0, 0, time.monotonic()
        by_hand(hands, part, str(number))
        weigh(hands, PARTS[part["name"]])
        hands.tap("Save")
        expect(hands.page.get_by_role("heading", name=f"Saved: {part['name']}")).to_be_visible()
        hands.tap("Next part")
        first.append((Counted.taps, Counted.keys, time.monotonic() - started))
    typed = {part["name"]: part["groups"] for part in off_parts(hands)}
    hands.page.context.close()
    hands = begun(chromium, module_server)
    hands.open(f"#/strip/{hands.strip}/map")
    hands.page.get_by_label("Choose a map’s file").set_input_files(file_of(map_text(found)))
    hands.tap("Take this map")
    hands.page.get_by_role("link", name="Begin taking off").tap()
    second = []
    for number, part in enumerate(chosen):
        Counted.taps, Counted.keys, started = 0, 0, time.monotonic()
        if number == 0:
            Counted.taps += 1
            listed = hands.page.get_by_role("region", name="Foreseen").get_by_role("button")
            listed.filter(has_text=part["name"]).first.tap()
        else:
            hands.tap(f"Next, as foreseen: {part['name']}, {SIDES[part['side']].lower()}")
        expect(hands.page.get_by_label("Name of the part")).to_have_value(part["name"])
        weigh(hands, PARTS[part["name"]])
        hands.tap("Save")
        expect(hands.page.get_by_role("heading", name=f"Saved: {part['name']}")).to_be_visible()
        second.append((Counted.taps, Counted.keys, time.monotonic() - started))
    for part, before, after in zip(chosen, first, second, strict=True):
        print(f"{part['name']}: {before[0]} taps, {before[1]} keys, {before[2]:.1f} s; by the map {after[0]} taps, "
              f"{after[1]} keys, {after[2]:.1f} s")  # fmt: skip
        # The foreseen one, the weight, its figure, and Save.
        assert after[0] == 4 < before[0] and after[1] == len(PARTS[part["name"]]) < before[1]
    # What stands in the log is the same, whichever way it came there; the bags are numbered on.
    assert {part["name"]: part["groups"] for part in off_parts(hands)} == typed
    seen = hands.page.evaluate("async (strip) => (await import('/shop.js')).view(strip, 'foreseen')", hands.strip)
    assert (seen["left"], seen["done"]) == (0, len(chosen))
    hands.page.context.close()


def off_parts(hands: Counted) -> list[dict[str, Any]]:
    """Each part that is off, with its bag and its fasteners as the core calls them."""
    return list(hands.page.evaluate(
        """async (strip) => {
          const shop = await import('/shop.js');
          const { parts } = await shop.view(strip, 'off');
          const said = ({ called, count, places }) => [called, count, places.map((place) => place.where)];
          const groupsOf = async (part) => (await shop.view(strip, 'part', { part })).groups.map(said);
          return Promise.all(parts.map(async ({ part, name, bag }) => ({ name, groups: [bag, await groupsOf(part)] })));
        }""", hands.strip))  # fmt: skip
