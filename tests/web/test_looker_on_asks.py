"""A device that looks on and keeps pictures asks which of them another has brought: all, and holding up no entry."""

from examples import photo_entry, picture
from web.phone import entry
from web.sending import add, ids_of

PICTURES = """for (let number = 0; number < a; number += 1) {
    const sha256 = String(number).padStart(64, "0");
    await m.log.addPhoto({sha256, bytes: new ArrayBuffer(9), type: "image/jpeg", width: 1, height: 1});
    await m.database.write(["settings"], (tr) => tr.objectStore("settings").delete("held/" + sha256));
}"""
MANY = 1_203


def looks_on(phone):
    """The PC says that this device may only look on."""
    def answer(route):
        response = route.fetch()
        said = response.json()
        route.fulfill(response=response, json={**said, "role": "looker_on"} if "role" in said else said)

    for path in ("/api/hello", "/api/sync"):
        phone.context.route("**" + path, answer)


def test_all_its_pictures_are_asked_about_in_pages_and_a_page_that_fails_holds_up_neither_others_nor_entries(
    phone, second_phone
):
    tab, other = phone.tab(), second_phone.tab()
    asked, brought = [], set()

    def answer(route):
        hashes = route.request.post_data_json["hashes"]
        asked.append(len(hashes))
        if len(asked) == 1:
            error = {"code": "disk_trouble", "text": "The disk of the PC.", "values": {}}
            route.fulfill(status=500, json={"error": error})
        else:
            route.fulfill(json={"missing": [each for each in hashes if int(each) % 2]})
            brought.update(each for each in hashes if not int(each) % 2)

    phone.context.route("**/api/photos/missing", answer)
    tab.run(PICTURES, MANY)
    looks_on(phone)
    add(other, entry(1), photo_entry(2, picture(1)))
    other.run("await m.sync.sendNow()")
    tab.run("await m.sync.sendNow()")
    # Entries are here, though the first page failed, and nothing is wrong with them.
    assert ids_of(tab) == ids_of(other) and asked[0] == 500
    add(other, entry(3))
    other.run("await m.sync.sendNow()")
    tab.run("await m.sync.sendNow()")
    assert ids_of(tab) == ids_of(other) and len(ids_of(tab)) == 2
    # The next page, the last one and then, at the next turn, the one that failed.
    tab.run("await m.sync.sendNow()")
    tab.until("(await m.log.counts()).unsent_photos === a", MANY // 2)
    assert max(asked) == 500 and len(brought) == MANY - MANY // 2
    assert tab.run("return m.sync.snapshot().phase") != "trouble"
