"""What was typed and not saved is here again: after a reload, the way back, a refusal. Saved or dropped, it is gone.

On a phone without signal, form by form. Taking off has tests of its own.
"""

import time
from collections.abc import Iterator
from typing import Any, NamedTuple

import pytest
from playwright.sync_api import expect

from web.hands import PATIENCE_MS, PHONE, Hands

# A strip-down with a scale, a wrench, and two parts with four bolts each that are on again and have no torque yet.
MADE = """async () => {
  const shop = await import('/shop.js');
  await shop.setPerson('Ann');
  const { strip } = await shop.act('begin_strip', { name: 'Evening work', machine_name: 'Test hack' });
  await shop.act('add_scale', { strip, name: 'Bench scale', step: '1', capacity: '15' });
  await shop.act('add_tool', { strip, name: 'Bench wrench', low: '10', high: '60' });
  const made = { strip };
  for (const name of ['Case', 'Stay']) {
    const { part } = await shop.act('take_off', { strip, name, outcome: 'goes_back', bag_label: '7',
      groups: [{ count: 4, thread: 'M8', length: '25' }] });
    const [{ group, places: [{ bag }] }] = (await shop.view(strip, 'part', { part })).groups;
    await shop.act('move', { strip, group, count: 4, from: 'bag', from_bag: bag, to: 'machine' });
    made[name] = { part, group };
  }
  return made;
}"""
DRAFTS = "async () => JSON.stringify(await (await import('/log.js')).drafts())"


class Form(NamedTuple):
    """A form: where it is, what opens it, what is typed, what is refused and what is right instead, and how it says."""

    place: str
    opens: tuple[str, ...]
    typed: dict[str, str]
    field: str
    refused: str
    right: str
    button: str
    notice: str
    folded: tuple[str, ...] = ()


FORMS = {
    "weigh_in": Form(
        "weigh_in", (), {"Under the front wheel": "98,2", "Note": "Tools in the box"}, "Under the rear wheel", "heavy",
        "102,4", "Save the weighing", "Your unfinished weighing is here again", ("Rider, level, note",),
    ),
    "specification": Form(
        "torque/{case[group]}", (), {"Manual and page": "book 7-2"}, "Torque from the manual", "much", "25",
        "Save the specification", "Your unfinished specification is here again",
    ),
    "scale": Form(
        "gear", ("Add a scale",), {"Name of the scale": "Kitchen scale"}, "Step", "-1", "1", "Save the scale",
        "Your unfinished scale is here again",
    ),
    "scale_check": Form(
        "gear", ("Check it against a known mass",), {"What it weighs": "1000", "Note": "Brass"},
        "What this scale shows", "little", "1001", "Save the check", "Your unfinished check is here again",
    ),
    "tool": Form(
        "gear", ("Add a wrench",), {"Name of the wrench": "Long wrench"}, "Top", "-5", "200", "Save the wrench",
        "Your unfinished wrench is here again",
    ),
    "place": Form(
        "balance", ("Place: Case",), {"Behind the front axle, mm": "700"}, "Above the ground, mm", "high", "650",
        "Save the place", "Your unfinished place is here again",
    ),
    "tighten": Form(
        "back", ("Stay",), {"Which wrench": "Long bar"}, "Torque applied", "tight", "24,5", "4 tightened",
        "Your unfinished tightening is here again",
    ),
    "reading": Form(
        "part/{case[part]}", ("Add a reading",), {"Which scale": "Bench scale"}, "Figure", "8.1.2", "812",
        "Save the reading", "Your unfinished reading is here again",
    ),
    "fasteners": Form(
        "part/{stay[part]}", ("Add fasteners",), {"Thread": "M6"}, "How many", "0", "3", "Save",
        "Your unfinished fasteners are here again",
    ),
}  # fmt: skip


