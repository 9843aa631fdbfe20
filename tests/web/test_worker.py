"""The core in its worker: it answers, it fails in words, and nothing is lost when it dies."""

import json
from pathlib import Path

import pytest

from web.phone import Phone, entry, uuid

ROOT = Path(__file__).parents[2]


@pytest.fixture
def phone(chromium, module_server):
    phone = Phone(chromium, module_server.url)
    yield phone
    phone.close()


@pytest.fixture
def broken_core(phone):
    """The core with faults put in: it divides by nothing where a part is called Break off, and hangs at Hang on."""

    def route(route):
        modules = route.fetch().json()
        modules["core/phone.py"] += (
            "\n\ndef _faulty(door, arguments):\n"
            "    while arguments['form'].get('name') == 'Hang on':\n        pass\n"
            "    return 1 // (arguments['form'].get('name') != 'Break off') and Door._act(door, arguments)\n"
            "\n\nCALLS['act'] = _faulty\n"
        )
        route.fulfill(json=modules)

    phone.context.route("**/core.json", route)


BEGIN = """await m.shop.ready(); await m.shop.setPerson("Ann");
    const begun = await m.shop.act("begin_strip", {name: "Old single", machine_name: "Old single"});
    return begun.strip;"""
TAKE_OFF = "m.shop.act('take_off', {strip: a, name: 'Left mirror', groups: [{count: 2}]}, {draft: 'form'})"


def names(tab, strip):
    return [part["name"] for part in tab.run("return (await m.shop.view(a, 'off')).parts", strip)]


def test_an_act_is_saved_folded_and_seen_in_every_tab(phone):
    tab, other = phone.tab(), phone.tab()
    strip = tab.run(BEGIN)
    other.run("await m.shop.ready()")
    assert names(other, strip) == []
    tab.run(f"await m.log.putDraft('form', {{}}); await {TAKE_OFF}", strip)
    assert names(tab, strip) == names(other, strip) == ["Left mirror"]
    assert tab.run("return m.log.drafts()") == []
    assert tab.run("return new Set((await m.log.entriesOf(a)).map((row) => row.entry.by)).size", strip) == 1
    tab.reload()
    tab.run("await m.shop.ready()")
    assert names(tab, strip) == ["Left mirror"]
    line = other.until("(await m.shop.strips()).find((each) => each.counts?.off === 1)")
    assert line["name"] == "Old single" and line["machine_name"] == "Old single"


def test_a_second_tap_on_save_saves_once(phone):
    tab = phone.tab()
    strip = tab.run(BEGIN)
    tab.run(f"await Promise.all([{TAKE_OFF}, {TAKE_OFF}])", strip)
    assert names(tab, strip) == ["Left mirror"]


def test_what_the_core_refuses_comes_back_by_field_and_keeps_the_draft(phone):
    tab = phone.tab()
    strip = tab.run(BEGIN)
    tab.run("await m.log.putDraft('form', {name: ''})")
    failure = tab.fails("m.shop.act('take_off', {strip: a, name: '', groups: [{count: -1}]}, {draft: 'form'})", strip)
    assert failure["name"] == "CoreProblems"
    assert {"name", "groups.0.count"} <= {problem["field"] for problem in failure["problems"]}
    assert names(tab, strip) == [] and tab.run("return m.log.draft('form')") == {"name": ""}


def test_an_error_of_python_reaches_the_page_with_its_traceback(phone):
    tab = phone.tab()
    failure = tab.fails("m.core.call('load', {strip: 'x'})")
    assert failure["name"] == "CoreFault" and "Everything saved is kept" in failure["text"]
    assert failure["values"] == {"reason": "KeyError: entries"}
    assert "Traceback" in failure["detail"] and "KeyError" in failure["detail"] and "phone.py" in failure["detail"]
    assert tab.run("return (await m.core.call('figure', {figure: '1,25', unit: 'kg'})).value") == 1250
    assert tab.run("return m.core.generation()") == 1


