"""The screens of the app in a real browser: opening one, unfolding it, and making its text twice as large."""

from typing import Any
from urllib.parse import quote

from playwright.sync_api import expect

NAMES = (
    "start", "begin", "take_off", "off", "back", "open", "standard", "statement", "part", "sending", "tally", "balance",
    "weigh_in", "gear", "torque", "record", "retorque", "carry", "pair", "devices",
    "count", "buy", "handover", "settings", "labels", "scan", "find", "bag", "kept", "charts",
    "machine", "tables", "shop", "help", "pictures",
    "map", "specifications", "maps",
    "sheets", "sheets/back", "sheets/buy", "sheets/keys", "sheets/build", "sheets/charts", "sheets/standard",
)  # fmt: skip
# A bag of the strip-down below, which the demo has not, a shelf of the demo, and what a search finds much of in both.
OF_WHAT_IS_WRITTEN = {"bag": "A bag with a long label, forty letters", "kept": "left crate", "find": "m"}
# A strip-down long and large enough to stretch every screen, with a dispute, a lost bolt and a torque far off.
STRETCH = """async () => {
  const shop = await import('/shop.js');
  const long = 'Auxiliarylampbracketassemblywithrubbers and the fairing stay behind it, second pattern, left-hand';
  await shop.setPerson('Averyveryverylongfamilyname-Withasecondone Andafirstname');
  const { strip } = await shop.act('begin_strip', {
    name: long, machine_name: long, standard: '1987654,3', standard_unit: 'g', standard_source: 'x'.repeat(200) });
  const group = (count) => ({ count, thread: 'M12×1.25 left-hand thread, extra', length: '999', head: 'countersunk',
    key: '27 mm crowfoot on half an inch', sits: 'upper row behind the radiator, the two long ones outside',
    into: 'wrought_aluminium', grade: 'A2-70, on the heads', finish: 'stainless', engagement: '199,99',
    grams_each: '4999,99', thread_confirmed: true, outside_engine: true,
    torque: '123,4', torque_high: '150', torque_unit: 'lbf.ft', torque_angle: '90',
    torque_condition: 'locking_compound', torque_page: 'workshop book two, page 12-345, table 7' });
  const { part } = await shop.act('take_off', { strip, name: long, place: 'front_brake', side: 'left', pieces: '2',
    outcome: 'swapped', outcome_done: true, replacement: long, bag_label: 'A bag with a long label, forty letters',
    groups: [group(23), group(500)], note: 'A long note. '.repeat(80), items: [{ what: 'secure', text: long }],
    readings: [{ figure: '499999', unit: 'g', step: '1', pieces: 1 },
      { figure: '300', figure_high: '410.5', unit: 'kg', weighed_as: 'going_on', pieces: '2' }] });
  await shop.act('spell', { strip, act: 'begins', people: ['Averyveryverylongfamilyname-Withasecondone', 'Bo'] });
  const seen = await shop.view(strip, 'part', { part });
  const place = [seen.fields.place.heads[0].entry];
  for (const value of ['tank', 'fork'])
    await shop.act('change', { strip, thing: part, type: 'part', values: { place: value }, saw: { place } });
  const [{ group: id, places: [{ bag }] }] = seen.groups;
  await shop.act('move', { strip, group: id, count: 3, from: 'bag', from_bag: bag, to: 'machine', why: long });
  await shop.act('move', { strip, group: id, count: 2, from: 'bag', from_bag: bag, to: 'lost' });
  await shop.act('tighten', { strip, group: id, count: 2, torque: '400', tool: 'a wrench with a long name' });
  const { tool } = await shop.act('add_tool', { strip, name: long, tool_type: 'bar', low: '99,75', high: '1474.9',
    step: '12.5', torque_unit: 'lbf.ft', deviation: '19.99', lever: '2999', calibrated_on: '2020-02-29',
    certificate: 'C'.repeat(120), note: 'A long note. '.repeat(80) });
  await shop.act('tighten', { strip, group: id, count: 1, torque: '1870.5', with_tool: tool, prevailing: '123.4' });
  await shop.act('aftercare', { strip, group: id, retorque_distance: '62000', retorque_unit: 'mi',
    retorque_days: '3650', retorque_heat_cycles: '1000', retorque_from: 'x'.repeat(120),
    locking_compound: long, cure_hours: '999.5', cure_from: long });
  await shop.act('read_machine', { strip, odometer: '1234567', odometer_unit: 'mi', heat_cycles: '999999' });
  await shop.act('read_machine', { strip, odometer: '12', lower: 'changed' });
  const { scale } = await shop.act('add_scale', { strip, name: long, step: '9999', capacity: '1999.9999', zero: '9999',
    gain_percent: '19,99', calibrated_on: '2020-02-29', certificate: 'C'.repeat(120),
    note: 'A long note. '.repeat(80) });
  for (const [against, figure] of [['coin', '1999999'], ['reference_weight', '1000001']])
    await shop.act('check_scale', { strip, scale_id: scale, against, known: '1000000', figure, note: long });
  await shop.act('weigh_in', {
    strip, front: '123456.7', rear: '1234567,8', unit: 'g', step: '0.1', fuel_litres: '99.9', note: long });
  const { machine } = await shop.view(strip, 'strip');
  await shop.act('change', { strip, thing: machine.id, type: 'machine', values: { wheelbase_millimetres: '2999.5',
    front_axle_millimetres: '599.5', tank_along_millimetres: '-1499', tank_up_millimetres: '2499', tank_litres: '100',
    standard_state: 'running_order', standard_rear_percent: '99.9', standard_up_millimetres: '2499' } });
  await shop.act('change', { strip, thing: part, type: 'part', values: { along_millimetres: '-1499.5',
    up_millimetres: '2499.5', position_plus_minus_millimetres: '999.5', carried: 'rotating' } });
  await shop.act('weigh_in', { strip, front: '123456.7', rear: '1234567,8', unit: 'g', step: '0.1',
    fuel_litres: '99.9', rider: '499999', front_higher: '-999', front_scale: scale, rear_scale: scale, note: long });
  await shop.act('weigh_in', { strip, front: '123456.7', unit: 'g', rear_raised: '999' });
  for (const side of ['left', 'right'])
    await shop.act('add_setting', { strip, adjusted: 'rebound_damping', name: long, place: 'front_brake', side, part,
      measured_in: 'turns', counted: 'out_from_in', inwards_is: 'harder', read_how: 'x'.repeat(120),
      as_found: '99 7/8', value: side === 'left' ? '12 1/8' : '11.125', why: long, how_to_undo: 'W'.repeat(400),
      note: 'A long note. '.repeat(80) });
  await shop.act('add_setting', { strip, adjusted: 'tyre_pressure', measured_in: 'kilopascals', as_found_unknown: true,
    value: '101.5', unit: 'psi', place: 'rear_wheel' });
  const { setting } = await shop.act('add_setting', { strip, adjusted: 'other', name: long, measured_in: 'in_words',
    as_found: 'W'.repeat(400), value: 'w'.repeat(400) });
  const { settings } = await shop.view(strip, 'settings');
  const saw = { in_words: [settings.find((each) => each.setting === setting).fields.in_words.heads[0].entry] };
  for (const value of ['a little', 'a lot'])
    await shop.act('adjust', { strip, thing: setting, value, why: long, saw });
  // A map of the same machine: the part as it is not, one that is to come off, one that is not there.
  const bolts = { count: 500, thread: 'M12×1.25 left-hand thread, extra', length_millimetres: 999,
    key: '27 mm crowfoot', sits: 'upper row behind the radiator, the two long ones outside',
    torque_low_newton_metres: 167.3, torque_page: 'workshop book two, page 12-345, table 7' };
  const seen_on = [1, 2, 3].map((n) => ({ machine: `01234567-89ab-7000-8000-00000000000${n}`,
    grams_a_piece: 123456.7 + n, minutes: 1234 }));
  const foreseen = (name, side) => ({ name, side, place: 'luggage', pieces: 200, fasteners: [bolts, bolts], seen_on });
  await shop.act('take_map', { strip, map: JSON.stringify({ format: 'cotterbook-map/1', machine: long,
    parts: [foreseen(long, 'left'), foreseen(long, 'right'), foreseen('Auxiliary', 'both'), foreseen('Carrier')] }) });
  const { parts: rows } = await shop.view(strip, 'foreseen');
  await shop.act('drop_foreseen', { strip, foreseen: rows[2].foreseen });
  return { strip, part, group: id };
}"""
PICK = """async () => {
  const shop = await import('/shop.js');
  const [{ strip }] = await shop.strips();
  const { parts } = await shop.view(strip, 'off');
  const { part } = parts.find((each) => each.disputed);
  const views = await Promise.all(parts.map((each) => shop.view(strip, 'part', each)));
  const { group } = views.flatMap((view) => view.groups).find((each) => each.specification);
  return { strip, part, group };
}"""