class Phone(Hands):
    """A tab of a phone with two parts; `made` has the ids of each and of its bolts."""

    made: dict[str, dict[str, str]]

    def another_tab(self) -> "Phone":
        tab = Phone(self.page.context.new_page(), self.url)
        tab.strip, tab.made = self.strip, self.made
        return tab


@pytest.fixture(scope="module")
def phone(chromium: Any, module_server: Any) -> Iterator[Phone]:
    """A phone that has loaded the program once and has no signal."""
    context = chromium.new_context(**PHONE)
    hands = Phone(context.new_page(), module_server.url)
    hands.install()
    made = hands.page.evaluate(MADE)
    hands.strip = made["strip"]
    hands.made = {name.lower(): made[name] for name in ("Case", "Stay")}
    context.set_offline(True)
    yield hands
    context.close()


def there(hands: Phone, form: Form) -> Any:
    """The form on the screen."""
    button = hands.page.get_by_role("button", name=form.button, exact=True)
    return hands.page.locator("form").filter(has=button)


def go(hands: Phone, form: Form) -> None:
    hands.open(f"#/strip/{hands.strip}/" + form.place.format(**hands.made))


def begin(hands: Phone, form: Form) -> Any:
    """Open the form as a person does, with nothing in it."""
    go(hands, form)
    for title in form.opens:
        opener = hands.page.get_by_role("button", name=title, exact=True).or_(
            hands.page.locator("summary").filter(has_text=title)
        )
        opener.first.tap()
    for title in form.folded:
        hands.unfold(title, there(hands, form))
    expect(there(hands, form)).to_be_visible()
    expect(hands.page.get_by_text("here again")).to_have_count(0)
    return there(hands, form)


def write(hands: Phone, form: Form, **more: str) -> None:
    for label, text in {**form.typed, **more}.items():
        field = there(hands, form).get_by_label(label, exact=True)
        if field.evaluate("(field) => field.tagName") == "SELECT":
            field.select_option(label=text)
        else:
            field.fill(text)


def until_drafts(hands: Phone, *texts: str) -> None:
    """Wait until the phone's drafts hold these texts; without any, until there is no draft."""
    until = time.monotonic() + PATIENCE_MS / 1000
    drafts = hands.page.evaluate(DRAFTS)
    while not all(text in drafts for text in texts) or (not texts and drafts != "[]"):
        assert time.monotonic() < until, drafts
        drafts = hands.page.evaluate(DRAFTS)


def is_here_again(hands: Phone, form: Form, value: str) -> None:
    """The form is open with what was typed, and says so."""
    expect(hands.page.get_by_text(form.notice)).to_be_visible()
    within = there(hands, form)
    for label, text in {**form.typed, form.field: value}.items():
        field = within.get_by_label(label, exact=True)
        expect(field).to_be_visible()
        if field.evaluate("(field) => field.tagName") == "SELECT":
            expect(field.locator("option:checked")).to_have_text(text)
        else:
            expect(field).to_have_value(text)


@pytest.mark.parametrize("form", FORMS.values(), ids=FORMS.keys())
def test_what_was_typed_stays_until_it_is_saved(phone: Phone, form: Form) -> None:
    begin(phone, form)
    write(phone, form, **{form.field: form.refused})
    until_drafts(phone, form.refused)
    before = phone.entries()
    phone.reload()
    is_here_again(phone, form, form.refused)
    phone.to("Off")
    phone.page.go_back()
    is_here_again(phone, form, form.refused)
    phone.tap(form.button, there(phone, form))
    expect(phone.refused().first).to_contain_text("Not saved yet. What you typed is still here.")
    phone.reload()
    is_here_again(phone, form, form.refused)
    assert phone.entries() == before
    there(phone, form).get_by_label(form.field, exact=True).fill(form.right)
    until_drafts(phone, form.right)
    phone.tap(form.button, there(phone, form))
    until_drafts(phone)
    expect(phone.status()).to_contain_text("Saved on this phone.")
    assert len(phone.entries()) > len(before)
    go(phone, form)
    phone.reload()
    expect(phone.page.get_by_text("here again")).to_have_count(0)
    assert phone.page.evaluate(DRAFTS) == "[]"


