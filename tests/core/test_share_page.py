"""The page to send: nothing that was left out is in it, nothing in it runs, and its sums are the statement's."""

import base64
import hashlib
import re
from html.parser import HTMLParser

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from random_logs import logs

from cotterbook.core.entries import check
from cotterbook.core.language import ENGLISH, language_of
from cotterbook.core.share_html import POLICY, STYLE, STYLE_SHA256, escaped
from cotterbook.core.share_names import NUMBER, Discreet
from cotterbook.core.share_page import OPTIONS, share_view
from cotterbook.core.share_words import Told
from cotterbook.core.views_charts import balance_chart_view, staircase_view
from cotterbook.core.views_masses import statement_view
from cotterbook.core.words import Refused, say
from handed import handed, marked, unmarked
from pages_to_send import AT, HOSTILE, LOG, folded, hostile_log, page_of
from vectors.cases import identifier

PEOPLE = sorted({entry["who"] for entry in LOG})
ALL = {name: True for name, _ in OPTIONS}
figure = ENGLISH.figure
# Units and times, which are no words; a picture's place in this test.
OF_NO_LANGUAGE = re.compile(r"Cotterbook|UTC|N·m|kPa|km|mm|kg|EUR")
# HTML Standard, 13.1.2: elements without an end tag.
VOID = ("meta", "br", "img", "link", "hr", "input", "rect", "path", "line")


class Reader(HTMLParser):
    """Reads a page as Python's own parser does: its text, its tags and their attributes, each closed in its turn."""

    def __init__(self, page):
        super().__init__(convert_charrefs=True)
        self.texts, self.tags, self.open, self.attributes = [], [], [], []
        self.feed(page)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += [(tag, *each) for each in attrs]
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += [(tag, *each) for each in attrs]

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if self.open[-1:] != ["style"]:
            self.texts.append(data)

    @property
    def text(self):
        return " ".join(" ".join(self.texts).split())


def assert_still(page):
    """Nothing in it runs, links or asks: only the tags and attributes of ours."""
    reader = Reader(page)
    assert not set(reader.tags) & {"script", "a", "link", "form", "iframe", "object", "embed", "base", "input"}
    for tag, name, value in reader.attributes:
        assert not name.startswith("on") and name not in ("style", "href", "srcset", "action"), (tag, name)
        assert name != "src" or value.startswith("data:"), value
    assert page.count("<style>") == 1 and ("meta", "http-equiv", "Content-Security-Policy") in reader.attributes
    return reader


@pytest.fixture(scope="module")
def demo():
    return folded(LOG)


def test_the_policy_knows_its_style_and_nothing_else():
    # W3C, Content Security Policy Level 3, 6.7.3: the hash of the element's text.
    assert base64.b64encode(hashlib.sha256(STYLE.encode()).digest()).decode() == STYLE_SHA256
    assert POLICY == (f"default-src 'none'; style-src 'sha256-{STYLE_SHA256}'; img-src data:; base-uri 'none';"
                      " form-action 'none'")
    assert STYLE.count("url(") == STYLE.count("url(#hatch)") == 1 and "@import" not in STYLE


@pytest.mark.parametrize("options", [{}, ALL], ids=["least", "most"])
def test_the_sums_and_lines_are_the_statements(demo, options):
    reader = assert_still(page_of(demo, **options))
    text, statement = reader.text, statement_view(demo, {})
    for key, words in (("came_in", "Change since the machine came in"), ("standard",
                       "Change against the standard machine")):
        assert f"{words} {' '.join(figure(statement['sums'][key], True).split())}" in text
    for line in statement["lines"]:
        if line["change"] is not None:
            assert " ".join(figure(line["change"], True).split()) in text
    # The statement, then the charts, each a table: by part, place and spell, and the balance.
    assert reader.tags.count("table") == 5
    assert page_of(demo, **options).split("</table>")[0].count("<tr>") == len(statement["lines"]) + 3


def test_without_names_nobody_of_the_demo_is_in_it_and_with_them_all_are(demo):
    without, with_names = page_of(demo), page_of(demo, names=True)
    for name in PEOPLE:
        assert name.lower() not in without.lower() and name in with_names
    assert "person 1" in without and "person 1" not in with_names
    assert "Notes go with the names" in without


def test_notes_come_only_with_names(demo):
    note = next(e["values"]["note"] for e in LOG if e.get("type") == "part" and e["values"].get("note"))
    assert escaped(note) in page_of(demo, names=True, notes=True)
    assert escaped(note) not in page_of(demo, names=False, notes=True)
    assert share_view(demo, {"notes": True})["told"]["notes"] is False


