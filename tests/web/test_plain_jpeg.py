"""The phone's and the PC's rule of what a JPEG picture may carry are one: what the phone leaves unchanged the PC takes.

What either makes of a picture is held against Pillow, which decodes it before and after.
"""

import base64
import hashlib
import io
import random
import zipfile

import pytest
from PIL import Image

from cotterbook.bundles import layout, write_bundle
from cotterbook.errors import Problem
from cotterbook.jpeg import NoJpeg, more_than_the_picture
from cotterbook.photos import check_picture
from examples import STRIP, entry, photo_entry
from jpegs import CLEAN, MORE, NONE, SRGB, exif, jpeg
from repacked import changed, replaced
from web.phone import Phone

CHANGED = 4_000
EXAMPLES = {**CLEAN, **{name: data for name, (data, _) in MORE.items()}, **NONE}

# What is made of each: its bytes, or null where it is refused.
PLAIN = """const { plainJpeg, isPlain } = await import('/plain-jpeg.js');
    return a.map((text) => {
        const bytes = Uint8Array.from(atob(text), (each) => each.charCodeAt(0));
        const before = bytes.slice();
        try {
            const made = plainJpeg(bytes);
            if (made.buffer.byteLength !== made.length) throw new Error('not in a buffer of its own');
            if (String(before) !== String(bytes)) throw new Error('what was given changed');
            return [btoa(Array.from(made, (each) => String.fromCharCode(each)).join('')), isPlain(bytes)];
        } catch (error) {
            if (error.name !== 'PhotoRefused') throw error;
            return null;
        }
    });"""
CHECK = """const bytes = Uint8Array.from(atob(a), (each) => each.charCodeAt(0));
    return m.photos.checkPicture(bytes).catch((error) => error.sentence.text);"""


@pytest.fixture(scope="module")
def shared(chromium, module_server):
    phone = Phone(chromium, module_server.url)
    yield phone.tab()
    phone.close()


def text_of(data):
    return base64.b64encode(data).decode()


def plain(tab, pictures):
    """What the phone makes of each: (its bytes, whether they are the given ones), or None."""
    made = tab.run(PLAIN, [text_of(each) for each in pictures])
    return [each and (base64.b64decode(each[0]), each[1]) for each in made]


def pixels(data):
    with Image.open(io.BytesIO(data), formats=("JPEG",)) as image:
        image.load()
        return image.mode, image.size, image.tobytes()


def pc_says(data):
    """The code that the PC refuses it with, or None."""
    try:
        check_picture(data)
    except Problem as problem:
        return problem.code
    return None


def test_the_pc_takes_exactly_what_the_phone_leaves_unchanged(shared):
    for name, made in zip(EXAMPLES, plain(shared, EXAMPLES.values()), strict=True):
        data, code = EXAMPLES[name], pc_says(EXAMPLES[name])
        if name in NONE:
            assert (made, code) == (None, "not_a_picture"), name
            continue
        ours, same = made
        assert same == (ours == data) == (name in CLEAN), name
        assert code == (None if name in CLEAN else "picture_carries_more"), name


def test_what_is_left_is_the_same_picture_and_the_pc_takes_it(shared):
    names = [*CLEAN, *MORE]
    first = [each[0] for each in plain(shared, [EXAMPLES[name] for name in names])]
    for name, ours, again in zip(names, first, plain(shared, first), strict=True):
        assert pixels(ours) == pixels(EXAMPLES[name]), name
        assert pc_says(ours) is None and again == (ours, True), name
        assert len(ours) <= len(EXAMPLES[name]) and b"shed" not in ours, name


def test_colours_keep_what_they_need(shared):
    """A profile and Adobe's transform as Pillow reads them."""
    noted = [jpeg(icc_profile=SRGB, exif=exif()), jpeg("CMYK", comment=b"shed"), jpeg(keep_rgb=True, comment=b"shed")]
    for before, (ours, _) in zip(noted, plain(shared, noted), strict=True):
        with Image.open(io.BytesIO(before)) as old, Image.open(io.BytesIO(ours)) as new:
            for key in ("icc_profile", "adobe", "adobe_transform", "jfif_density"):
                assert new.info.get(key) == old.info.get(key)
            assert not new.getexif() and "comment" not in new.info


def walked(data):
    """What the PC's look at the markers says, before anything is decoded: whether nothing else is carried, or None."""
    try:
        return not more_than_the_picture(data)
    except NoJpeg:
        return None


def test_changed_bytes_are_judged_alike_and_nothing_hangs(shared):
    seed = random.randrange(2**32)
    print("seed", seed)
    chance = random.Random(seed)
    whole = [data for name, data in EXAMPLES.items() if 100 < len(data) < 10_000]
    changed = []
    for _ in range(CHANGED):
        data = bytearray(chance.choice(whole))
        # Among the segments more often than in the scans, which are longer.
        last = data.index(b"\xff\xda") + 14 if chance.random() < 0.7 and b"\xff\xda" in data else len(data)
        for _ in range(chance.choice((1, 1, 2, 5))):
            at = chance.randrange(last)
            data[at] = chance.choice((chance.randrange(256), 0xFF, 0, data[at] ^ (1 << chance.randrange(8))))
        changed.append(bytes(data))
    told = {None: 0, True: 0, False: 0}
    for data, made in zip(changed, plain(shared, changed), strict=True):
        verdict = walked(data)
        assert verdict == (made and made[1]), data
        told[verdict] += 1
        assert made is None or walked(made[0]), data
        assert pc_says(data) in (None, "not_a_picture", "picture_carries_more", "too_many_pixels")
    assert min(told.values()) > CHANGED / 50, told