WEIGH_IN = FORMS["weigh_in"]


def test_a_total_to_check_stays_on_the_way_to_a_part_and_back(phone: Phone) -> None:
    total, notice = "The total that was written or said", "What you asked last is here again"
    phone.open(f"#/strip/{phone.strip}/tally")
    phone.choose("Which sum it is of", "Lying off now")
    phone.write(total, "much")
    until_drafts(phone, "much")
    phone.reload()
    expect(phone.page.get_by_text(notice)).to_be_visible()
    expect(phone.page.get_by_label(total, exact=True)).to_have_value("much")
    expect(phone.page.get_by_role("radio", name="Lying off now")).to_be_checked()
    phone.tap("Look for what differs")
    expect(phone.refused()).to_contain_text("“much” is no number.")
    phone.write(total, "3,5")
    phone.tap("Look for what differs")
    expect(phone.page.get_by_role("heading", name="What differs")).to_be_visible()
    phone.to("Off")
    phone.page.go_back()
    expect(phone.page.get_by_label(total, exact=True)).to_have_value("3,5")
    phone.tap("Start afresh")
    phone.tap("Start afresh", phone.page.get_by_role("dialog"))
    expect(phone.page.get_by_label(total, exact=True)).to_have_value("")
    expect(phone.page.get_by_role("radio", name="Since it came in")).to_be_checked()
    until_drafts(phone)


def test_what_is_begun_afresh_or_emptied_again_keeps_nothing(phone: Phone) -> None:
    begin(phone, WEIGH_IN)
    write(phone, WEIGH_IN)
    until_drafts(phone, "98,2", "Tools in the box")
    phone.reload()
    phone.tap("Start afresh")
    phone.tap("Leave it", phone.page.get_by_role("dialog"))
    is_here_again(phone, WEIGH_IN, "")
    phone.tap("Start afresh")
    phone.tap("Start afresh", phone.page.get_by_role("dialog"))
    expect(phone.page.get_by_text("here again")).to_have_count(0)
    expect(phone.page.get_by_label("Under the front wheel", exact=True)).to_have_value("")
    until_drafts(phone)
    phone.write("Under the rear wheel", "104")
    until_drafts(phone, "104")
    phone.write("Under the rear wheel", "")
    until_drafts(phone)


@pytest.mark.parametrize("name", ["place", "reading", "fasteners"])
def test_what_is_left_or_removed_by_hand_is_gone(phone: Phone, name: str) -> None:
    form, leave = FORMS[name], {"place": "Leave it", "reading": "Remove this reading", "fasteners": "Remove this row"}
    begin(phone, form)
    write(phone, form, **{form.field: "99"})
    until_drafts(phone, "99")
    phone.tap(leave[name], there(phone, form))
    until_drafts(phone)
    phone.reload()
    expect(phone.page.get_by_text("here again")).to_have_count(0)


def test_two_tabs_keep_their_own_and_a_killed_one_leaves_its_to_the_next(phone: Phone) -> None:
    begin(phone, WEIGH_IN)
    write(phone, WEIGH_IN)
    until_drafts(phone, "98,2")
    other = phone.another_tab()
    begin(other, WEIGH_IN)
    expect(other.page.get_by_label("Under the front wheel", exact=True)).to_have_value("")
    other.write("Under the front wheel", "97,7")
    until_drafts(phone, "98,2", "97,7")
    phone.reload()
    is_here_again(phone, WEIGH_IN, "")
    other.page.close()
    phone.write("Under the rear wheel", "102,4")
    phone.tap(WEIGH_IN.button)
    expect(phone.page.get_by_label("Under the front wheel", exact=True)).to_have_value("")
    phone.reload()
    expect(phone.page.get_by_text(WEIGH_IN.notice)).to_be_visible()
    expect(phone.page.get_by_label("Under the front wheel", exact=True)).to_have_value("97,7")
    phone.tap("Start afresh")
    phone.tap("Start afresh", phone.page.get_by_role("dialog"))
    until_drafts(phone)


