"""Forms that keep what is typed, one by one, and a phone without signal to try them on."""

import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, NamedTuple

from playwright.sync_api import expect

from web.hands import PATIENCE_MS, PHONE, Hands

# A strip-down with a scale, a wrench, and two parts with four bolts each that are on again and have no torque yet.
MADE = """async () => {
  const shop = await import('/shop.js');
  await shop.setPerson('Ann');
  const { strip } = await shop.act('begin_strip', { name: 'Evening work', machine_name: 'Test hack' });
  await shop.act('add_scale', { strip, name: 'Bench scale', step: '1', capacity: '15' });
  await shop.act('add_tool', { strip, name: 'Bench wrench', low: '10', high: '60' });
  const unknown = { as_found_unknown: true, value: '3' };
  await shop.act('add_setting', { strip, adjusted: 'preload', measured_in: 'turns', ...unknown });
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


# A tile that is tapped instead of a text that is typed.
CHOSEN = "chosen"
FORMS = {
    "weigh_in": Form(
        "weigh_in", (), {"Under the front wheel": "98,2", "Note": "Tools in the box"}, "Under the rear wheel", "heavy",
        "102,4", "Save the weighing", "Your unfinished weighing is here again", ("Rider, level, note",),
    ),
    "specification": Form(
        "torque/{case[group]}", (), {"Manual and page": "book 7-2"}, "Torque from the manual", "much", "25",
        "Save the specification", "Your unfinished specification is here again",
    ),
    "aftercare": Form(
        "torque/{case[group]}", ("Write down retorque and cure time",), {"Who wants it": "book 7-2"},
        "After how many days", "0", "30", "Save retorque and cure time", "Your unfinished retorque is here again",
    ),
    "machine_use": Form(
        "retorque", (), {"Times run hot and cold again, in all": "4"}, "Odometer shows", "far", "12400",
        "Save the odometer", "Your unfinished odometer reading is here again", ("Heat cycles",),
    ),
    "scale": Form(
        "gear", ("Add a scale",), {"Name of the scale": "Kitchen scale"}, "Step of the scale", "-1", "1",
        "Save the scale", "Your unfinished scale is here again",
    ),
    "scale_check": Form(
        "gear", ("Check it against a known mass",), {"What it weighs": "1000", "Note": "Brass"},
        "What this scale shows", "little", "1001", "Save the check", "Your unfinished check is here again",
    ),
    "tool": Form(
        "gear", ("Add a wrench",), {"Name of the wrench": "Long wrench"}, "Top", "-5", "200", "Save the wrench",
        "Your unfinished wrench is here again",
    ),
    "setting": Form(
        "settings", ("Write down a setting",), {"How it is read": "at its tightest place"}, "As found, turns", "much",
        "2 1/2", "Save the setting", "Your unfinished setting is here again",
    ),
    "adjust": Form(
        "settings", ("Note a new value",), {"Why": "New chain"}, "How it stands now, turns", "much", "4 1/2",
        "Save the value", "Your unfinished value is here again",
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
    "move": Form(
        "part/{case[part]}", ("Move some",), {"In spares": CHOSEN}, "How many", "500", "2", "Move them",
        "Your unfinished move is here again",
    ),
    "wait": Form(
        "part/{case[part]}", ("What must go on before it", "Add what goes on first"), {"Goes on first": "Stay"}, "Note",
        "long " * 81, "The stay is behind it", "Save", "What you began to add is here again",
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


@contextmanager
def phone_with_two_parts(chromium: Any, server: Any) -> Iterator[Phone]:
    """A phone that has loaded the program once and has no signal."""
    context = chromium.new_context(**PHONE)
    hands = Phone(context.new_page(), server.url)
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
        if text == CHOSEN:
            field.check()
        elif field.evaluate("(field) => field.tagName") == "SELECT":
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
        if text == CHOSEN:
            expect(field).to_be_checked()
            continue
        expect(field).to_be_visible()
        if field.evaluate("(field) => field.tagName") == "SELECT":
            expect(field.locator("option:checked")).to_have_text(text)
        else:
            expect(field).to_have_value(text)
