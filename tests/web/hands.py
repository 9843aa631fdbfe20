"""Hands on a phone: one person who taps and types on what is to be seen, and reads what the screens say."""

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

from playwright.sync_api import expect

# A common phone: 412 x 915 points, touch, no mouse.
PHONE = {
    "viewport": {"width": 412, "height": 915},
    "device_scale_factor": 2.6,
    "is_mobile": True,
    "has_touch": True,
    "locale": "en-GB",
}
# Two cores, shared with the server and other browsers, may take their time; nothing here is measured.
PATIENCE_MS = 30_000
LOG = """async (strip) => (await (await import('/log.js')).entriesOf(strip)).map((row) => row.entry)"""
PICTURES = """async () => {
  const log = await import('/log.js');
  const rows = await Promise.all([...new Set(await log.unsentPhotos(100))].map(log.photo));
  return rows.map((row) => [row.sha256, Array.from(new Uint8Array(row.bytes))]);
}"""
EXACT = "async (strip) => (await import('/shop.js')).view(strip, 'exact')"
DRAFT = """async (stem) =>
  (await (await import('/log.js')).drafts()).find((draft) => draft.key.startsWith(stem))?.value ?? null"""
DRAWN = "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))"
INSTALLED = "async () => { await navigator.serviceWorker.ready; return Boolean(navigator.serviceWorker.controller); }"