def place_of(name: str, strip: str, part: str, group: str = "") -> str:
    """The hash of a screen."""
    if name == "pins":
        return f"#/strip/{strip}/pins/{group}"
    if name in OF_WHAT_IS_WRITTEN:
        return f"#/strip/{strip}/{name}/{quote(OF_WHAT_IS_WRITTEN[name], safe='')}"
    if name in ("torque", "record"):
        return f"#/strip/{strip}/{name}/{group}"
    if name in ("start", "begin", "sending", "carry", "pair", "devices", "shop", "maps", "help"):
        return "#/" + name.replace("start", "")
    return f"#/strip/{strip}/part/{part}" if name == "part" else f"#/strip/{strip}/{name}"


def open_screen(page: Any, place: str) -> None:
    """Goes to the screen and waits until what it shows is there."""
    page.goto(page.url.split("#")[0] + place)
    expect(page.locator("h1")).to_be_visible()
    expect(page.get_by_text("Reading the log…")).to_have_count(0)


def unfold(page: Any) -> None:
    """Opens every folded section, also those inside others that appear on opening, until no more come."""
    page.evaluate(
        """async () => {
          for (let quiet = 0; quiet < 5;) {
            const shut = document.querySelectorAll('details:not([open])');
            for (const each of shut) each.open = true;
            quiet = shut.length ? 0 : quiet + 1;
            await new Promise(requestAnimationFrame);
          }
          // What was unfolded asks the core, and grows once more when it answers.
          for (let same = 0, height = 0; same < 20;) {
            await new Promise((resolve) => setTimeout(resolve, 25));
            const now = document.documentElement.scrollHeight;
            same = now === height ? same + 1 : 0;
            height = now;
          }
        }"""
    )


def double_the_text(page: Any) -> None:
    """As a person does who sets the browser's text size to twice its usual."""
    page.evaluate(
        """() => { const sheet = new CSSStyleSheet(); sheet.replaceSync('html { font-size: 200% !important; }');
                  document.adoptedStyleSheets = [sheet]; }"""
    )


def sticking_out(page: Any) -> list[str]:
    """Elements that reach beyond the page's sides. WCAG 2.2, 1.4.10, leaves out tables, which scroll in a frame."""
    return page.evaluate(
        """() => [...document.querySelectorAll('body *')].filter((each) => {
             const { width, left, right } = each.getBoundingClientRect();
             return width && (right > innerWidth + 1 || left < -1) && !each.closest('.hidden, thead, .wide_table > *');
           }).map((each) => each.outerHTML.slice(0, 120)).concat(
             document.documentElement.scrollWidth > innerWidth ? ['the page itself'] : [])"""
    )