# No word of the program's own has these letters in this order.
ODD = st.sampled_from(["Xqvann", "Zoë Xqvist", "Xq Bo", "مغسلةق", "王喜", "Jose\u0301 Xqvar", "XQVANN",
                       "O'Xqvara", "🔩Xq", "xqv", "Xqv-Ilsa von Xqvorn", "!!xq!!"])  # fmt: skip


@given(logs(), st.lists(ODD, min_size=3, max_size=3, unique=True), st.lists(st.sampled_from(
    ["{}", "{}’s seat", "Seat of {}", "{}s Sitz", "(the {})", "{}-{}", "for {}, {} and {}"]), min_size=3, max_size=3))
@settings(max_examples=60)
def test_without_names_no_name_of_anybody_is_in_any_byte(entries, people, texts):
    renamed = {"Ann": people[0], " ANN ": people[0].upper(), "Bo": people[1], "Cid": people[2]}
    log = [dict(entry, who=renamed[entry["who"]]) for entry in entries]
    common = {"strip": log[0]["strip"] if log else identifier("@strip"), "by": identifier("@phone"), "who": people[0]}
    for n, text in enumerate(texts):
        part, at = identifier(f"@part {n}"), AT + n
        said = text.format(*people, people[0], people[1])[:120]
        values = {"name": said, "off": True, "outcome": "swapped", "replacement": said, "note": said}
        log.append(common | {"id": identifier(f"p{n}", at), "kind": "set", "thing": part, "type": "part", "at": at,
                             "values": values})
        log.append(common | {"id": identifier(f"i{n}", at), "kind": "set", "thing": identifier(f"@item {n}"), "at": at,
                             "type": "item", "values": {"what": "make", "text": said, "for_whom": people[n]}})
        log.append(common | {"id": identifier(f"f{n}", at), "kind": "photo", "thing": part, "at": at, "bytes": 1,
                             "sha256": "0" * 64, "media_type": "image/jpeg", "width": 1, "height": 1, "caption": said})
    data = page_of(folded(log), notes=True, costs=True, number=True).encode()
    assert_still(data.decode())
    for name in people:
        for word in [name, *re.findall(r"\w{3,}", name)]:
            if word[0] != word[0].lower() or not word.isascii():
                assert word.lower().encode() not in data.decode().lower().encode(), word
        assert escaped(name).lower() not in data.decode().lower()


@given(st.text(max_size=60))
def test_what_is_escaped_comes_back_and_is_only_text(text):
    reader = Reader(f'<p title="{escaped(text)}">{escaped(text)}</p>')
    assert reader.tags == ["p"]
    known = "".join(each if escaped(each) != "\ufffd" else "\ufffd" for each in text)
    assert "".join(reader.texts) == known and reader.attributes == [("p", "title", known)]


@pytest.mark.parametrize("options", [{}, ALL], ids=["least", "most"])
def test_no_text_of_anybody_becomes_a_tag(options):
    reader = assert_still(page_of(folded(hostile_log()), **options))
    usual = Reader(page_of(folded(LOG), **options))
    assert set(reader.tags) <= set(usual.tags)
    if options:
        for text in HOSTILE[:3]:
            assert text[:40] in "".join(reader.texts)


def one_machine(**values):
    common = {"strip": identifier("@strip"), "by": identifier("@phone"), "who": "Ann"}
    machine, part, item = (identifier(f"@{name}") for name in ("machine", "part", "item"))
    log = [
        common | {"id": identifier("a", AT), "at": AT, "kind": "set", "thing": machine, "type": "machine",
                  "values": {"name": "Hack AB-12 345, blue", **values}},
        common | {"id": identifier("b", AT), "at": AT + 1, "kind": "set", "thing": common["strip"], "type": "strip",
                  "values": {"name": "Job for ab12345", "machine": machine}},
        common | {"id": identifier("c", AT), "at": AT + 2, "kind": "set", "thing": part, "type": "part",
                  "values": {"name": "Plate AB 12345", "off": True, "outcome": "stays_off"}},
        common | {"id": identifier("d", AT), "at": AT + 3, "kind": "set", "thing": item, "type": "item",
                  "values": {"what": "buy", "text": "Frame XQ0ZZZ12345678901", "cost": 234567.5, "paid": 7.25,
                             "currency": "EUR"}},
    ]  # fmt: skip
    assert [check(entry) for entry in log] == [[]] * len(log)
    return folded(log)


def test_the_number_of_the_machine_is_nowhere_unless_it_is_told():
    strip = one_machine(number="AB 12345")
    without, told = page_of(strip), page_of(strip, number=True)
    for written in ("AB-12 345", "ab12345", "AB 12345", "XQ0ZZZ12345678901", "12345"):
        assert written not in without
    assert "Hack " + NUMBER in without and "blue" in without
    assert "Number: <bdi>AB 12345</bdi>" in told and "ab12345" in told and "XQ0ZZZ12345678901" in told


