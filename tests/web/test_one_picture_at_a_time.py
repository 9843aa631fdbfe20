"""However many pictures a bundle has, the phone holds one at a time: its memory does not grow with their number.

Counted are the buffers of pictures that are still alive, after the browser was made to collect its garbage, whenever
one more is read: each goes through the browser's SHA-256, at making, reading back, looking and taking in. How much
memory that is, `tests/bench/large_bundle.py` measures.
"""

import pytest

from examples import entry, photo_entry, picture

PICTURES = 12
# The one in hand, and one whose last reader has not let go of it yet.
AT_ONCE = 2
LEAST_BYTES = 20_000

COUNT = """const digest = SubtleCrypto.prototype.digest;
    const [read, counted] = [[], { most: 0, reads: 0 }];
    SubtleCrypto.prototype.digest = async function (how, of) {
        const buffer = of.buffer ?? of;
        if (buffer.byteLength >= a) {
            await collectGarbage();
            const others = read.filter((each) => ![undefined, buffer].includes(each.deref())).length;
            counted.most = Math.max(counted.most, others + 1);
            counted.reads += 1;
            read.push(new WeakRef(buffer));
        }
        return digest.call(this, how, of);
    };
    globalThis.counted = counted;"""


def counting(phone):
    """A tab that counts the pictures it holds."""

    def before(page):
        session = page.context.new_cdp_session(page)
        page.expose_function("collectGarbage", lambda: session.send("HeapProfiler.collectGarbage") and None)

    tab = phone.tab(before=before)
    tab.run(COUNT, LEAST_BYTES)
    return tab


@pytest.fixture
def photos():
    data = [picture(number, 200) for number in range(PICTURES)]
    assert min(map(len, data)) >= LEAST_BYTES
    return [(photo_entry(number, each), list(each)) for number, each in enumerate(data)]


def test_making_and_reading_hold_one_picture_at_a_time(phone, second_phone, photos, tmp_path):
    tab = counting(phone)
    tab.run(
        """for (const [entry, bytes] of a) {
            await m.log.addPhoto({sha256: entry.sha256, bytes: Uint8Array.from(bytes).buffer, type: 'image/jpeg',
                                  width: 200, height: 200});
            await m.log.addEntries([entry]);
        }""", photos)
    tab.run("await m.log.addEntries([a])", entry(999))
    tab.run(
        """const { contentsOf, makeBundle } = await import('/bundle-writing.js');
        const file = await makeBundle(await contentsOf('all'));
        const input = document.body.appendChild(document.createElement('a'));
        Object.assign(input, {href: URL.createObjectURL(file), download: file.name, textContent: 'Save'});""")
    made = tab.run("return counted")
    # Put in once and read back once.
    assert made["reads"] == 2 * PICTURES and 1 <= made["most"] <= AT_ONCE
    with tab.page.expect_download() as download:
        tab.page.get_by_text("Save", exact=True).click()
    download.value.save_as(tmp_path / "many.zip")

    other = counting(second_phone)
    other.page.evaluate("document.body.appendChild(Object.assign(document.createElement('input'), {type: 'file'}))")
    other.page.locator("input").set_input_files(tmp_path / "many.zip")
    taken = other.run(
        """const { look, takeIn } = await import('/bundle-taking.js');
        return takeIn(await look(document.querySelector('input').files[0]));""")
    assert taken == {"entries": PICTURES + 1, "photos": PICTURES}
    # Looked at before anything is kept, and once more when it is.
    read = other.run("return counted")
    assert read["reads"] == 2 * PICTURES and 1 <= read["most"] <= AT_ONCE
