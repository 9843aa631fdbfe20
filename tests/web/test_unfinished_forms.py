"""What was typed and not saved is here again: after a reload, the way back, a refusal. Saved, it is gone.

On a phone without signal, form by form. Taking off has tests of its own.
"""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from web.unfinished import (
    DRAFTS,
    FORMS,
    Form,
    Phone,
    begin,
    go,
    is_here_again,
    phone_with_two_parts,
    there,
    until_drafts,
    write,
)


@pytest.fixture(scope="module")
def phone(chromium: Any, module_server: Any) -> Iterator[Phone]:
    """A phone without signal that two parts came off."""
    with phone_with_two_parts(chromium, module_server) as phone:
        yield phone


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
