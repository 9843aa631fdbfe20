"""What a person reads: sentences with their gaps, choice words, figures, moments."""

from pathlib import Path

import pytest

from cotterbook import VERSION
from cotterbook.core import kinds, things
from cotterbook.core.phone import choices
from web.phone import Phone

ROOT = Path(__file__).resolve().parents[2]
BREAK, MINUS = "\u00a0", "\u2212"


@pytest.fixture(scope="module")
def tab(chromium, module_server):
    phone = Phone(chromium, module_server.url, locale="en-GB", timezone_id="Europe/Berlin")
    yield phone.tab()
    phone.close()


def test_every_choice_of_the_core_has_its_word(tab):
    fields = [field for rules in (*things.THINGS.values(), *kinds.KINDS.values()) for field in rules]
    codes = {code for field in fields if field[1] == "choice" for code in field[3]} - {"image/jpeg", *things.THINGS}
    lists = [value for key, value in choices().items() if isinstance(value, (list, tuple)) and key not in
             ("ordinary_parts", "mass_units", "torque_units", "pressure_units")]
    codes |= {code for each in lists for code in each}
    known = tab.run("return Object.keys((await import('/labels.js')).LABELS)")
    assert codes - set(known) == set()


def test_the_english_text_is_the_key_and_gaps_are_filled_in_any_language(tab):
    english = "{n} of {m} still in bag {bag}"
    assert tab.run("return m.words.t(a, {n: 2, m: 4, bag: '7'})", english) == "2 of 4 still in bag 7"
    assert tab.run("return m.words.t('left {gap}', {})") == "left {gap}"
    german = {"locale": "de", "texts": {english: "Noch {n} von {m} in Beutel {bag}", "seat": "Sitz"}}
    spoken = tab.run(
        """m.words.setLanguage(a);
        try { return [m.words.t("{n} of {m} still in bag {bag}", {n: 1234.5, m: 4, bag: "7"}), m.words.label("seat"),
                      m.words.figure({value: "-1234.50", plus_minus: "0.05", unit: "kg"})]; }
        finally { m.words.setLanguage(null); }""",
        german,
    )
    assert spoken == ["Noch 1.234,5 von 4 in Beutel 7", "Sitz", f"{MINUS}1.234,50 ±{BREAK}0,05{BREAK}kg"]


def test_gaps_take_sentences_labels_lists_and_figures(tab):
    values = {
        "why": {"text": "{n} bolts", "values": {"n": 3}}, "where": {"label": "rear_wheel"},
        "who": ["Ann", "Bo", "Cy"], "mass": {"value": "3.420", "plus_minus": None, "unit": "kg"}, "none": None,
    }
    text = tab.run("return m.words.t('{why}|{where}|{who}|{mass}|{none}|', a)", values)
    assert text == f"3 bolts|rear wheel|Ann, Bo and Cy|3.420{BREAK}kg||"
    assert tab.run("return m.words.t(a)", values["why"]) == "3 bolts"


@pytest.mark.parametrize(
    ("shown", "text"),
    [
        ({"value": "-3.42", "plus_minus": "0.05", "unit": "kg"}, f"{MINUS}3.42 ±{BREAK}0.05{BREAK}kg"),
        ({"value": "120", "plus_minus": None, "unit": "g"}, f"120{BREAK}g"),
        ({"value": "0.50", "plus_minus": None, "unit": "N.m"}, f"0.50{BREAK}N·m"),
        (None, "–"),
    ],
)
def test_figures_keep_every_digit_that_the_core_gave(tab, shown, text):
    assert tab.run("return m.words.figure(a)", shown) == text


def test_a_figure_and_its_unit_do_not_part_in_a_sentence(tab):
    """A unit symbol keeps to its number: SI Brochure (9th edition), 5.4.3."""
    sentence = "{n} mm, 3.5 kg, 2 l, 8 lbf·ft, 10 oz, 4 % and 25 N·m"
    kept = sentence.replace("{n}", "10").replace(" and", "\n").replace(", ", "\t").replace(" ", BREAK)
    assert tab.run("return m.words.t(a, {n: 10})", sentence) == kept.replace("\t", ", ").replace(f"\n{BREAK}", " and ")
    words = "5 looks, 2 legs, M8 long, 4 gaskets"
    assert tab.run("return m.words.t(a)", words) == words


