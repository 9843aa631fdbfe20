"""Every screen, full and stretched: accessible, nothing cut off, large enough for a glove, readable in the sun."""

from collections.abc import Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from screens import NAMES, PICK, STRETCH, double_the_text, open_screen, place_of, sticking_out, unfold

# WCAG 2.2 AA and axe's own good practice.
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
TARGET_PX = 56
PRESSED = "button, .button, .bar a, .trail a, summary, select, input, textarea, .line[href]"
FIGURE_CONTRAST = 7.0
broke: list[Any] = []


@pytest.fixture(scope="module")
def demo(chromium: Any, demo_server: Any) -> Iterator[Any]:
    """A phone that has fetched the demo strip-down: (page, strip, part, group)."""
    context = chromium.new_context(viewport={"width": 360, "height": 740}, has_touch=True)
    page = context.new_page()
    page.on("pageerror", lambda error: broke.append(error))
    page.goto(demo_server.url + "/")
    expect(page.locator(".lines .line")).to_have_count(1, timeout=60_000)
    found = page.evaluate(PICK)
    yield page, found["strip"], found["part"], found["group"]
    context.close()


@pytest.fixture(scope="module")
def stretched(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A phone with a strip-down of long names and large figures: (page, strip, part, group)."""
    context = chromium.new_context(viewport={"width": 360, "height": 740}, has_touch=True)
    page = context.new_page()
    page.on("pageerror", lambda error: broke.append(error))
    page.goto(module_server.url + "/")
    expect(page.locator("h1")).to_be_visible()
    made = page.evaluate(STRETCH)
    yield page, made["strip"], made["part"], made["group"]
    context.close()


def shown(phone: Any, name: str, width: int = 360, theme: str = "light", doubled: bool = False) -> Any:
    """The phone's page with this screen, all unfolded."""
    page, strip, part, group = phone
    page.set_viewport_size({"width": width, "height": 740})
    page.emulate_media(color_scheme=theme)
    open_screen(page, place_of(name, strip, part, group))
    page.evaluate("document.adoptedStyleSheets = []")
    if doubled:
        double_the_text(page)
    unfold(page)
    # A screen that broke while it was drawn shows little, and little is never too wide.
    assert not broke
    return page


def drawn_anew(page: Any) -> None:
    """Until what follows from another size or theme is drawn."""
    page.evaluate("new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)))")


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("phone", ["demo", "stretched"])
def test_axe_finds_nothing(phone: str, name: str, request: pytest.FixtureRequest) -> None:
    page = shown(request.getfixturevalue(phone), name)
    # As tall as its content, so that nothing lies under the bar while it is looked at.
    height = page.evaluate("document.documentElement.scrollHeight")
    page.set_viewport_size({"width": 360, "height": height})
    # Opened once for both themes: to open and unfold a screen takes as long as to look at it.
    for theme in ("light", "dark"):
        page.emulate_media(color_scheme=theme)
        drawn_anew(page)
        answer = Axe().run(page, options={"runOnly": {"type": "tag", "values": RULES}}).response
        found = [(each["id"], [node["html"][:120] for node in each["nodes"]]) for each in answer["violations"]]
        assert (theme, found) == (theme, [])
        assert len(answer["passes"]) > 20


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("phone", ["demo", "stretched"])
def test_nothing_sticks_out(phone: str, name: str, request: pytest.FixtureRequest) -> None:
    page = shown(request.getfixturevalue(phone), name)
    for width in (320, 360, 412, 1280):
        page.set_viewport_size({"width": width, "height": 740})
        drawn_anew(page)
        assert (width, sticking_out(page)) == (width, [])


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("phone", ["demo", "stretched"])
def test_text_at_twice_its_size_still_fits(phone: str, name: str, request: pytest.FixtureRequest) -> None:
    page = shown(request.getfixturevalue(phone), name, doubled=True)
    assert page.evaluate("getComputedStyle(document.documentElement).fontSize") == "32px"
    assert sticking_out(page) == []


@pytest.mark.parametrize("name", NAMES)
def test_what_is_pressed_is_large_enough_for_a_glove(demo: Any, name: str) -> None:
    small = shown(demo, name).evaluate(
        """([pressed, least]) => [...document.querySelectorAll(pressed)]
             .map((each) => [each, each.getBoundingClientRect()])
             .filter(([, { width }]) => width)
             .filter(([each, { width, height }]) => height < least || each.matches('button') && width < least)
             .map(([each]) => each.outerHTML.slice(0, 120))""",
        # Half a pixel is what rounding may take.
        [PRESSED, TARGET_PX - 0.5],
    )
    assert small == []


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("name", ["start", "off", "back", "statement", "part", "sending", "torque"])
def test_figures_stand_out(demo: Any, name: str, theme: str) -> None:
    ratios = shown(demo, name, theme=theme).evaluate(
        """() => {
          const channels = (colour) => colour.match(/[\\d.]+/g).map(Number);
          // Relative luminance and contrast ratio: WCAG 2.2, glossary.
          const light = (colour) => channels(colour).slice(0, 3).map((each) => each / 255)
            .map((each) => (each <= 0.04045 ? each / 12.92 : ((each + 0.055) / 1.055) ** 2.4))
            .reduce((sum, each, index) => sum + each * [0.2126, 0.7152, 0.0722][index], 0);
          const behind = (each) => {
            for (let at = each; at; at = at.parentElement) {
              const colour = getComputedStyle(at).backgroundColor;
              if ((channels(colour)[3] ?? 1) === 1) return colour;
            }
          };
          return [...document.querySelectorAll('.figure')].map((each) => {
            const [dark, bright] = [light(getComputedStyle(each).color), light(behind(each))].sort((a, b) => a - b);
            return (bright + 0.05) / (dark + 0.05);
          });
        }"""
    )
    assert ratios
    assert min(ratios) >= FIGURE_CONTRAST


def test_the_theme_that_was_chosen_stays(demo: Any) -> None:
    page = shown(demo, "sending")
    page.get_by_label("Dark, for the night").check()
    expect(page.locator("html")).to_have_attribute("data-theme", "dark")
    page.reload()
    expect(page.locator("html")).to_have_attribute("data-theme", "dark")
    page.get_by_label("As the phone").check()
    expect(page.locator("html")).not_to_have_attribute("data-theme", "dark")
