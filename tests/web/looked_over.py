"""What every screen must be in use, asked of one that is open and unfolded: what breaks it, in words.

A screen is opened and unfolded once for all of it, since that takes as long as
each of the looks.
"""

from typing import Any

from axe_playwright_python.sync_playwright import Axe

from screens import double_the_text, sticking_out

# WCAG 2.2 AA and axe's own good practice.
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
LEAST_PASSES = 20
WIDTHS = (320, 360, 412, 1280)
HEIGHT = 740
TARGET_PX = 56
PRESSED = "button, .button, .bar a, .trail a, summary, select, input, textarea, .line[href]"
FIGURE_CONTRAST = 7.0
SMALL = """([pressed, least]) => [...document.querySelectorAll(pressed)]
  .map((each) => [each, each.getBoundingClientRect()])
  .filter(([, { width }]) => width)
  .filter(([each, { width, height }]) => height < least || each.matches('button') && width < least)
  .map(([each]) => each.outerHTML.slice(0, 120))"""
CONTRASTS = """() => {
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


def drawn_anew(page: Any) -> None:
    """Until what follows from another size or theme is drawn."""
    page.evaluate("new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)))")


def found_by_axe(page: Any, theme: str) -> list[Any]:
    """What axe finds in a theme, with the page as tall as its content, so that nothing lies under the bar meanwhile."""
    height = page.evaluate("document.documentElement.scrollHeight")
    page.set_viewport_size({"width": 360, "height": height})
    page.emulate_media(color_scheme=theme)
    drawn_anew(page)
    answer = Axe().run(page, options={"runOnly": {"type": "tag", "values": RULES}}).response
    page.set_viewport_size({"width": 360, "height": HEIGHT})
    found: list[Any] = [(each["id"], [node["html"][:120] for node in each["nodes"]]) for each in answer["violations"]]
    return found if len(answer["passes"]) > LEAST_PASSES else [*found, ("looked at too little", len(answer["passes"]))]


def too_small_for_a_glove(page: Any) -> list[str]:
    """What is pressed and smaller than a gloved finger needs."""
    # Half a pixel is what rounding may take.
    return list(page.evaluate(SMALL, [PRESSED, TARGET_PX - 0.5]))


def figures_too_faint(page: Any) -> list[float]:
    """The contrast of each figure that the sun would drown."""
    return [ratio for ratio in page.evaluate(CONTRASTS) if ratio < FIGURE_CONTRAST]


def what_breaks(page: Any) -> dict[str, Any]:
    """What is wrong with the screen that is open, by what was looked at; nothing where all is well."""
    found: dict[str, Any] = {"too small for a glove": too_small_for_a_glove(page)}
    for theme in ("light", "dark"):
        found[f"axe, {theme}"] = found_by_axe(page, theme)
        found[f"figures too faint, {theme}"] = figures_too_faint(page)
    page.emulate_media(color_scheme="light")
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": HEIGHT})
        drawn_anew(page)
        found[f"sticking out of {width} px"] = sticking_out(page)
    page.set_viewport_size({"width": 360, "height": HEIGHT})
    double_the_text(page)
    drawn_anew(page)
    # What is drawn by its size in text, as lists and charts are, is drawn once more.
    page.wait_for_timeout(100)
    assert page.evaluate("getComputedStyle(document.documentElement).fontSize") == "32px"
    found["sticking out at twice the text"] = sticking_out(page)
    page.evaluate("document.adoptedStyleSheets = []")
    return {look: what for look, what in found.items() if what}