def test_a_core_that_falls_silent_is_started_again_and_filled_from_the_log(phone):
    tab = phone.tab(before=lambda page: page.clock.install())
    strip = tab.run(BEGIN)
    tab.run(f"await {TAKE_OFF}", strip)
    assert names(tab, strip) == ["Left mirror"]
    tab.page.workers[0].evaluate("close()")
    tab.run("globalThis.asked = m.shop.view(a, 'off')", strip)
    tab.run("await m.log.counts()")
    tab.page.clock.run_for(10_001)
    assert tab.run("return (await asked).parts.map((part) => part.name)") == ["Left mirror"]
    assert tab.run("return m.core.generation()") == 2


def test_a_form_saved_while_the_core_is_away_waits_and_goes_in_by_itself(phone):
    tab = phone.tab(before=lambda page: page.clock.install())
    strip = tab.run(BEGIN)
    phone.context.route("**/core.json", lambda route: route.fulfill(status=503, body=""))
    tab.page.workers[0].evaluate("close()")
    tab.reload()
    tab.run("await m.shop.ready(); await m.log.putDraft('form', {name: 'as typed'})")
    failure = tab.fails(TAKE_OFF, strip)
    assert failure["name"] == "KeptAsDraft" and "Kept on this phone, not yet in the log" in failure["text"]
    [draft] = tab.run("return m.log.drafts()")
    assert draft["key"].startswith("submitted/"), "the form's own draft is free for what is typed next"
    assert draft["value"] == {"name": "as typed"} and draft["submitted"]["form"]["name"] == "Left mirror"
    phone.context.unroute("**/core.json")
    tab.page.clock.run_for(5_001)
    tab.until("(await m.log.drafts()).length === 0")
    assert names(tab, strip) == ["Left mirror"]


def test_a_waiting_form_that_is_saved_again_by_hand_goes_in_once(phone):
    tab = phone.tab(before=lambda page: page.clock.install())
    strip = tab.run(BEGIN)
    without_draft = TAKE_OFF.replace(", {draft: 'form'}", "")
    phone.context.route("**/core.json", lambda route: route.fulfill(status=503, body=""))
    tab.reload()
    tab.run("await m.shop.ready()")
    assert tab.fails(without_draft, strip)["name"] == "KeptAsDraft"
    assert tab.fails(without_draft, strip)["name"] == "KeptAsDraft"
    assert len(tab.run("return m.log.drafts()")) == 1
    phone.context.unroute("**/core.json")
    tab.run(f"globalThis.saved = {without_draft}", strip)
    tab.page.clock.run_for(5_001)
    tab.run("await saved")
    tab.until("(await m.log.drafts()).length === 0")
    tab.page.clock.run_for(60_000)
    assert names(tab, strip) == ["Left mirror"]


def test_a_form_that_the_core_breaks_off_over_is_not_tried_for_ever_and_lets_the_next_one_in(phone, broken_core):
    tab = phone.tab(before=lambda page: page.clock.install())
    strip = tab.run(BEGIN)
    failure = tab.fails("m.shop.act('take_off', {strip: a, name: 'Break off'}, {draft: 'form'})", strip)
    assert failure["name"] == "CoreFault" and "ZeroDivisionError" in failure["values"]["reason"]
    assert tab.run("return m.log.drafts()") == [], "it was never submitted"
    tab.run(
        """for (const [key, name] of [['submitted/1', 'Break off'], ['submitted/2', 'Seat']])
            await m.log.submitDraft(
                key, {}, {name: 'take_off', form: {strip: a, name}, who: 'Ann', draft: `take/${key}`});""",
        strip,
    )
    tab.reload()
    tab.run("await m.shop.ready()")
    tab.until("(await m.log.drafts()).length === 1")
    [draft] = tab.run("return m.log.drafts()")
    assert draft["key"] == "take/submitted/1/1" and "submitted" not in draft
    assert draft["problems"][0]["code"] == "CoreFault" and "failed at this" in draft["problems"][0]["text"]
    assert names(tab, strip) == ["Seat"]
    assert tab.run("return m.core.generation()") == 1


