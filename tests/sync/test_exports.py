"""Exports of a strip-down: the workbook as another library reads it, the files over HTTP and by the command."""

import csv
import io
import json
import re
import zipfile
from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from python_calamine import CalamineWorkbook
from test_program import sync

from cotterbook import create_app, demo, resources
from cotterbook.core.entries import wall_clock_ms
from cotterbook.core.language import ENGLISH
from cotterbook.core.spreadsheet import MARK, csv_lines, harmless
from cotterbook.core.views_tables import NAMES as TABLES
from cotterbook.core.views_tables import table_view
from cotterbook.core.words import say
from cotterbook.devices import HAND, LOOKER_ON, OWNER, DeviceBook
from cotterbook.devices.routes import now_ms
from cotterbook.exports import NAMES, folded, routes
from cotterbook.exports.workbook import write_workbook
from cotterbook.store import TinyStore
from examples import OTHER_STRIP, STRIP, entry
from handed import handed
from running import new_id, run

LOG = [json.loads(line) for line in (resources.folder("demo_data") / "entries.jsonl").read_text("utf-8").splitlines()]
DEMO = LOG[0]["strip"]
SUMS = json.loads((resources.folder("demo_data") / "expected_sums.json").read_text("utf-8"))["sums"]
# OWASP, "CSV Injection"; ASVS 5.0, 1.2.10.
DANGEROUS = tuple("=+-@\t\r")
HEADS = (("came_in", "Change since the machine came in"), ("spell", "Change since the spell began"),
         ("standard", "Change against the standard machine"))


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    """The application over the demo, without a list of devices, and its store."""
    folder = tmp_path_factory.mktemp("exports") / "data"
    store = TinyStore(folder)
    demo.load(store, resources.folder("demo_data"))
    app = create_app(folder, store)
    app.testing = True
    yield app, store
    store.close()


@pytest.fixture(scope="module")
def client(shop):
    return shop[0].test_client()


def sheet_of(data, title):
    """A sheet as rows by their heads."""
    heads, *rows = CalamineWorkbook.from_filelike(io.BytesIO(data)).get_sheet_by_name(title).to_python()
    return [dict(zip(heads, row, strict=True)) for row in rows]


def total(rows, head):
    return sum(row[head] for row in rows if row[head] != "")


def test_the_workbook_of_the_demo_adds_up_in_another_library(client):
    answer = client.get(f"/api/exports/{DEMO}/tables.xlsx")
    assert answer.status_code == 200 and answer.content_length == len(answer.data)
    names = CalamineWorkbook.from_filelike(io.BytesIO(answer.data)).sheet_names
    assert names == ["Parts", "Fasteners", "Weighings", "The whole machine on scales", "Tightenings", "Mass statement",
                     "Sums of the mass statement"]
    lines, sums = sheet_of(answer.data, names[5]), {row["Sum"]: row for row in sheet_of(answer.data, names[6])}
    for name, head in HEADS:
        grams, uncertainty = SUMS[name]
        assert total(lines, f"{head} (g)") == pytest.approx(grams, abs=1e-6)
        assert sums[head]["Mass (g)"] == pytest.approx(grams, abs=1e-6)
        assert sums[head]["Mass, uncertainty (g)"] == pytest.approx(uncertainty, abs=1e-6)
    assert any(isinstance(row["Change since the machine came in (g)"], float) and
               row["Change since the machine came in (g)"] < 0 for row in lines)
    torques = sheet_of(answer.data, "Tightenings")
    by_id = {each["id"]: each for each in LOG if each["kind"] == "tighten"}
    assert {row["Identifier of the entry"] for row in torques} == set(by_id)
    for row in torques:
        made = by_id[row["Identifier of the entry"]]
        assert row["Torque (N·m)"] == pytest.approx(made["newton_metres"]) and row["Who"] == made["who"]
        seconds = (row["When (UTC)"] - datetime(1970, 1, 1)).total_seconds()
        # Workbooks keep a moment as a part of a day, which is good to a millisecond.
        assert seconds == pytest.approx(wall_clock_ms(made["id"]) / 1000, abs=0.002)


