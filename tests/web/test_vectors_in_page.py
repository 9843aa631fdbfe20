"""The test vectors in the real page: the same files of the core, in MicroPython, in the page's worker."""

import json

import pytest

from cotterbook.core import phone as door
from cotterbook.core.views_tables import NAMES as TABLES
from cotterbook.resources import folder
from vectors.cases import all_cases, compare, identifier, run
from web.phone import Phone


@pytest.fixture(scope="module")
def call_in_page(chromium, module_server):
    phone = Phone(chromium, module_server.url)
    tab = phone.tab()

    def call(name: str, arguments: str) -> str:
        return tab.run(
            """try { return JSON.stringify({result: await m.core.call(a.name, JSON.parse(a.arguments))}); }
               catch (e) { if (!e.problems) throw e; return JSON.stringify({problems: e.problems}); }""",
            {"name": name, "arguments": arguments},
        )

    tab.run("m.core.start()")
    yield call
    phone.close()


@pytest.mark.parametrize(("title", "case"), all_cases(), ids=lambda value: value if isinstance(value, str) else "")
def test_vector_in_the_page(title, case, call_in_page):
    run(case, call_in_page)


@pytest.mark.parametrize(
    "view", ["exact", "strip", "off", "back", "statement", "balance", "weigh_in", *[f"table_csv {n}" for n in TABLES]])
def test_the_demo_is_the_same_on_both_runtimes(view, call_in_page):
    view, _, table = view.partition(" ")
    lines = (folder("demo_data") / "entries.jsonl").read_text(encoding="utf-8").splitlines()
    entries = [json.loads(line) for line in lines]
    strip = entries[0]["strip"]
    answers = []
    for call in (door.start(lambda: identifier("unused")), call_in_page):
        call("load", json.dumps({"strip": strip, "entries": entries}))
        answers.append(json.loads(call("view", json.dumps({"strip": strip, "view": view, "table": table})))["result"])
    compare(answers[0], answers[1], view)
    compare(answers[1], answers[0], view)
