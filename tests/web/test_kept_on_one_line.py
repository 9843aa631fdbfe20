"""A figure and its unit, a count and its size stand on one line; a torque as written has its unit as it is read."""

from typing import Any

from playwright.sync_api import expect

from web.unfinished import phone_with_two_parts

BREAK = "\u00a0"
SPECIFIED = """async ([strip, group]) => (await import('/shop.js')).act('specify', { strip, group, torque: '60',
  torque_unit: 'N.m', torque_tolerance: '4', torque_page: 'book 7-2', saw: {} })"""
WRITTEN = "async () => (await import('/words.js')).asWritten('10 20 lbf.ft → 24 – 28 lbf.ft')"


def test_on_the_torque_card(chromium: Any, server: Any) -> None:
    with phone_with_two_parts(chromium, server) as phone:
        group = phone.made["case"]["group"]
        phone.page.evaluate(SPECIFIED, [phone.strip, group])
        phone.open(f"#/strip/{phone.strip}/torque/{group}")
        title = phone.page.get_by_role("heading", level=1)
        assert title.text_content() == f"Torque of 4{BREAK}×{BREAK}M8×25"
        written = phone.page.locator("dl.beside > div").filter(has_text="As it was written").locator("dd")
        expect(written).to_be_visible()
        # The unit stands behind the last figure, as it was typed once for both.
        assert written.text_content() == f"60 ± 4{BREAK}N·m"
        setting = phone.page.locator(".setting")
        expect(setting).to_contain_text("permissible deviation")
        assert f"±4{BREAK}% permissible deviation" in setting.text_content()
        assert phone.page.evaluate(WRITTEN) == f"10 20{BREAK}lbf·ft → 24 – 28{BREAK}lbf·ft"
        phone.open(f"#/strip/{phone.strip}/part/{phone.made['case']['part']}")
        expect(phone.page.get_by_text("book 7-2 · as written: 60 ± 4 N·m")).to_be_visible()
        expect(phone.page.get_by_text("Torque as written: 60 ± 4 N·m")).to_be_visible()