def test_csv_over_http_is_what_a_phone_makes_and_adds_up(client, shop):
    for name in TABLES:
        answer = client.get(f"/api/exports/{DEMO}/{name}.csv")
        assert answer.data.decode() == "".join(csv_lines(table_view(folded(shop[1], DEMO), {"table": name})))
        assert answer.content_type.startswith("text/csv; charset=utf-8")
    rows = list(csv.DictReader(io.StringIO(client.get(f"/api/exports/{DEMO}/statement.csv").data.decode("utf-8-sig"))))
    for name, head in HEADS:
        assert sum(float(row[f"{head} (g)"]) for row in rows if row[f"{head} (g)"]) == pytest.approx(
            SUMS[name][0], abs=1e-3)


def test_json_holds_every_table_with_its_units(client):
    told = client.get(f"/api/exports/{DEMO}/tables.json").get_json()
    assert (told["format"], told["version"], told["strip"]) == ("cotterbook tables", 1, DEMO)
    assert told["entries_not_understood"] == 1 and tuple(told["tables"]) == TABLES
    statement = told["tables"]["statement"]
    assert statement["columns"]["came_in"] == {"name": "Change since the machine came in (g)", "unit": "g"}
    assert sum(row["came_in"] or 0 for row in statement["rows"]) == pytest.approx(SUMS["came_in"][0], abs=1e-6)
    for row in told["tables"]["readings"]["rows"]:
        assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", row["at"])


def posted(client, name, language):
    token = {"X-CSRFToken": client.get("/api/hello").get_json()["csrf"]}
    return client.post(f"/api/exports/{DEMO}/{name}", json={"language": language}, headers=token)


@pytest.mark.parametrize("code", ["de", "es", "hi"])
def test_the_workbook_in_another_language_has_its_words_and_the_same_sums(client, code):
    words = handed(code)["texts"]
    answer = posted(client, "tables.xlsx", handed(code))
    assert answer.status_code == 200
    book = CalamineWorkbook.from_filelike(io.BytesIO(answer.data))
    # ECMA-376, 18.2.19: a sheet's name has at most 31 characters.
    assert len(book.sheet_names) == len(set(book.sheet_names)) == len(TABLES)
    assert all(0 < len(name) <= 31 for name in book.sheet_names) and book.sheet_names[0] == words["Parts"]
    rows = sheet_of(answer.data, words["Mass statement"])
    for name, head in HEADS:
        assert total(rows, f"{words[head]} (g)") == pytest.approx(SUMS[name][0], abs=1e-3)
    assert {row[words["Counted"]] for row in rows} == {words["yes"], words["no"]}
    # JSON is for programs.
    asked = posted(client, "tables.json", handed(code))
    assert asked.get_json() == client.get(f"/api/exports/{DEMO}/tables.json").get_json()


EMPTY = {"code": "de", "decimal": ",", "texts": {}, "labels": {}, "fields": {}}


@pytest.mark.parametrize("language", ["de", 1, [], {}, {"code": "de"}, EMPTY | {"code": "x" * 36},
                                      EMPTY | {"decimal": ";"}, EMPTY | {"texts": {"Parts": "x" * 2001}},
                                      EMPTY | {"labels": {"left": "\ud800"}}])  # fmt: skip
def test_what_is_no_language_is_refused(client, language):
    answer = posted(client, "tables.xlsx", language)
    assert (answer.status_code, answer.get_json()["error"]["code"]) == (400, "bad_request")


@pytest.mark.parametrize("words", ["", "\x01\x00", "=1+1", "{name.__class__}{0}{", "History' [x]", "\uffff_x0041_"])
def test_any_words_of_a_language_make_files_that_open(client, words):
    texts = dict.fromkeys(handed("de")["texts"], words)
    language = {"code": "qaa", "decimal": ",", "texts": texts, "labels": {"left": words}, "fields": {"note": words}}
    book = CalamineWorkbook.from_filelike(io.BytesIO(posted(client, "tables.xlsx", language).data))
    assert len(set(book.sheet_names)) == len(TABLES)
    for name in ("parts.csv", "share.html"):
        answer = posted(client, name, language)
        assert answer.status_code == 200 and answer.data.decode()