class Hands:
    """One tab of one phone. What is named here is named as on the screen."""

    def __init__(self, page: Any, url: str) -> None:
        self.page, self.url = page, url
        self.strip = ""
        page.set_default_timeout(PATIENCE_MS)

    # Getting about

    def open(self, place: str = "#/") -> None:
        """Type the address of a screen."""
        self.page.goto(f"{self.url}/{place}")
        self.look()

    def look(self) -> None:
        """Wait until the screen shows what it has; `strip` is the strip-down that was looked at last."""
        expect(self.page.locator("h1")).to_be_visible(timeout=PATIENCE_MS)
        expect(self.page.get_by_text("Reading the log…")).to_have_count(0, timeout=PATIENCE_MS)
        if "#/strip/" in self.page.url:
            self.strip = self.page.url.split("#/strip/")[1].split("/")[0]

    def reload(self) -> None:
        """Load the page anew."""
        self.page.reload()
        self.look()

    def install(self) -> None:
        """Load the program once from the PC and stay until the phone keeps all of it."""
        self.open()
        while not self.page.evaluate(INSTALLED):
            pass

    def to(self, screen: str) -> None:
        """Tap a screen's name in the bar at the bottom."""
        link = self.page.get_by_role("navigation", name="Screens").get_by_role("link", name=re.compile(rf"^{screen}\b"))
        link.tap()
        expect(link).to_have_attribute("aria-current", "page")
        self.look()

    def to_part(self, name: str) -> None:
        """Tap a part in the list of what is off."""
        self.to("Off")
        self.page.get_by_role("link").filter(has=self.page.locator(".name", has_text=name)).first.tap()
        expect(self.page.get_by_role("heading", level=1)).to_have_text(name)

    # Tapping and typing

    def tap(self, name: str, within: Any = None) -> None:
        """Tap the button of this name."""
        (within or self.page).get_by_role("button", name=name, exact=True).tap()

    def write(self, label: str, text: str, within: Any = None) -> None:
        """Type over what stands in a field."""
        (within or self.page).get_by_label(label, exact=True).fill(text)

    def choose(self, label: str, choice: str, within: Any = None) -> None:
        """Choose one of the tiles under a label."""
        tiles = (within or self.page).get_by_role("group", name=label, exact=True)
        tiles.get_by_role("radio", name=choice, exact=True).check()

    def unfold(self, title: str, within: Any = None) -> None:
        """Tap a folded section open."""
        summary = (within or self.page).locator("summary").filter(has_text=title).first
        section = summary.locator("xpath=..")
        summary.tap()
        # A list that is still coming in can move from under the finger, which then taps once more.
        if section.get_attribute("open") is None:
            self.page.evaluate(DRAWN)
            if section.get_attribute("open") is None:
                summary.tap()
        expect(section).to_have_attribute("open", "")

    def answer(self, label: str, text: str, action: str) -> None:
        """Answer a question that stands in the way."""
        question = self.page.get_by_role("dialog")
        question.get_by_label(label).fill(text)
        self.tap(action, question)
        expect(question).to_have_count(0)

    # Taking off

    def name(self, name: str) -> None:
        """Type the name of the part."""
        self.write("Name of the part", name)

    def fasteners(self, count: int, thread: str, length: str, bag: str) -> Any:
        """Count a row of fasteners by the big button, say what they are, and bag them; the row."""
        self.unfold("Fasteners and bag")
        row = self.page.get_by_role("group", name="Fasteners 1")
        for _each in range(count):
            self.tap("One more: How many", row)
        self.write("Thread", thread, row)
        self.write("Length, mm", length, row)
        self.write("Into which bag", bag)
        return row

    def specification(self, row: Any, torque: str, page: str) -> None:
        """Take the torque of a row from the manual."""
        self.unfold("Torque from the manual", row)
        self.write("Torque from the manual", torque, row)
        self.write("Manual and page", page, row)

    def reading(self, number: int = 1) -> Any:
        """The form of the first reading, or of another one that is opened now."""
        if number == 1:
            self.unfold("Weight")
        else:
            self.tap("Another reading")
        return self.page.get_by_role("group", name=f"Reading {number}")

    def weigh(self, reading: Any, figure: str, unit: str, step: str) -> None:
        """Fill in what a scale showed."""
        self.write("Figure", figure, reading)
        reading.get_by_label("Unit of: Figure").select_option(unit)
        self.write(f"Step of the scale, {unit}", step, reading)

    def outcome(self, what: str, done: bool | None = None) -> None:
        """Say what becomes of the part, and whether that is done."""
        self.unfold("What becomes of it, note")
        self.choose("What becomes of it", what)
        if done is not None:
            self.choose("Is that done?", "Done" if done else "Planned")

    def save(self) -> None:
        """Tap Save."""
        self.tap("Save")

    def saved(self, name: str) -> None:
        """Be told that it is saved, and go on to the next part."""
        self.save()
        expect(self.page.get_by_role("heading", name=f"Saved: {name}")).to_be_visible()
        self.tap("Next part")
        expect(self.page.get_by_label("Name of the part")).to_have_value("")

    def draft(self) -> Any:
        """What the phone keeps of the form for taking off."""
        return self.page.evaluate(DRAFT, f"take_off/{self.strip}/")

    def until_draft(self, keeps: Callable[[Any], bool]) -> None:
        """Wait until what the phone keeps of the form is as asked."""
        draft = self.draft()
        while draft is None or not keeps(draft):
            draft = self.draft()

    # Reading

    def sum(self, words: str) -> Any:
        """The figure beside these words."""
        lines = self.page.locator("dl.sums > div")
        return lines.filter(has=self.page.get_by_text(words, exact=True)).locator("dd")

    def status(self) -> Any:
        """The line at the top: what was saved, and how sending stands."""
        return self.page.locator("p.state")

    def refused(self) -> Any:
        """The notice that says why a form was not saved."""
        return self.page.get_by_role("alert")

    def entries(self) -> list[dict[str, Any]]:
        """The log that this phone keeps of the strip-down."""
        return list(self.page.evaluate(LOG, self.strip))

    def exact(self) -> dict[str, Any]:
        """The unrounded state, as the arithmetic on this phone works it out."""
        return dict(self.page.evaluate(EXACT, self.strip))

    def pictures(self) -> dict[str, bytes]:
        """Pictures on this phone that the PC does not have, by their hash."""
        return {sha256: bytes(data) for sha256, data in self.page.evaluate(PICTURES)}

    def all_sent(self) -> None:
        """Read on the screen for sending that nothing is left to send and nothing was refused."""
        self.to("Sending")
        for words in ("Entries not sent", "Photos not sent"):
            expect(self.sum(words)).to_have_text("0", timeout=PATIENCE_MS)
        expect(self.page.get_by_text("Refused by the PC")).to_have_count(0)


def kept_entries(folder: Path, strip: str) -> list[dict[str, Any]]:
    """The entries in the PC's file of a strip-down, in the order of the file."""
    lines = (folder / "strips" / f"{strip}.jsonl").read_text(encoding="utf-8").splitlines()
    return [record["entry"] for record in map(json.loads, lines) if "entry" in record]


def by_id(entries: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    """Entries by their id."""
    return {entry["id"]: entry for entry in entries}


class Wire:
    """What a phone sends to the PC: each request for sync, as it goes out, and how many are open at once."""

    def __init__(self, context: Any) -> None:
        self.sent: list[list[str]] = []
        self.open: set[Any] = set()
        self.most_at_once = 0
        context.on("request", self._begins)
        context.on("requestfinished", self._ends)
        context.on("requestfailed", self._ends)

    def _begins(self, request: Any) -> None:
        if request.url.endswith("/api/sync"):
            strips = json.loads(request.post_data_buffer)["strips"]
            self.sent.append([entry["id"] for strip in strips.values() for entry in strip["entries"]])
            self.open.add(request)
            self.most_at_once = max(self.most_at_once, len(self.open))

    def _ends(self, request: Any) -> None:
        self.open.discard(request)
