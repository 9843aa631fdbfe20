"""A phone on the form for taking off, and what a person does there."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from playwright.sync_api import expect

from screens import open_screen

BEGIN = """async (who) => {
  const shop = await import('/shop.js');
  await shop.setPerson('Ann');
  const { strip } = await shop.act('begin_strip', { name: 'Evening work', machine_name: 'Test hack' });
  await shop.setPerson(who);
  return strip;
}"""
ENTRIES = "async (strip) => (await (await import('/log.js')).entriesOf(strip)).map((row) => row.entry)"


@contextmanager
def taking_off(chromium: Any, server: Any, **options: Any) -> Iterator[Any]:
    """A fresh phone on the screen for taking off: (page, strip). `options` are the browser context's."""
    context = chromium.new_context(**options)
    page = context.new_page()
    page.goto(server.url + "/")
    expect(page.locator("h1")).to_be_visible()
    strip = page.evaluate(BEGIN, "Ann")
    open_screen(page, f"#/strip/{strip}/take_off")
    yield page, strip
    context.close()


def name(page: Any) -> Any:
    return page.get_by_label("Name of the part")


def save(page: Any) -> None:
    page.get_by_role("button", name="Save", exact=True).click()


def unfold(page: Any, title: str) -> None:
    page.locator("summary", has_text=title).first.click()


def entries(phone: Any) -> list[dict[str, Any]]:
    page, strip = phone
    return page.evaluate(ENTRIES, strip)


def part_fields(phone: Any) -> list[dict[str, Any]]:
    return [each["values"] for each in entries(phone) if each["kind"] == "set" and each["type"] == "part"]


def core_away(page: Any) -> None:
    """A start without the core's image, and without what the PC sends: a view of what comes in asks the core again,
    and what asks after the image is back mends the screen before anybody can press a key."""
    page.context.route("**/api/sync", lambda route: route.abort())
    page.context.route("**/core.json", lambda route: route.fulfill(status=503, body=""))
    page.reload()


def until(page: Any, holds: str, argument: Any = None) -> None:
    """Wait until an async function of the argument gives true; fails after 20 s."""
    page.evaluate(
        f"""async (argument) => {{
          const start = performance.now();
          while (!(await ({holds})(argument))) {{
            if (performance.now() - start > 20000) throw new Error('never came true');
            await new Promise(requestAnimationFrame);
          }}
        }}""",
        argument,
    )


def until_kept(page: Any, *names: str) -> None:
    """Wait until the drafts on the phone are for these parts."""
    until(
        page,
        """async (names) => {
          const drafts = await (await import('/log.js')).drafts();
          return JSON.stringify(drafts.map((draft) => draft.value.name).sort()) === JSON.stringify(names); }""",
        sorted(names),
    )


def until_photos(page: Any, count: int) -> None:
    """Wait until the phone keeps so many photos."""
    until(
        page,
        """async (count) => count === await (await import('/database.js')).read(
          ['photos'], (all) => all.objectStore('photos').count())""",
        count,
    )