def test_a_download_has_a_name_of_ours_and_is_kept_by_nobody(client):
    for name in NAMES:
        answer = client.get(f"/api/exports/{DEMO}/{name}")
        stem, ending = name.split(".")
        said = answer.headers["Content-Disposition"]
        assert re.fullmatch(rf"attachment; filename=cotterbook-{stem}-\d{{4}}-\d\d-\d\d\.{ending}", said)
        assert answer.headers["Cache-Control"] == "no-store"
        assert answer.headers["X-Content-Type-Options"] == "nosniff"


@pytest.mark.parametrize(("address", "status", "code"), [
    (f"/api/exports/{OTHER_STRIP}/tables.xlsx", 404, "no_strip_to_export"),
    ("/api/exports/x/tables.xlsx", 404, "no_strip_to_export"),
    (f"/api/exports/{DEMO}/entries.csv", 404, "not_found"), (f"/api/exports/{DEMO}/", 404, "not_found"),
    (f"/api/exports/{DEMO}/..%2F..%2Fdevices.json", 404, "not_found"),
    ("/api/exports/..%2Fx/parts.csv", 404, "not_found"),
])
def test_what_is_not_there_is_said(client, address, status, code):
    answer = client.get(address)
    assert (answer.status_code, answer.get_json()["error"]["code"]) == (status, code)


def test_so_many_at_once_and_the_next_is_asked_to_come_again(client):
    with routes.AT_ONCE, routes.AT_ONCE:
        answer = client.get(f"/api/exports/{DEMO}/parts.csv")
        assert (answer.status_code, answer.get_json()["error"]["code"]) == (429, "exports_busy")
    for _ in range(3):
        assert client.get(f"/api/exports/{OTHER_STRIP}/parts.csv").status_code == 404
        assert client.get(f"/api/exports/{DEMO}/parts.csv").status_code == 200


def test_every_role_may_read_them_and_a_stranger_or_a_revoked_device_may_not(data_folder, store):
    book = DeviceBook(data_folder)
    app = create_app(data_folder, store, book)
    demo.load(store, resources.folder("demo_data"))

    def ask(token):
        client = app.test_client()
        if token:
            client.set_cookie("cotterbook-device-8350", token, domain="127.0.0.1")
        host = {"Host": "127.0.0.1:8350"}
        own = host | {"X-CSRFToken": client.get("/api/hello", headers=host).get_json()["csrf"]}
        in_german = client.post(f"/api/exports/{DEMO}/tables.xlsx", json={"language": handed("de")}, headers=own)
        return [in_german] + [client.get(f"/api/exports/{strip}/{name}", headers=host)
                              for strip in (DEMO, OTHER_STRIP) for name in NAMES]

    for role in (OWNER, HAND, LOOKER_ON):
        token, device = book.pair(book.make_code(role, now_ms()), new_id(), f"A {role}", now_ms())
        assert [each.status_code for each in ask(token)] == [200] + [200] * len(NAMES) + [404] * len(NAMES)
    book.revoke(device.id, now_ms())
    # Whether the PC holds a strip-down is told to nobody else, in no language.
    assert {(each.status_code, each.get_json()["error"]["code"]) for each in ask(token)} == {(401, "revoked")}
    assert {(each.status_code, each.get_json()["error"]["code"]) for each in ask(None)} == {(401, "not_paired")}


def texts_of(texts):
    heads = [{"key": key, "name": say(key), "unit": "", "kind": kind}
             for key, kind in (("note", "text"), ("grams", "number"))]
    return {"name": "notes", "title": say("Notes"), "heads": heads, "rows": [[each, -0.5] for each in texts]}


WRITTEN = st.text(st.one_of(st.sampled_from("=+-@\t' _x0041#N/A\n\ufffe\uffff"), st.characters(
    blacklist_categories=["Cs"], blacklist_characters="".join(map(chr, (*range(9), *range(11, 32)))))),
    min_size=1, max_size=30).filter(str.strip)


