"""Names written from right to left, and in Devanagari: what stands beside them keeps its place on every line."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from web.unfinished import Phone, phone_with_two_parts

# "Lamp bracket" and "mudguard", with a figure at the end, as people tell two alike apart.
ARABIC, HINDI = "حامل المصباح 2", "मडगार्ड 2"
MADE = """async ([strip, names]) => {
  const shop = await import('/shop.js');
  const made = [];
  for (const name of names) {
    const { part } = await shop.act('take_off', { strip, name, side: 'left', place: 'front_end', pieces: 2,
      outcome: 'goes_back', bag_label: '12', groups: [{ count: 4, thread: 'M10', length: '35', torque: '60' }],
      readings: [{ figure: '612', unit: 'g', step: '1', pieces: 2 }] });
    const [{ group }] = (await shop.view(strip, 'part', { part })).groups;
    made.push({ part, group });
  }
  return made;
}"""
# On each line the characters of a name lie together: what comes before lies to its left, the rest to its right.
# Boxes of their own, such as those of a row, keep their places anyway.
BROKEN_INTO = """([name]) => {
  const words = document.createTreeWalker(document.querySelector('main'), NodeFilter.SHOW_TEXT);
  const marks = [];
  let found = 0;
  for (let node = words.nextNode(); node; node = words.nextNode()) {
    const from = node.data.indexOf(name);
    for (let at = 0; at < node.data.length; at += 1) {
      const range = document.createRange();
      range.setStart(node, at);
      range.setEnd(node, at + 1);
      const box = range.getBoundingClientRect();
      const own = from >= 0 && at >= from && at < from + name.length;
      if (box.width > 0 && /[^\\s\\u2068\\u2069]/.test(node.data[at])) marks.push({ node, text: node.data, own, box });
    }
    if (from >= 0 && node.parentElement.checkVisibility()) found += 1;
  }
  const middle = ({ left, right }) => (left + right) / 2;
  const centre = ({ top, bottom }) => (top + bottom) / 2;
  const flow = (element) => (getComputedStyle(element).display === 'inline' ? flow(element.parentElement) : element);
  const broken = new Set();
  for (const node of new Set(marks.filter((mark) => mark.own).map((mark) => mark.node))) {
    const mine = marks.filter((mark) => mark.own && mark.node === node);
    for (const other of marks.filter((mark) => !(mark.own && mark.node === node))) {
      if (flow(other.node.parentElement) !== flow(node.parentElement)) continue;
      const line = mine.filter(({ box }) => Math.abs(centre(box) - centre(other.box)) < other.box.height / 2);
      const ends = [Math.min(...line.map(({ box }) => middle(box))), Math.max(...line.map(({ box }) => middle(box)))];
      const follows = marks.indexOf(other) > marks.indexOf(mine.at(-1));
      if (line.length && (follows ? middle(other.box) < ends[1] : middle(other.box) > ends[0])) broken.add(other.text);
    }
  }
  return { found, broken: [...broken] };
}"""


@pytest.fixture(scope="module")
def phone(chromium: Any, module_server: Any) -> Iterator[Phone]:
    """A phone without signal with an Arabic and a Hindi part, and an unfinished reading of each."""
    with phone_with_two_parts(chromium, module_server) as phone:
        made = phone.page.evaluate(MADE, [phone.strip, [ARABIC, HINDI]])
        phone.made |= dict(zip((ARABIC, HINDI), made, strict=True))
        yield phone


@pytest.mark.parametrize("name", [ARABIC, HINDI], ids=["Arabic", "Hindi"])
@pytest.mark.parametrize("place", ["off", "back", "statement", "balance", "part/{part}", "torque/{group}"])
def test_a_name_and_what_stands_beside_it_do_not_run_together(phone: Phone, name: str, place: str) -> None:
    phone.open(f"#/strip/{phone.strip}/" + place.format(**phone.made[name]))
    expect(phone.page.get_by_text(name).first).to_be_visible()
    seen = phone.page.evaluate(BROKEN_INTO, [name])
    assert seen["found"] > 0
    assert seen["broken"] == []


@pytest.mark.parametrize("name", [ARABIC, HINDI], ids=["Arabic", "Hindi"])
def test_in_a_sentence_too(phone: Phone, name: str) -> None:
    phone.open(f"#/strip/{phone.strip}/part/{phone.made[name]['part']}")
    phone.tap("Add a reading")
    phone.write("Figure", "61")
    phone.open("#/sending")
    expect(phone.page.locator(".block p").filter(has_text=name)).to_contain_text("A reading: ")
    assert phone.page.evaluate(BROKEN_INTO, [name]) == {"found": 1, "broken": []}


def test_the_scale_that_a_mass_rests_on(phone: Phone) -> None:
    scale, source = "ميزان 9", "كتاب 4"
    row = {"figure": "340", "unit": "g", "scale": scale, "source": source, "weighed_as": "going_on", "step": "1"}
    act = "async ([strip, row]) => (await import('/shop.js')).act('take_off', { strip, name: 'Stay', readings: [row] })"
    phone.page.evaluate(act, [phone.strip, row])
    phone.open(f"#/strip/{phone.strip}/statement")
    phone.page.locator("tr.beneath summary").last.tap()
    expect(phone.page.locator(".pointless .quiet", has_text=scale)).to_be_visible()
    for name in (scale, source):
        seen = phone.page.evaluate(BROKEN_INTO, [name])
        assert (seen["found"] > 0, seen["broken"]) == (True, [])
