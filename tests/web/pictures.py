"""Makes the README's pictures of the screens from the demo: python tests/web/pictures.py [folder].

Every screen at phone and desk width, light and dark; without a folder, only
those that the README shows are kept, in demo_data/screens/.
"""

import json
import sys
import tempfile
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))

from playwright.sync_api import expect, sync_playwright  # noqa: E402

from browsers import find_chromium  # noqa: E402
from running import RunningServer  # noqa: E402

SIZES = {"phone": (360, 780), "desk": (1280, 860)}
SHOWN = {
    "take-off-phone-light", "off-phone-light", "back-phone-dark", "masses-phone-light", "part-desk-light",
    "torque-phone-light", "balance-phone-light", "weigh-in-phone-light", "gear-phone-dark",
    "tally-phone-light", "open-items-phone-light", "hand-over-phone-dark",
}  # fmt: skip
PERSON = "Ilvane"
PART = "Headlamp"
GROUP = "clamp, front pair first"
TOTAL = "9,20 kg"


def addresses(strip: str, part: str, group: str) -> dict[str, str]:
    """The screens by name, as the app's own addresses."""
    screens = {
        "take-off": "take_off",
        "off": "off",
        "part": f"part/{part}",
        "back": "back",
        "masses": "statement",
        "tally": "tally",
        "gear": "gear",
        "balance": "balance",
        "weigh-in": "weigh_in",
        "torque": f"torque/{group}",
        "record": f"record/{group}",
        "retorque": "retorque",
        "open-items": "open",
        "count": "count",
        "buy": "buy",
        "hand-over": "handover",
        "settings": "settings",
        "to-standard": "standard",
        "sheets": "sheets",
        "sheet-back": "sheets/back",
        "sheet-buy": "sheets/buy",
        "sheet-keys": "sheets/keys",
        "sheet-build": "sheets/build",
        "sheet-charts": "sheets/charts",
        "sheet-standard": "sheets/standard",
        "charts": "charts",
        "machine": "machine",
        "map": "map",
        "torques-from-a-table": "specifications",
        "tables": "tables",
        "all-pictures": "pictures",
        "labels": "labels",
        "bag": "bag/5",
        "find": "find/m8x25",
        "read-a-label": "scan",
    }
    of_the_shop = {"start": "", "begin": "begin", "sending": "sending", "in-the-shop": "shop", "merge-maps": "maps"}
    of_the_shop["help"] = "help"
    return {name: f"/#/{address}" for name, address in of_the_shop.items()} | {
        name: f"/#/strip/{strip}/{address}" for name, address in screens.items()
    }


def demo_ids() -> tuple[str, str, str]:
    """The demo's strip-down, the part whose page is shown, and the fasteners whose torque card is."""
    lines = (ROOT / "demo_data" / "entries.jsonl").read_text(encoding="utf-8").splitlines()
    entries = [json.loads(line) for line in lines]
    named = [entry for entry in entries if entry.get("values", {}).get("name", "").startswith(PART)]
    sits = [entry for entry in entries if entry.get("values", {}).get("sits") == GROUP]
    return entries[0]["strip"], named[0]["thing"], sits[0]["thing"]


def ask_the_total(page: Any) -> None:
    """The total that somebody in the demo wrote down, with one part counted twice (demo_data/expected_sums.md)."""
    page.get_by_label("The total that was written or said", exact=True).fill(TOTAL)
    page.get_by_role("button", name="Look for what differs").click()
    answer = page.get_by_text("counted twice").first
    expect(answer).to_be_visible()
    answer.evaluate("(element) => element.scrollIntoView({ block: 'center' })")


def take(browser: Any, url: str, into: Path, wanted: set[str] | None) -> None:
    """Takes the pictures named in `wanted`, or all of them."""
    for size, (width, height) in SIZES.items():
        for theme in ("light", "dark"):
            context = browser.new_context(
                viewport={"width": width, "height": height}, color_scheme=theme, locale="en-GB")
            page = context.new_page()
            page.goto(url)
            page.locator("h1").wait_for()
            page.evaluate("name => import('/shop.js').then((shop) => shop.setPerson(name))", PERSON)
            expect(page.get_by_text("Harrowfen").first).to_be_visible(timeout=30_000)
            for name, address in addresses(*demo_ids()).items():
                picture = f"{name}-{size}-{theme}"
                if wanted is None or picture in wanted:
                    page.goto(url + address)
                    page.reload()
                    expect(page.get_by_role("heading", level=1)).to_be_visible()
                    expect(page.get_by_text("Reading the log…")).to_have_count(0)
                    expect(page.get_by_text("All sent").first).to_be_visible()
                    page.wait_for_load_state("networkidle")
                    if name == "tally":
                        ask_the_total(page)
                    page.screenshot(path=into / f"{picture}.png", full_page=wanted is None)
            context.close()


def main() -> None:
    """Starts the demo, takes the pictures, stops it."""
    everything = len(sys.argv) > 1
    into = Path(sys.argv[1]) if everything else ROOT / "demo_data" / "screens"
    into.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        server = RunningServer(Path(folder) / "data", demo=True).start()
        browser = playwright.chromium.launch(executable_path=find_chromium(), args=["--no-sandbox"])
        take(browser, server.url, into, None if everything else SHOWN)
        browser.close()
        server.stop()


if __name__ == "__main__":
    main()
