"""On the torque card, without signal: a torque that no bolt of its thread stands is asked about while it is typed."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from screens import sticking_out
from web.one_part import entries, phone_with_one_part, view


@pytest.fixture
def phone(chromium: Any, server: Any) -> Iterator[Any]:
    """A phone on the card of four M8 bolts, for which 25 N.m are written down."""
    with phone_with_one_part(chromium, server, locale="en-GB") as phone:
        page, strip, part = phone
        page.evaluate("navigator.serviceWorker.ready.then(() => true)")
        page.context.set_offline(True)
        [group] = view(phone, "part", part=part)["groups"]
        page.goto(f"{server.url}/#/strip/{strip}/torque/{group['group']}")
        page.locator("summary", has_text="Correct what is written here").tap()
        page.locator("summary", has_text="Range, tolerance, steps").tap()
        yield phone


def test_the_card_asks_and_never_stands_in_the_way(phone: Any) -> None:
    """T = 0.2 d As 970 (ISO 898-1: proof stress of class 12.9) is 56.8 N.m for M8; 200 lbf.in are 22.6 N.m."""
    page, _, _ = phone
    asked = page.get_by_role("group", name="Question")
    page.get_by_label("Torque from the manual", exact=True).fill("200")
    expect(asked).to_contain_text("200\u00a0N·m is more than M8 stands")
    assert sticking_out(page) == []
    asked.get_by_role("button", name="Make it 200\u00a0lbf·in").tap()
    expect(asked).to_have_count(0)
    expect(page.get_by_label("Unit of: Torque from the manual")).to_have_value("lbf.in")
    page.get_by_label("Up to, where the manual gives a range, lbf·in").fill("600")
    expect(asked).to_contain_text("600\u00a0lbf·in is more than M8 stands")
    asked.get_by_role("button", name="Yes, it is so").tap()
    expect(asked).to_have_count(0)
    page.get_by_role("button", name="Save the specification").tap()
    expect(page.get_by_text("Saved on this phone.").first).to_be_visible()
    values = entries(phone)[-1]["values"]
    # 1 lbf.in is 0.1129848290276167 N.m (NIST SP 811).
    assert values["torque_low_newton_metres"] == pytest.approx(200 * 0.1129848290276167)
    assert values["torque_high_newton_metres"] == pytest.approx(600 * 0.1129848290276167)
