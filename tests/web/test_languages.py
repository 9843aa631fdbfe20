"""The languages: every text has its words in each, none stands outside the tables, and none is cut off on a phone."""

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from screens import NAMES, PICK, open_screen, place_of, sticking_out, unfold
from texts import LANGUAGES, ROOT, gaps, table, texts

CODES = sorted(path.stem for path in LANGUAGES.glob("*.json"))
OWN_NAMES = {"de": "Deutsch", "es": "Español", "hi": "हिन्दी"}
# What a person did not write and no language changes: units, standards, formats, the program's own name.
OF_NO_LANGUAGE = re.compile(
    r"Cotterbook|CSV|XLSX|HTML|JSON|PDF|ISO \d+|UTC|GUM|N·m|lbf·ft|lbf·in|kgf·m|kPa|psi|bar|English|Deutsch|Español"
    r"|\b(?:Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sept?|Oct|Nov|Dec|and|M\d+\S*|[A-Z0-9]*\d[A-Za-z0-9×.·-]*)\b"
)


def test_there_are_german_spanish_and_hindi() -> None:
    assert CODES == ["de", "es", "hi"]


@pytest.mark.parametrize("code", CODES)
def test_each_language_has_every_text_and_no_other(code: str) -> None:
    """`python tests/web/texts.py` tells the same of all."""
    spoken, english = table(code), texts()
    assert sorted(english - set(spoken)) == [] and sorted(set(spoken) - english) == []
    assert [text for text in english if gaps(text) != gaps(spoken[text])] == []
    assert [text for text in english if not spoken[text].strip()] == []
    # Sentences are said in the language itself.
    sentences = [text for text in english if len(text) > 40]
    assert len([text for text in sentences if spoken[text] == text]) < 0.05 * len(sentences)
    assert list(spoken) == sorted(spoken)


# Two words for one thing, of which each table keeps one: (language, the word left, what says the same).
LEFT = [
    ("de", "Anzugsmoment", "Drehmoment"), ("de", r"(?:ist|war|noch|wieder|zuerst) daran\b", "dran"),
    ("hi", "थ्रेड", "चूड़ी"), ("hi", "फास्टनर", "फ़ास्टनर"), ("hi", r"\bफोन", "फ़ोन"), ("es", "reglaje", "ajuste"),
    ("de", "niedrigste[rm]? Strich", "niedrigste Marke"), ("hi", "सबसे छोटा निशान", "सबसे नीचा निशान"),
]  # fmt: skip


@pytest.mark.parametrize(("code", "left", "kept"), LEFT)
def test_one_thing_has_one_word(code: str, left: str, kept: str) -> None:
    of_a_life, left_word = re.compile("hangs on it|hang on it"), re.compile(left, re.IGNORECASE)
    spoken = table(code).items()
    found = [text for english, text in spoken if left_word.search(text) and not of_a_life.search(english)]
    assert found == [], f"{kept} elsewhere"


@pytest.mark.parametrize("code", CODES)
def test_what_is_two_things_is_two_words(code: str) -> None:
    spoken = table(code)
    for one, other in (("right", "found right"), ("To", "Where to"), ("Change", "Change…")):
        assert spoken[one] != spoken[other], one
    # A comma or a space, where English writes 10,000.
    assert not re.search(r"\d,\d{3}", " ".join(table("de").values()))


@pytest.fixture
def demo(chromium: Any, demo_server: Any) -> Iterator[Any]:
    context = chromium.new_context(viewport={"width": 360, "height": 780}, has_touch=True, locale="en-GB")
    page = context.new_page()
    page.goto(demo_server.url + "/")
    expect(page.locator(".lines .line").first).to_be_visible(timeout=60_000)
    page.ids = page.evaluate(PICK)
    yield page
    context.close()


def each_screen(page: Any) -> Iterator[str]:
    for name in NAMES:
        ids = page.ids
        open_screen(page, place_of(name, ids["strip"], ids["part"], ids["group"]))
        unfold(page)
        yield name


WORDS_IN_SIGHT = """() => {
  const found = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode())
    if (!walk.currentNode.parentElement.closest('script, style, noscript')) found.push(walk.currentNode.data);
  for (const each of document.querySelectorAll('[aria-label], [placeholder], [alt], [title]'))
    for (const name of ['aria-label', 'placeholder', 'alt', 'title']) found.push(each.getAttribute(name) ?? '');
  return found;
}"""


BROKEN_IN_THE_BAR = """() => [...document.querySelectorAll('.bar span')].filter((each) => {
  // One word that stands on two lines was broken in its middle.
  if (/\\s/.test(each.textContent.trim())) return false;
  const range = document.createRange();
  range.selectNodeContents(each);
  return new Set([...range.getClientRects()].map((box) => Math.round(box.top))).size > 1;
}).map((each) => each.textContent)"""
CUT_OFF = """() => [...document.querySelectorAll('button, .button, .tile, h1, h2, h3, dt, dd, p, summary, label')]
  .filter((each) => {
    // A file button holds more than it shows; a label to print ends its lines where the paper does.
    if (each.matches('.over, .tag *')) return false;
    const { overflowX, overflowY } = getComputedStyle(each);
    return (overflowX !== 'visible' && each.scrollWidth > each.clientWidth + 1)
      || (overflowY !== 'visible' && each.scrollHeight > each.clientHeight + 1);
  }).map((each) => each.outerHTML.slice(0, 120))"""