@given(st.lists(WRITTEN, min_size=1, max_size=20))
@settings(max_examples=60)
def test_no_text_of_a_workbook_is_a_formula_and_each_comes_back(texts):
    file = io.BytesIO()
    write_workbook(iter([texts_of([*texts, "#N/A", "=1+1", "_x0041_", "TRUE", "2026-01-01", "12"])]), file, ENGLISH)
    with zipfile.ZipFile(file) as packed:
        assert b"<f>" not in packed.read("xl/worksheets/sheet1.xml")
    file.seek(0)
    rows = CalamineWorkbook.from_filelike(file).get_sheet_by_index(0).to_python()[1:]
    assert [row[1] for row in rows] == [-0.5] * (len(texts) + 6)
    assert [row[0] for row in rows[-6:]] == ["#N/A", "'=1+1", "_x0041_", "TRUE", "2026-01-01", "12"]
    for (told, _), text in zip(rows, texts, strict=False):
        assert told == harmless(text) and not told.lstrip(" \n").startswith(DANGEROUS)
        assert text == (told[1:] if told.startswith(MARK) else told)


def test_five_thousand_entries_with_names_at_their_limit(data_folder, store):
    name = "=" + "W" * 119
    entries = []
    for number in range(2_500):
        at, part = 1_760_000_000_000 + number * 1000, new_id()
        common = {"strip": STRIP, "at": at, "by": new_id(), "who": "@" + "W" * 59}
        entries += [
            common | {"id": new_id(), "kind": "set", "thing": part, "type": "part",
                      "values": {"name": name, "off": True, "outcome": "stays_off", "note": "+" * 2_000}},
            common | {"id": new_id(), "kind": "weigh", "part": part, "weighed_as": "taken_off", "pieces": 1,
                      "basis": "weighed", "grams": 0.1, "step_grams": 0.1}]
    store.append(STRIP, entries)
    client = create_app(data_folder, store).test_client()
    data = client.get(f"/api/exports/{STRIP}/tables.xlsx").data
    lines = sheet_of(data, "Mass statement")
    assert len(lines) == 2_500 and {row["Part"] for row in lines} == {MARK + name}
    assert total(lines, "Change since the machine came in (g)") == pytest.approx(-250.0, abs=1e-6)
    assert {row["Note"] for row in sheet_of(data, "Parts")} == {MARK + "+" * 2_000}


def test_the_command_writes_every_file_while_the_program_serves_and_writes_over_none(stopped_server, tmp_path):
    server = stopped_server.start()
    sync(server, [entry(1)])
    into, data = tmp_path / "new" / "tables", str(tmp_path / "data")
    code, said, errors = run("tables", STRIP, str(into), "--data", data)
    assert (code, errors) == (0, "") and said == f"{into}: {', '.join(NAMES)}.\n"
    assert sorted(path.name for path in into.iterdir()) == sorted(NAMES)
    assert {path.stat().st_mode & 0o777 for path in into.iterdir()} == {0o600}
    assert CalamineWorkbook.from_path(str(into / "tables.xlsx")).sheet_names[0] == "Parts"
    (into / "parts.csv").write_text("mine")
    for path in into.iterdir():
        if path.name != "parts.csv":
            path.unlink()
    code, said, errors = run("tables", STRIP, str(into), "--data", data)
    assert (code, said) == (1, "")
    assert errors == f"cotterbook: There is a file {into}/parts.csv already. It was not touched: choose another name.\n"
    assert [(path.name, path.read_text()) for path in into.iterdir()] == [("parts.csv", "mine")]


def test_what_the_command_cannot_do_is_said(tmp_path):
    store = TinyStore(tmp_path / "data")
    store.append(STRIP, [entry(1)])
    store.close()
    (tmp_path / "letter").write_text("Dear Ann")
    for arguments, told in (
        ((OTHER_STRIP, "new"), "There is no such strip-down here. Nothing was made. Take its name from its address."),
        ((STRIP, "letter"), "The tables could not be written in the folder letter (File exists). Nothing was added"
                            " there. Choose a folder with room, where you may write."),
    ):
        code, said, errors = run("tables", *arguments, "--data", "data", cwd=tmp_path)
        assert (code, said, errors) == (1, "", f"cotterbook: {told}\n")
    assert not (tmp_path / "new").exists() and (tmp_path / "letter").read_text() == "Dear Ann"