def test_nothing_has_no_minus(tab):
    seen = tab.run("return [-0, -1e-9, 0, -0.5].map((n) => m.words.t('{n}', {n})).concat("
                   "m.words.figure({value: '-0.0', plus_minus: null, unit: 'g'}))")
    assert seen == ["0", "0", "0", f"{MINUS}0.5", f"0.0{BREAK}g"]


def test_an_unknown_code_shows_itself_and_none_shows_nothing(tab):
    assert tab.run("return [m.words.label('new_kind'), m.words.label(null), m.words.label('toString')]") == [
        "new_kind", "", "toString"]


def test_a_moment_is_as_short_as_it_is_clear(tab):
    # 2026-03-05 18:30 in Berlin, seen the same evening, the next day and the next year.
    then = 1_772_731_800_000
    day = 86_400_000
    nows = [then + 3_600_000, then + day, then + 365 * day]
    seen = tab.run("return a[1].map((now) => m.words.when(a[0], now))", [then, nows])
    assert seen[0] == "18:30"
    assert seen[1].startswith("5 Mar") and seen[1].endswith("18:30") and "2026" not in seen[1]
    assert "2026" in seen[2]


def test_a_day_is_written_as_the_language_does_and_what_is_none_stays(tab):
    days = ["2026-05-31", "2020-02-29", "2026-13-99", "soon", ""]
    assert tab.run("return a.map(m.words.dayOf)", days) == ["31 May 2026", "29 Feb 2020", "2026-13-99", "soon", ""]


@pytest.mark.parametrize(("name", "told"), [
    ("7", "7"), ("7\u202e", "\u20687\u202e\u2069"), ("a\u2069\u202eb", "\u2068a\u202eb\u2069"),
    ("\u2067a", "\u2068\u2067a\u2069\u2069"), ("\u2068כיס\u2069", "\u2068\u2068כיס\u2069\u2069"),
])  # fmt: skip
def test_a_name_that_turns_the_direction_ends_in_itself(tab, name, told):
    assert tab.run("return m.words.t('Off, in bag {label}.', { label: a })", name) == f"Off, in bag {told}."


def test_words_are_ordered_as_the_language_that_is_read_does_it(tab):
    """In Spanish ñ comes after all of n, in English beside it (Unicode CLDR, collation of es and the root)."""
    said = tab.run("""const order = () => ['ñu', 'nz', 'M10', 'M8'].sort(m.words.inOrder);
        const english = order(); m.words.setLanguage({ locale: 'es-ES', texts: {} });
        const spanish = order(); m.words.setLanguage(null); return [english, spanish];""")
    assert said == [["M8", "M10", "ñu", "nz"], ["M8", "M10", "nz", "ñu"]]


def test_what_stands_beside_each_other_keeps_its_place_in_a_name_from_right_to_left(tab):
    plan = {"for_whom": "זואי", "before": "riding", "due_on": "2026-05-31", "cost": 12.5, "currency": "EUR"}
    said = tab.run("return (await import('/pieces/items.js')).planWords(a)", plan)
    assert said == "\u2068זואי\u2069 · by 31 May 2026 · 12.5 EUR"
    for path in sorted((ROOT / "webui").rglob("*.js")):
        if "vendor" not in path.parts:
            assert '.filter(Boolean).join(" · ")' not in path.read_text(encoding="utf-8"), path.name


def test_the_pages_keep_the_limits_and_the_version_of_the_program(tab):
    limits = choices()["limits"]
    kept = tab.run("const p = await import('/photos.js'); return [p.BYTES_IN, p.BYTES_KEPT]")
    assert kept == [limits["photo_bytes_in"], limits["photo_bytes_kept"]]
    assert tab.run("return (await import('/requests.js')).VERSION") == VERSION
    steps = (ROOT / "webui" / "sync-steps.js").read_text("utf-8")
    assert f"ENTRIES_A_REQUEST = {limits['entries_a_request']};" in steps
