"""Drafts of forms: emptied, thrown away, in two tabs, beside what others wrote, listed, and never sent."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from web.unfinished import FORMS, Phone, begin, go, is_here_again, phone_with_two_parts, there, until_drafts, write

WEIGH_IN = FORMS["weigh_in"]


@pytest.fixture(scope="module")
def phone(chromium: Any, module_server: Any) -> Iterator[Phone]:
    """A phone without signal that two parts came off."""
    with phone_with_two_parts(chromium, module_server) as phone:
        yield phone


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
    written = """async ([strip, part, up]) => (await import('/shop.js')).act('change', { strip, thing: part,
      type: 'part', values: { up_millimetres: up }, saw: {} })"""
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
    form = WEIGH_IN._replace(typed={"Under the front wheel": "96,4", "Note": "Stays here"})
    begin(phone, form)
    write(phone, form)
    until_drafts(phone, "96,4", "Stays here")
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
    assert not any(b"96,4" in body or b"Stays here" in body for body in sent)
    listed = phone.page.locator(".block").filter(has_text="A weighing of the whole machine")
    listed.get_by_role("link", name="Go to its form").tap()
    is_here_again(phone, form, "")
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
