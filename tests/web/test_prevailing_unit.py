"""The prevailing torque of a locking nut stays the torque that it was, whatever unit the next figure is in."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from web.unfinished import Phone, phone_with_two_parts

PREVAILING = "Prevailing torque, "
MORE = "Adapter, locking nut, or clicked at a setting"
# 1 lbf.ft = 1.355 818 N.m: NIST SP 811 (2008), appendix B.8.
NEWTON_METRES_IN_FOOT_POUND = 1.355818


@pytest.fixture
def phone(chromium: Any, server: Any) -> Iterator[Phone]:
    """A phone without signal, two groups of four bolts on the machine."""
    with phone_with_two_parts(chromium, server) as phone:
        yield phone


def tightening(phone: Phone) -> Any:
    phone.open(f"#/strip/{phone.strip}/back")
    phone.unfold("Case")
    part = phone.page.locator("details.part").filter(has_text="Case")
    expect(part.get_by_label("Torque applied", exact=True)).to_be_visible()
    return part


def last(phone: Phone) -> dict[str, Any]:
    return [entry for entry in phone.entries() if entry["kind"] == "tighten"][-1]


def test_what_a_nut_took_in_foot_pounds_is_not_newton_metres_at_the_next_ones(phone: Phone) -> None:
    part = tightening(phone)
    phone.write("Tightened", "2", part)
    part.get_by_label("Unit of: Torque applied").select_option("lbf.ft")
    phone.write("Torque applied", "18", part)
    phone.unfold(MORE, part)
    phone.write(f"{PREVAILING}lbf·ft", "2", part)
    expect(part.locator("summary").filter(has_text=MORE)).to_contain_text("prevailing 2 lbf·ft")
    phone.tap("2 tightened", part)
    expect(part.locator("summary").filter(has_text=MORE)).to_contain_text("prevailing 2 lbf·ft")
    expect(part.locator("summary").filter(has_text=MORE)).not_to_contain_text("N·m")
    expect(part.get_by_label("Unit of: Torque applied")).to_have_value("N.m")
    phone.write("Torque applied", "24", part)
    phone.tap("2 tightened", part)
    expect(part).to_contain_text("4 of 4 on, 4 tight")
    entry = last(phone)
    assert entry["prevailing_newton_metres"] == pytest.approx(2 * NEWTON_METRES_IN_FOOT_POUND, rel=1e-6)
    assert entry["newton_metres"] == pytest.approx(24 + 2 * NEWTON_METRES_IN_FOOT_POUND, rel=1e-6)


def test_another_unit_for_the_torque_leaves_what_the_nut_took(phone: Phone) -> None:
    part = tightening(phone)
    phone.unfold(MORE, part)
    phone.write(f"{PREVAILING}N·m", "3", part)
    part.get_by_label("Unit of: Torque applied").select_option("lbf.ft")
    expect(part.get_by_label(f"{PREVAILING}lbf·ft", exact=True)).to_have_value("3 N·m")
    phone.write("Torque applied", "18", part)
    phone.tap("4 tightened", part)
    expect(part).to_contain_text("4 of 4 on, 4 tight")
    assert last(phone)["prevailing_newton_metres"] == pytest.approx(3)
