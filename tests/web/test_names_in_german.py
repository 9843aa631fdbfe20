"""Ordinary parts in the language that is read: found, picked and written as shown, and read by the rules all the same.

What a horn weighs, and that a guide of a brake hose asks for a look at the hose: common practice, no source.
"""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from core.test_names_in_other_languages import GERMAN, HINDI, OFFERED, SPANISH
from cotterbook.core import phone as door
from cotterbook.core.ordinary_parts import ORDINARY_PARTS
from screens import open_screen
from vectors.cases import FIRST_AT, compare, identifier
from web.phone import Phone
from web.taking_off import part_fields, taking_off
from web.texts import table

GERMAN_TEXTS = table("de")


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone on the screen for taking off, read in German: (page, strip)."""
    with taking_off(chromium, module_server, viewport={"width": 360, "height": 740}, has_touch=True) as (page, strip):
        page.evaluate(
            "async (texts) => (await import('/words.js')).setLanguage({ locale: 'de-DE', texts })", GERMAN_TEXTS
        )
        expect(name_of(page)).to_be_visible()
        yield page, strip


def name_of(page: Any) -> Any:
    return page.get_by_label(GERMAN_TEXTS["Name of the part"])


def test_a_german_name_is_offered_picked_and_written_and_its_cautions_follow(phone: Any) -> None:
    page, strip = phone
    name_of(page).fill("schlauchfuhr")
    page.get_by_role("button", name="Bremsschlauchführung").click()
    expect(name_of(page)).to_have_value("Bremsschlauchführung")
    place = page.get_by_label(GERMAN_TEXTS["Place on the machine"])
    expect(place).to_have_value("front_brake")
    # Where no place says anything.
    place.select_option("side")
    page.get_by_role("button", name=GERMAN_TEXTS["Save"], exact=True).click()
    expect(page.get_by_role("button", name=GERMAN_TEXTS["Next part"])).to_be_visible()
    assert [(each["name"], each["place"]) for each in part_fields(phone)] == [("Bremsschlauchführung", "side")]
    open_screen(page, f"#/strip/{strip}/open")
    caution = next(text for text in GERMAN_TEXTS if text.startswith("A hose, cable or lead that it guided"))
    expect(page.locator("main")).to_contain_text(GERMAN_TEXTS[caution])


def test_a_german_name_has_its_ordinary_mass(phone: Any) -> None:
    page, _ = phone
    page.get_by_label(GERMAN_TEXTS["or an ordinary part"]).select_option("Hupe")
    expect(name_of(page)).to_have_value("Hupe")
    page.locator("summary", has_text=GERMAN_TEXTS["Weight"]).first.click()
    page.get_by_label(GERMAN_TEXTS["Figure"], exact=True).fill("240")
    page.get_by_label(f"Einheit von: {GERMAN_TEXTS['Figure']}").select_option("kg")
    page.get_by_role("button", name=GERMAN_TEXTS["Make it {figure}"].replace("{figure}", "240\u00a0g")).click()
    expect(page.get_by_label(f"Einheit von: {GERMAN_TEXTS['Figure']}")).to_have_value("g")


def test_the_ordinary_parts_stand_in_the_order_of_the_language(phone: Any) -> None:
    page, _ = phone
    at_the_handlebar = page.locator("#ordinary optgroup[label]", has_text="Kupplungshebel").locator("option")
    offered = at_the_handlebar.all_text_contents()
    assert offered == sorted(offered) and len(offered) > 5
    everything = page.locator("#ordinary optgroup option").all_text_contents()
    assert sorted(everything) == sorted(GERMAN_TEXTS[name] for name, _, _, _ in ORDINARY_PARTS)


def test_both_runtimes_read_the_same_in_every_name(chromium: Any, module_server: Any) -> None:
    names = [each for table in (GERMAN, SPANISH, HINDI) for pair in table.items() for each in pair]
    names += [OFFERED[code][name] for code in OFFERED for name, _, _, _ in ORDINARY_PARTS]
    names += [
        "Café racer seat",
        "Seat руль",
        "Ön çamurluk",
        "half \U0001f527",
        "ﬁlter",
        "Rad guard",
        "de " * 50,
        "rad" * 40,
    ]
    strip, entries = identifier("@strip"), []
    for number, name in enumerate(names):
        own = {"id": identifier(f"@{number}"), "at": FIRST_AT + number, "thing": identifier(f"@part {number}")}
        values = {"name": name, "place": "side", "off": True, "outcome": "stays_off"}
        about = {"strip": strip, "by": identifier("@phone"), "who": "Ann", "kind": "set", "type": "part"}
        entries.append(own | about | {"values": values})
    phone = Phone(chromium, module_server.url)
    tab = phone.tab()
    tab.run("m.core.start()")

    def in_page(name: str, arguments: str) -> str:
        asked = {"name": name, "arguments": arguments}
        return tab.run("return JSON.stringify({result: await m.core.call(a.name, JSON.parse(a.arguments))})", asked)

    answers = []
    for call in (door.start(lambda: identifier("unused")), in_page):
        call("load", json.dumps({"strip": strip, "entries": entries}))
        answers.append(json.loads(call("view", json.dumps({"strip": strip, "view": "open_items"})))["result"])
    phone.close()
    assert len(answers[0]["cautions"]) > 500
    compare(answers[0], answers[1], "open_items")
