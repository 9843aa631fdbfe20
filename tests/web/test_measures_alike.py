"""Each torque of a specification or a tightening may have its own unit, and is said back beside its hint."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from web.unfinished import Phone, phone_with_two_parts

# 1 lbf.ft = 1.3558179483314004 N.m, exact: international foot and pound, standard acceleration of gravity.
FOOT_POUND = 1.3558179483314004


@pytest.fixture
def phone(chromium: Any, server: Any) -> Iterator[Phone]:
    """A phone without signal, two groups of four bolts on the machine."""
    with phone_with_two_parts(chromium, server) as phone:
        yield phone


def says(within: Any, label: str, words: str) -> None:
    """The words stand with the field, for the eye and for a screen reader."""
    field = within.get_by_label(label, exact=True)
    expect(field).to_have_accessible_description(words)
    expect(field).to_have_attribute("inputmode", "text")


def test_each_torque_of_a_specification_is_read_with_its_own_unit_and_said_back(phone: Phone) -> None:
    phone.open(f"#/strip/{phone.strip}/torque/{phone.made['case']['group']}")
    phone.unfold("Range, tolerance, steps, angle, locking nut")
    phone.write("Torque from the manual", "40")
    phone.write("Tolerance, ±, N·m", "3 lbf ft")
    says(phone.page, "Tolerance, ±, N·m", "That is 4.07\u00a0N·m.")
    phone.write("Steps before it, N·m", "10 20 lbf ft")
    hint = "With a space between, like 10 20."
    says(phone.page, "Steps before it, N·m", f"{hint} That is 13.56\u00a0N·m → 27.12\u00a0N·m.")
    phone.write("Prevailing torque, N·m", "1 lbf ft")
    hint = "What a self-locking nut takes to turn before it seats."
    says(phone.page, "Prevailing torque, N·m", f"{hint} That is 1.36\u00a0N·m.")
    phone.tap("Save the specification")
    expect(phone.status()).to_contain_text("Saved on this phone.")
    values: dict[str, Any] = {}
    for entry in phone.entries():
        values |= entry.get("values", {})
    assert values["torque_low_newton_metres"] == 40
    assert values["torque_tolerance_newton_metres"] == pytest.approx(3 * FOOT_POUND)
    assert values["torque_steps_newton_metres"] == pytest.approx([10 * FOOT_POUND, 20 * FOOT_POUND])
    assert values["prevailing_newton_metres"] == pytest.approx(FOOT_POUND)


def test_the_end_of_a_range_is_read_with_its_own_unit_and_said_back(phone: Phone) -> None:
    phone.open(f"#/strip/{phone.strip}/torque/{phone.made['case']['group']}")
    phone.unfold("Range, tolerance, steps, angle, locking nut")
    label = "Up to, where the manual gives a range, N·m"
    phone.write(label, "8 lbf ft")
    says(phone.page, label, "That is 10.85\u00a0N·m.")
    phone.write(label, "12")
    says(phone.page, label, "")


def test_what_a_nut_takes_is_said_back_at_the_tightening_and_its_hint_stays(phone: Phone) -> None:
    phone.open(f"#/strip/{phone.strip}/back")
    phone.unfold("Case")
    part = phone.page.locator("details.part").filter(has_text="Case")
    expect(part.get_by_label("Torque applied", exact=True)).to_be_visible()
    phone.unfold("Adapter, locking nut, or clicked at a setting", part)
    label = "Prevailing torque, N·m"
    hint = "What a self-locking nut takes to turn before it seats. It is set on top."
    says(part, label, hint)
    phone.write(label, "2 lbf ft", part)
    says(part, label, f"{hint} That is 2.71\u00a0N·m.")


def test_a_figure_with_a_hint_is_said_back_beside_it(phone: Phone) -> None:
    phone.open(f"#/strip/{phone.strip}/tally")
    label = "The total that was written or said"
    hint = "Without a sign it is taken as our sum is: lost or gained."
    phone.write(label, "2 lb")
    expect(phone.page.get_by_label(label, exact=True)).to_have_accessible_description(f"{hint} That is 907.2\u00a0g.")