def test_a_strip_down_with_2500_weighed_parts_is_summed(phone):
    tab = phone.tab()
    entries = []
    for n in range(2500):
        part = {"thing": uuid(50_000 + n), "type": "part", "values": {"name": f"Part {n}", "off": True}}
        weigh = {"kind": "weigh", "part": uuid(50_000 + n), "weighed_as": "taken_off", "pieces": 1,
                 "basis": "weighed", "grams": 100, "step_grams": 1}
        envelope = {key: value for key, value in entry(0).items() if key not in ("thing", "type", "values")}
        entries += [entry(2 * n, **part), envelope | {"id": uuid(90_000 + n), "at": entry(2 * n)["at"] + 1} | weigh]
    tab.run("await m.log.receive(a[0], a[1], 5000)", [uuid(1), entries])
    sums = tab.run("return (await m.shop.view(a, 'strip')).sums", uuid(1))
    assert sums["came_in"]["value"].startswith("-250") and sums["unweighed"] == 0


def test_a_waiting_form_that_turns_out_wrong_is_shown_and_not_lost(phone):
    tab = phone.tab()
    strip = tab.run(BEGIN)
    wrong = {"strip": strip, "name": "Seat", "groups": [{"count": 0}]}
    tab.run("await m.log.putDraft('form', a, {name: 'take_off', form: a, who: 'Ann'})", wrong)
    tab.reload()
    tab.run("await m.shop.ready()")
    draft = tab.until("(await m.log.drafts()).find((each) => each.problems)")
    assert draft["problems"][0]["field"] == "groups.0.count" and draft["value"] == wrong
    assert "submitted" not in draft or draft["submitted"] is None


def test_a_save_waits_ten_seconds_for_a_core_that_hangs(phone, broken_core):
    """Ten seconds that pass at once: what was typed is kept, and told of. A view may take thirty."""
    tab = phone.tab()
    strip = tab.run(BEGIN)
    tab.run("""const real = window.setTimeout;
        window.waits = [];
        window.setTimeout = (work, ms) => { waits.push(ms); return real(work, ms === 10_000 ? 100 : ms); };""")
    assert names(tab, strip) == []
    failure = tab.fails("m.shop.act('take_off', {strip: a, name: 'Hang on'})", strip)
    assert failure["name"] == "KeptAsDraft"
    [draft] = tab.run("return m.log.drafts()")
    assert draft["submitted"]["form"]["name"] == "Hang on"
    assert {10_000, 30_000} <= set(tab.run("return window.waits"))


def test_received_entries_change_the_start_screen_and_the_view(phone, chromium):
    tab = phone.tab()
    strip = tab.run(BEGIN)
    tab.run(f"await {TAKE_OFF}; await m.sync.sendNow()", strip)
    other = Phone(chromium, phone.url)
    reader = other.tab()
    reader.run("await m.shop.ready(); await m.sync.sendNow()")
    line = reader.until("(await m.shop.strips()).find((each) => each.name)")
    assert (line["strip"], line["name"], line["counts"]["off"]) == (strip, "Old single", 1)
    assert names(reader, strip) == ["Left mirror"]
    other.close()


def test_a_forgotten_refused_entry_is_out_of_the_sums_too(phone):
    tab = phone.tab()
    strip = tab.run(BEGIN)
    done = tab.run(f"return {TAKE_OFF}", strip)
    refusals = [{"id": e["id"], "code": "no", "field": "", "text": "No.", "values": {}} for e in done["entries"]]
    assert names(tab, strip) == ["Left mirror"]
    tab.run("await m.log.settle([], a); for (const each of a) await m.log.forget(each.id)", refusals)
    assert names(tab, strip) == []


def test_text_of_every_script_passes_the_door_unharmed(phone):
    tab = phone.tab()
    strip = tab.run(BEGIN)
    name = "Ölkühler 🛠\u2028Öl"
    tab.run("await m.shop.act('take_off', {strip: a[0], name: a[1]})", [strip, name])
    assert names(tab, strip) == [name]
    # Half a picture letter, as a cut text may end in, is shown as a letter that is missing.
    tab.run("await m.shop.act('take_off', {strip: a, name: 'broken \\ud83d'})", strip)
    assert sorted(names(tab, strip)) == ["broken \ufffd", name]


def test_nothing_is_asked_of_another_origin_and_the_policy_holds(phone):
    tab = phone.tab()
    requests, complaints = [], []
    phone.context.on("request", lambda r: requests.append(r.url))
    tab.page.on("console", lambda message: complaints.append(message.text))
    tab.run(BEGIN)
    assert all(url.startswith(phone.url) for url in requests)
    assert complaints == [], json.dumps(complaints)