def test_costs_are_told_only_where_that_is_chosen():
    told = page_of(one_machine(), costs=True)
    assert "costs 234567.5 <bdi>EUR</bdi>" in told and "came to 7.25 <bdi>EUR</bdi>" in told
    assert not any(each in page_of(one_machine()) for each in ("234567", "7.25", "EUR"))


def test_without_pictures_there_is_none_and_with_them_each_says_before_or_after(demo):
    assert not any(isinstance(piece, dict) for piece in share_view(demo, {"pictures": False})["pieces"])
    pictures = [piece for piece in share_view(demo, {})["pieces"] if isinstance(piece, dict)]
    assert {piece["sha256"] for piece in pictures} <= {e["sha256"] for e in LOG if e["kind"] == "photo"} and pictures
    assert not any(piece["sha256"] in page_of(demo, **ALL) for piece in pictures)
    assert any(", before" in piece["before"] for piece in pictures)


def test_no_identifier_of_the_log_is_in_it(demo):
    page = page_of(demo, **ALL)
    for entry in LOG:
        assert entry["id"] not in page and entry["by"] not in page
    assert LOG[0]["strip"] not in page


@pytest.mark.parametrize("value", ["yes", 1, None, [], "false"])
def test_a_choice_is_yes_or_no(demo, value):
    with pytest.raises(Refused):
        share_view(demo, {"names": value})


@pytest.mark.parametrize(("name", "text", "told"), [
    ("Ann", "Ann's seat, ANN and Anna", "person 1's seat, person 1 and Anna"),
    ("Bo", "Bolt of Bo, bos", "Bolt of person 1, person 1"),
    ("Anna", "Annas Sitz, Hannah", "person 1 Sitz, person 1"),
    ("Ann Miller", "Miller's wrench, for Ann Miller", "person 1's wrench, for person 1"),
    ("王", "王さんのシート", "person 1"),
    ("Jos\u00e9", "jose\u0301’s", "person 1’s"),
    ("Jos\u00e9", "Jose's bracket, JOSÉ", "person 1's bracket, person 1"),
    ("Jose", "Jos\u00e9's, Jo\u0301se", "person 1's, person 1"),
    ("M\u00fcller", "Mueller, MULLER, Müllers Helm", "person 1, person 1, person 1 Helm"),
    ("Mueller", "Müller, muellers", "person 1, person 1"),
    ("Jürgen Groß", "Juergen Gross, Jurgen Groß, GROSS", "person 1, person 1, person 1"),
    ("Łukasz Bjørn", "Bjorn, Bjoern, Lukasz", "person 1, person 1, person 1"),
    ("Torrec", "Tor\u200brec, Tor\u00adrec, T\u200do\u2060rrec, \u2068Torrec\u2069", ", ".join(["person 1"] * 4)),
    ("Ann", "A\u200bnn, A\u0336n\u0336n\u0336, Anna", "person 1, person 1, Anna"),
    ("Sue", "Su, sure, SUE", "Su, sure, person 1"),
    ("\u200b\u2060", "Seat", "Seat"),
])  # fmt: skip
def test_a_name_in_a_text(name, text, told):
    entry = {"id": identifier("a", AT), "strip": identifier("@strip"), "at": AT, "kind": "set", "who": name,
             "by": identifier("@phone"), "thing": identifier("@part"), "type": "part", "values": {"name": "Seat"}}
    assert Discreet(folded([entry]), False, True).text(text) == told


@pytest.mark.parametrize("written", ["FR-77\u200b 31", "fr\u00ad7731", "F\u2068R\u2069/77.31"])
def test_a_number_with_what_is_not_seen_in_it_is_left_out_too(written):
    entry = {"id": identifier("a", AT), "strip": identifier("@strip"), "at": AT, "kind": "set", "who": "Ann",
             "by": identifier("@phone"), "thing": identifier("@machine"), "type": "machine",
             "values": {"number": "FR 7731"}}
    assert Discreet(folded([entry]), False, False).text(f"Plate {written} left") == f"Plate {NUMBER} left"


def test_a_name_in_a_sentence_turns_nothing_of_it():
    strip = folded([{"id": identifier("a", AT), "strip": identifier("@strip"), "at": AT, "kind": "set", "who": "Ann",
                     "by": identifier("@phone"), "thing": identifier("@strip"), "type": "strip", "values": {}}])
    told = Told(Discreet(strip, True, True), ALL, ENGLISH)
    said = told.sentence(say("Kept: {kept}.", kept="a\u2069\u202eb <i>"))
    assert said == "Kept: \u2068ab &lt;i&gt;\u2069."