def test_a_place_typed_before_another_was_written_does_not_overwrite_it_unseen(phone: Phone) -> None:
    form = FORMS["place"]
    written = """async ([strip, part, up]) => (await import('/shop.js')).act('change', { strip, thing: part, type: 'part',
      values: { up_millimetres: up }, saw: {} })"""
    case = phone.made["case"]["part"]
    phone.page.evaluate(written, [phone.strip, case, "500"])
    begin(phone, form)
    write(phone, form, **{form.field: "640"})
    until_drafts(phone, "640")
    phone.to("Off")
    phone.page.evaluate(written, [phone.strip, case, "910"])
    go(phone, form)
    is_here_again(phone, form, "640")
    phone.tap(form.button)
    until_drafts(phone)
    expect(phone.page.locator("li.line").filter(has_text="Case").get_by_text("two answers")).to_be_visible()


def test_unfinished_forms_are_listed_and_none_is_sent(phone: Phone) -> None:
    begin(phone, WEIGH_IN)
    write(phone, WEIGH_IN)
    until_drafts(phone, "98,2")
    noted = """async ([strip, part]) => (await import('/shop.js')).act('change', { strip, thing: part, type: 'part',
      values: { note: 'Goes across' }, saw: {} })"""
    phone.page.evaluate(noted, [phone.strip, phone.made["stay"]["part"]])
    sent: list[bytes] = []
    phone.page.context.on("request", lambda request: sent.append(request.post_data_buffer or b""))
    phone.page.context.set_offline(False)
    try:
        phone.all_sent()
    finally:
        phone.page.context.set_offline(True)
    assert any(b"Goes across" in body for body in sent), "the log went across"
    assert not any(b"98,2" in body or b"Tools in the box" in body for body in sent)
    listed = phone.page.locator(".block").filter(has_text="A weighing of the whole machine")
    listed.get_by_role("link", name="Go to its form").tap()
    is_here_again(phone, WEIGH_IN, "")
    phone.to("Sending")
    phone.tap("Drop it", listed)
    phone.tap("Drop it", phone.page.get_by_role("dialog"))
    until_drafts(phone)
    expect(phone.page.get_by_text("Begun and not saved")).to_have_count(0)


def test_with_the_last_entry_of_a_strip_down_its_forms_go_too(phone: Phone) -> None:
    kept = phone.page.evaluate(
        """async () => {
          const log = await import('/log.js');
          const [gone, stays] = ['01900000-0000-7000-8000-0000000000a1', '01900000-0000-7000-8000-0000000000a2'];
          const entry = (id, strip) => ({ id, strip, kind: 'set', at: 1, by: id, who: 'Ann', thing: strip,
            type: 'strip', values: { note: 'x' } });
          const ids = [1, 2].map((each) => `01900000-0000-7000-8000-0000000000b${each}`);
          await log.addEntries(ids.map((id) => entry(id, gone)));
          for (const strip of [gone, stays]) await log.putDraft(`weigh_in/${strip}/1`, { front: '98' });
          await log.settle([], ids.map((id) => ({ id, code: 'no', field: '', text: 'No.', values: {} })));
          await log.forget(ids[0]);
          const before = (await log.drafts()).length;
          await log.forget(ids[1]);
          const after = (await log.drafts()).map((draft) => draft.key);
          await log.deleteDraft(`weigh_in/${stays}/1`);
          return [before, after];
        }"""
    )
    assert kept == [2, ["weigh_in/01900000-0000-7000-8000-0000000000a2/1"]]