def test_no_text_stands_outside_the_table(demo: Any) -> None:
    """A language that puts each text in brackets: what has none and is nobody's writing was never asked of a table."""
    marked = {text: f"⟦{text}⟧" for text in texts()}
    demo.evaluate("async (texts) => (await import('/words.js')).setLanguage({ locale: 'en-GB', texts })", marked)
    written = (ROOT / "demo_data" / "entries.jsonl").read_text(encoding="utf-8").casefold()
    outside: dict[str, set[str]] = {}
    for name in each_screen(demo):
        for text in demo.evaluate(WORDS_IN_SIGHT):
            left = text
            while re.search("⟦[^⟦⟧]*⟧", left):
                left = re.sub("⟦[^⟦⟧]*⟧", " ", left)
            for word in re.split(r"[ ,;:·()/\s]+", OF_NO_LANGUAGE.sub(" ", left)):
                if re.search("[A-Za-z]{3}", word) and word.strip(".⟦⟧").casefold() not in written:
                    outside.setdefault(name, set()).add(text[:80])
    assert not outside, outside


@pytest.mark.parametrize("code", CODES)
def test_nothing_is_cut_off_at_360_px_in_any_language(demo: Any, code: str) -> None:
    demo.get_by_role("radio", name=OWN_NAMES[code]).check()
    expect(demo.locator("html")).to_have_attribute("lang", re.compile(f"^{code}"))
    cut: dict[str, list[str]] = {}
    for name in each_screen(demo):
        found = sticking_out(demo) + demo.evaluate(CUT_OFF) + demo.evaluate(BROKEN_IN_THE_BAR)
        if found:
            cut[name] = found[:5]
    assert not cut, json.dumps(cut, ensure_ascii=False)


def test_a_language_once_chosen_stays_without_a_network_with_its_way_of_writing_figures(demo: Any) -> None:
    demo.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    demo.get_by_role("radio", name="Deutsch").check()
    expect(demo.locator("html")).to_have_attribute("lang", "de-DE")
    title = table("de")["Machines and strip-downs"]
    expect(demo.get_by_role("heading", level=1)).to_have_text(title)
    demo.context.set_offline(True)
    demo.reload()
    expect(demo.get_by_role("heading", level=1)).to_have_text(title)
    # The demo's sum: a comma for the decimals.
    expect(demo.get_by_text(re.compile(r"−5,58 ±")).first).to_be_visible()
    demo.get_by_role("radio", name="English").check()
    expect(demo.get_by_role("heading", level=1)).to_have_text("Machines and strip-downs")


def test_the_language_that_was_chosen_stays_chosen_while_all_is_drawn_anew(demo: Any) -> None:
    """Whenever one is chosen on the screen, from the tap until the words have changed, it is not the old one again."""
    demo.evaluate(
        """() => {
          globalThis.looks = [];
          const look = () => {
            const chosen = document.querySelector('[name$="language"]:checked, [data-field="language"] input:checked');
            // While the screen is drawn anew there are no tiles for a moment.
            if (chosen) globalThis.looks.push(chosen.value);
            globalThis.looking = requestAnimationFrame(look);
          };
          look();
        }"""
    )
    demo.get_by_role("radio", name="Deutsch").click()
    expect(demo.get_by_role("heading", level=1)).to_have_text(table("de")["Machines and strip-downs"])
    expect(demo.get_by_role("radio", name="Deutsch")).to_be_checked()
    looks = demo.evaluate("() => { cancelAnimationFrame(looking); return looks; }")
    told = [each for each, before in zip(looks, [None, *looks], strict=False) if each != before]
    assert told == ["en", "de"], told
    demo.get_by_role("radio", name="English").click()
    expect(demo.get_by_role("heading", level=1)).to_have_text("Machines and strip-downs")


def test_a_language_that_the_pc_cannot_give_is_said_and_the_words_stay(demo: Any) -> None:
    demo.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    demo.context.set_offline(True)
    demo.get_by_role("radio", name="Español").click()
    expect(demo.get_by_text("This language comes from the PC once, and the PC does not answer now.")).to_be_visible()
    expect(demo.get_by_role("radio", name="English")).to_be_checked()
    expect(demo.get_by_role("heading", level=1)).to_have_text("Machines and strip-downs")


def test_a_phone_keeps_no_language_that_nobody_chose(demo: Any) -> None:
    listed = demo.evaluate("async () => (await fetch('/precache.js')).text()")
    files = json.loads(listed.removeprefix("self.PRECACHE = ").rstrip().rstrip(";"))["files"]
    assert "/words.js" in files and [address for address in files if address.startswith("/languages/")] == []