def test_a_picture_cut_off_anywhere_is_refused_by_both(shared):
    for data in (CLEAN["progressive with restart markers"], CLEAN["CMYK"], MORE["all at once"][0]):
        end = data.rindex(b"\xff\xd9") + 2
        cut = [data[:length] for length in range(end)]
        assert [walked(each) for each in cut] == [None] * end
        assert plain(shared, cut) == [None] * end


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_phone_that_looks_at_a_picture_from_a_file_says_what_the_pc_says(shared, name):
    told = shared.run(CHECK, text_of(EXAMPLES[name]))
    if name in CLEAN:
        assert told == {"width": 40, "height": 40}
    else:
        assert ("carries more" if name in MORE else "no whole JPEG") in told


def test_a_bundle_with_a_picture_that_carries_more_is_refused_by_phone_and_pc(shared, store, tmp_path):
    from cotterbook.bundles import take_in

    good, bad = CLEAN["grey"], MORE["Exif with a place"][0]
    digest = hashlib.sha256(good).hexdigest()
    store.append(STRIP, [photo_entry(1, good), entry(2)])
    store.put_photo(digest, good)
    write_bundle(store, tmp_path / "good.zip")
    name = layout.photo_name(hashlib.sha256(bad).hexdigest())
    path = changed(tmp_path / "good.zip", lambda files, manifest: replaced(files, manifest, name, bad), tmp_path)
    with zipfile.ZipFile(path) as packed:
        assert packed.read(name) == bad
    with pytest.raises(Problem) as refused:
        take_in(store, path)
    assert refused.value.code == "bundle_picture" and "carries more than itself (APP1)" in str(refused.value)
    told = shared.run(
        """const { look } = await import('/bundle-taking.js');
        const file = new File([Uint8Array.from(atob(a), (each) => each.charCodeAt(0))], 'carried.zip');
        return look(file).then(() => null, (error) => [error.code, m.words.t(error.sentence)]);""",
        text_of(path.read_bytes()))
    assert told[0] == "bundle_picture" and name in told[1] and "carries more than itself" in told[1]


def noting(page):
    """A browser that writes notes of its own into what it makes of a canvas."""
    page.add_init_script(
        """const make = OffscreenCanvas.prototype.convertToBlob;
        globalThis.noted = [];
        OffscreenCanvas.prototype.convertToBlob = async function (options) {
            const own = new Uint8Array(await (await make.call(this, options)).arrayBuffer());
            const exif = [0xff, 0xe1, 0, 12, ...new TextEncoder().encode('Exif'), 0, 0, 1, 2, 3, 4];
            const made = new Uint8Array([...own.subarray(0, 20), ...exif, ...own.subarray(20), 9, 9]);
            noted.push(made);
            return new Blob([made], { type: 'image/jpeg' });
        };""")


def test_notes_that_a_browser_writes_are_gone_before_the_picture_gets_its_name(phone):
    tab = phone.tab(before=noting)
    kept = tab.run(
        """const bytes = Uint8Array.from(atob(a), (each) => each.charCodeAt(0));
        const answer = await m.photos.shrink(new File([bytes], 'shed.jpg'));
        const text = (each) => btoa(Array.from(each, (byte) => String.fromCharCode(byte)).join(''));
        const photo = await m.log.photo(answer.sha256);
        return { answer, type: photo.type, ours: text(new Uint8Array(photo.bytes)), noted: text(noted.at(-1)) };""",
        text_of(jpeg(exif=exif())))
    ours, noted = base64.b64decode(kept["ours"]), base64.b64decode(kept["noted"])
    assert pc_says(noted) == "picture_carries_more" and pc_says(ours) is None
    assert pixels(ours) == pixels(noted) and len(ours) == len(noted) - 16
    assert kept["answer"] == {
        "sha256": hashlib.sha256(ours).hexdigest(), "bytes": len(ours), "width": 40, "height": 40}
    assert kept["type"] == "image/jpeg"


def test_the_pcs_refusal_of_a_picture_is_told_and_it_stays_on_the_phone(phone):
    """Such as an older program took in."""
    tab, data = phone.tab(), MORE["Exif with a place"][0]
    named = photo_entry(1, data)
    tab.run(
        """const bytes = Uint8Array.from(atob(a[1]), (each) => each.charCodeAt(0)).buffer;
        await m.log.addPhoto({ sha256: a[0].sha256, bytes, type: 'image/jpeg', width: 40, height: 40 });
        await m.log.addEntries([a[0]]);
        await m.sync.sendNow();""", [named, text_of(data)])
    shown = tab.run("return m.sync.snapshot()")
    ((sha256, problem),) = [(each["sha256"], each["problem"]) for each in shown["refused_photos"]]
    assert (sha256, problem["code"]) == (named["sha256"], "picture_carries_more") and shown["phase"] == "idle"
    said = tab.run("return m.words.t(a)", problem)
    assert "carries more than itself (APP1)" in said and "stays on the phone" in said and "{" not in said
    assert tab.run("return m.log.photoState(a)", sha256) == "refused"
