"""What a phone's page holds while it makes a bundle of many large pictures, and while another reads it.

python tests/bench/large_bundle.py [PICTURES] [BYTES]
"""

import argparse
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "tests")]

from playwright.sync_api import Page, Playwright, sync_playwright  # noqa: E402

from browsers import find_chromium  # noqa: E402
from examples import entry  # noqa: E402
from running import RunningServer  # noqa: E402

PICTURES, BYTES = 300, 500_000
BARE_PAGE = "/style.css"
MEGABYTE = 1e6

# Noise hardly compresses: 0.58 bytes for a pixel at this quality, as measured. Each is kept as a photo of the log.
FILL = """async ([from, to, bytes, named]) => {
    const { plainJpeg } = await import('/plain-jpeg.js');
    const log = await import('/log.js');
    const { uuidv7 } = await import('/vendor/uuidv7-1.2.1.mjs');
    const side = Math.round(Math.sqrt(bytes * 1.73));
    const canvas = new OffscreenCanvas(side, side);
    const pen = canvas.getContext('2d');
    let sum = 0;
    for (let number = from; number < to; number += 1) {
        const data = pen.createImageData(side, side);
        const dots = data.data;
        for (let at = 0; at < dots.length; at += 65_536) crypto.getRandomValues(dots.subarray(at, at + 65_536));
        for (let at = 3; at < dots.length; at += 4) dots[at] = 255;
        pen.putImageData(data, 0, 0);
        const made = plainJpeg(new Uint8Array(
            await (await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.75 })).arrayBuffer()));
        const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', made));
        const sha256 = Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
        await log.addPhoto({ sha256, bytes: made.buffer, type: 'image/jpeg', width: side, height: side });
        await log.addEntries([{ ...named, id: uuidv7(), kind: 'photo', sha256, media_type: 'image/jpeg',
                                bytes: made.length, width: side, height: side }]);
        sum += made.length;
    }
    return sum;
}"""
# Begun and not waited for, so that the page can be asked meanwhile.
MAKE = """() => { globalThis.ended = (async () => {
    const { contentsOf, makeBundle } = await import('/bundle-writing.js');
    globalThis.made = await makeBundle(await contentsOf('all'));
    return made.size;
})().then((said) => { globalThis.said = said; }, (error) => { globalThis.said = String(error.message); }); }"""
READ = """() => { globalThis.ended = (async () => {
    const { look, takeIn } = await import('/bundle-taking.js');
    return (await takeIn(await look(document.querySelector('input').files[0]))).photos;
})().then((said) => { globalThis.said = said; }, (error) => { globalThis.said = String(error.message); }); }"""
SAVE = """() => {
    const link = document.body.appendChild(document.createElement('a'));
    Object.assign(link, { href: URL.createObjectURL(made), download: made.name, textContent: 'Save' });
}"""
CHOOSE = "() => { document.body.appendChild(Object.assign(document.createElement('input'), { type: 'file' })); }"


class Memory:
    """The most that a page held, in bytes: its own objects, its buffers, and all of its process."""

    def __init__(self, page: Page, profile: Path) -> None:
        self.cdp, self.profile = page.context.new_cdp_session(page), str(profile).encode()
        self.most = {"objects": 0, "buffers": 0, "process": 0}

    def sample(self, collect: bool) -> None:
        if collect:
            self.cdp.send("HeapProfiler.collectGarbage")
        heap = self.cdp.send("Runtime.getHeapUsage")
        now = {"objects": int(heap["usedSize"]), "buffers": int(heap["backingStorageSize"]),
               "process": process_bytes(self.profile)}
        self.most = {name: max(value, now[name]) for name, value in self.most.items()}


def process_bytes(profile: bytes) -> int:
    """Resident bytes of the largest process that draws a page, of the browser with this profile."""
    known: dict[int, tuple[int, bytes, int]] = {}
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            status = dict(line.split(":", 1) for line in (folder / "status").read_text().splitlines())
            command = (folder / "cmdline").read_bytes()
        except OSError:
            continue
        known[int(folder.name)] = (int(status["PPid"]), command, int(status.get("VmRSS", "0").split()[0]) * 1024)

    def ours(number: int) -> bool:
        while number in known:
            parent, command, _ = known[number]
            if b"--user-data-dir=" + profile in command:
                return True
            number = parent
        return False

    return max((size for number, (_, command, size) in known.items() if b"--type=renderer" in command and ours(number)),
               default=0)


def watched(page: Page, profile: Path, begin: str, collect: bool) -> tuple[Any, dict[str, int]]:
    """Runs what `begin` begins; what it said, and how much more memory there was meanwhile, at most."""
    page.evaluate("delete globalThis.said")
    memory = Memory(page, profile)
    memory.sample(True)
    before = dict(memory.most)
    page.evaluate(begin)
    while not page.evaluate("'said' in globalThis"):
        memory.sample(collect)
        time.sleep(0.05)
    return page.evaluate("said"), {name: most - before[name] for name, most in memory.most.items()}


def tell(what: str, said: Any, more: dict[str, int]) -> None:
    figures = ", ".join(f"{name} {value / MEGABYTE:.1f}" for name, value in more.items())
    print(f"{what}: {said}; MB more than before, at most: {figures}", flush=True)


HOW = {False: "", True: ", garbage collected at each look"}


def measure(folder: Path, playwright: Playwright, url: str, pictures: int, each: int) -> None:
    def phone(name: str) -> Page:
        context = playwright.chromium.launch_persistent_context(
            str(folder / name), executable_path=find_chromium(), accept_downloads=True)
        page = context.new_page()
        page.goto(url + BARE_PAGE)
        return page

    page = phone("making")
    named = {key: entry(1)[key] for key in ("strip", "at", "by", "who", "thing")}
    whole = sum(page.evaluate(FILL, [at, min(at + 20, pictures), each, named]) for at in range(0, pictures, 20))
    print(f"{pictures} pictures, {whole / MEGABYTE:.0f} MB in all", flush=True)
    for collect, how in HOW.items():
        tell("making" + how, *watched(page, folder / "making", MAKE, collect))
    page.evaluate(SAVE)
    with page.expect_download() as download:
        page.get_by_text("Save", exact=True).click()
    download.value.save_as(folder / "large.zip")
    page.context.close()
    for collect, how in HOW.items():
        name = f"reading-{collect}"
        page = phone(name)
        page.evaluate(CHOOSE)
        page.locator("input").set_input_files(folder / "large.zip")
        tell("reading" + how, *watched(page, folder / name, READ, collect))
        page.context.close()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("pictures", nargs="?", type=int, default=PICTURES)
    parser.add_argument("bytes", nargs="?", type=int, default=BYTES)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        server = RunningServer(Path(folder) / "data").start()
        try:
            measure(Path(folder), playwright, server.url, given.pictures, given.bytes)
        finally:
            server.stop()


if __name__ == "__main__":
    main()