def test_an_empty_strip_down_is_a_page_too():
    entry = {"id": identifier("a", AT), "strip": identifier("@strip"), "at": AT, "kind": "set", "who": "Ann",
             "by": identifier("@phone"), "thing": identifier("@strip"), "type": "strip", "values": {"name": "Job"}}
    assert "Nothing is open in this record." in assert_still(page_of(folded([entry]))).text


def test_the_charts_draw_what_the_screen_draws_and_say_its_figures(demo):
    page = page_of(demo)
    for by in ("part", "place", "spell"):
        for row in staircase_view(demo, {"by": by})["rows"]:
            low, high = sorted((row["from"], row["to"]))
            assert f'x="{low}" y="4" width="{max(2, high - low)}"' in page
            assert escaped(figure(row["adds_up_to"], True)) in page
    rows = balance_chart_view(demo, {})["rows"]
    assert page.count("No difference is shown:") == len([row for row in rows if not row["shows"]]) > 0
    for row in rows:
        assert escaped(figure(row["difference"], True)) in page


@pytest.mark.parametrize("options", [{}, ALL], ids=["least", "most"])
def test_no_text_of_it_stands_outside_the_tables_of_languages(demo, options):
    """Each text and choice in brackets: what has none, and is neither a figure nor anybody's writing, is forgotten."""
    reader = assert_still(page_of(demo, language=marked(), **options))
    # Codes are no writing of anybody.
    leaves = [str(value) for entry in LOG for value in _leaves(entry)]
    written = " ".join(each for each in leaves if not re.fullmatch("[a-z0-9_]+", each)).casefold()
    said = " ".join([reader.text] + [value for _, name, value in reader.attributes if name == "alt"])
    words = set(re.findall(r"[^\W\d_]{2,}", OF_NO_LANGUAGE.sub(" ", unmarked(said))))
    assert not {word for word in words if word.casefold() not in written}
    assert ("html", "lang", "qaa") in reader.attributes
    # The bracketed texts are all there: nothing was left out for want of a word.
    assert len(re.findall("⟦", reader.text)) > 200


def _leaves(value):
    if isinstance(value, dict | list):
        for each in value.values() if isinstance(value, dict) else value:
            yield from _leaves(each)
    else:
        yield value


@pytest.mark.parametrize("code", ["de", "es", "hi"])
def test_the_same_figures_stand_in_it_in_every_language(demo, code):
    """Those of the English page, with this language's mark: all, and in the same places."""
    english, other = (Reader(page_of(demo, **ALL, language=each)).text for each in (None, handed(code)))

    def figures(text):
        return sorted(re.findall(r"[−+]?\d+(?:[.,]\d+)?", re.sub(r"\d{4}-\d\d-\d\d \d\d:\d\d", "", text)))

    decimal = language_of(handed(code)).decimal
    own = [each.replace(".", decimal) for each in figures(english)]
    # What a person wrote keeps its own point.
    assert len(figures(other)) == len(own)
    assert len([each for each in figures(other) if each not in own]) <= len(own) / 20
    assert "−5" + decimal in other


def test_without_names_no_name_of_the_demo_is_in_it_in_any_language(demo):
    for code in ("de", "es", "hi"):
        page, person = page_of(demo, language=handed(code)), handed(code)["texts"]["person {n}"].format(n=1)
        assert person in page and not [name for name in PEOPLE if name.lower() in page.lower()]


def test_words_of_a_language_become_no_tag(demo):
    hostile = marked()
    hostile["texts"] = {text: "<script>" + text for text in hostile["texts"]}
    hostile["labels"] = {code: "<b>" + words for code, words in hostile["labels"].items()}
    assert_still(page_of(demo, language=hostile | {"code": '"><script>alert(1)</script>'}, **ALL))


def test_gaps_of_a_language_that_nothing_fills_stay_and_say_nothing_else(demo):
    """A translation may name another gap, or none; what it says of how to fill one is not heard."""
    hostile = marked()
    wild = "{nobody}{0}{}{ {n.__class__}{n!r}{n:>999999999}{{"
    hostile["texts"] = {text: wild + words + "{" for text, words in hostile["texts"].items()}
    page = page_of(demo, language=hostile, **ALL)
    reader = assert_still(page)
    assert "{nobody}{0}{}{ {n.__class__}{n!r}{n:&gt;999999999}{{" in page and "class &#39;" not in page
    assert len(page) < 2_000_000 and "⟦2 of 2 on" in reader.text


def test_a_figure_within_a_sentence_is_as_short_as_on_the_pages_and_nothing_is_no_word():
    german = language_of(handed("de"))
    assert german.sentence(say("{low} to {high}", low=0.1 + 0.2, high=-1e-9)) == "0,3 bis 0"
    assert german.sentence(say("{low} to {high}", low=None, high=5)) == " bis 5"
