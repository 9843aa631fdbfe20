"""A fresh phone with one strip-down of one part, for tests that tap on it."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from playwright.sync_api import expect

# A brake part with four bolts in bag 7, a specification of 25 N·m, one reading, and two blind answers for its place.
MADE = """async () => {
  const shop = await import('/shop.js');
  await shop.setPerson('Ann');
  const { strip } = await shop.act('begin_strip', { name: 'Evening work', machine_name: 'Test hack' });
  const { part } = await shop.act('take_off', { strip, name: 'Caliper bracket', place: 'frame', pieces: 2,
    outcome: 'goes_back', bag_label: '7',
    groups: [{ count: 4, thread: 'M8', length: '25', torque: '25', torque_page: 'workshop book 7-2' }],
    readings: [{ figure: '400', unit: 'g', step: '1', pieces: 1 }] });
  const { fields } = await shop.view(strip, 'part', { part });
  const place = [fields.place.heads[0].entry];
  for (const value of ['rear_brake', 'front_brake'])
    await shop.act('change', { strip, thing: part, type: 'part', values: { place: value }, saw: { place } });
  return { strip, part };
}"""
ENTRIES = "async (strip) => (await (await import('/log.js')).entriesOf(strip)).map((row) => row.entry)"


@contextmanager
def phone_with_one_part(chromium: Any, server: Any, **options: Any) -> Iterator[Any]:
    """A fresh phone with one part: (page, strip, part). `options` are the browser context's."""
    context = chromium.new_context(**{"viewport": {"width": 360, "height": 740}, "has_touch": True} | options)
    page = context.new_page()
    page.goto(server.url + "/")
    expect(page.locator("h1")).to_be_visible()
    made = page.evaluate(MADE)
    yield page, made["strip"], made["part"]
    context.close()


def entries(phone: Any) -> list[dict[str, Any]]:
    """All entries of the phone's strip-down, in the order they came."""
    page, strip, _ = phone
    return page.evaluate(ENTRIES, strip)


def act(phone: Any, name: str, /, **form: Any) -> Any:
    """Does an act of the core, as a screen would."""
    page, strip, _ = phone
    script = "async ([name, form]) => (await import('/shop.js')).act(name, form)"
    return page.evaluate(script, [name, {"strip": strip, **form}])


def view(phone: Any, name: str, **more: Any) -> Any:
    """A view of the phone's strip-down."""
    page, strip, _ = phone
    script = "async ([strip, name, more]) => (await import('/shop.js')).view(strip, name, more)"
    return page.evaluate(script, [strip, name, more])
