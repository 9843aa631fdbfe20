"""The seven parts of seven_parts.md: logging them by tapping, and reading the sheet's figures on the screens."""

from pathlib import Path
from typing import Any

from PIL import Image
from playwright.sync_api import expect

from web.hands import Hands

SHEET = Path(__file__).with_name("seven_parts.md").read_text(encoding="utf-8")
NAMES = (
    "Passenger footrests",
    "Rear shock absorber",
    "Rear mudguard",
    "Windscreen",
    "Luggage rack",
    "Horn",
    "Seat",
)


def table(heading: str) -> dict[str, list[str]]:
    """The rows of the table under a heading of the sheet, by their first cell."""
    lines = SHEET.split(f"## {heading}\n")[1].split("\n## ")[0].splitlines()
    rows = [[cell.strip() for cell in line.strip("|").split("|")] for line in lines if line.startswith("|")]
    return {row[0]: row[1:] for row in rows[2:]}


STAGES = table("What the screens say")
LINES = {name: row[0] for name, row in table("Line by line, at the end").items()}


def photo_file(folder: Path) -> Path:
    """A picture as a phone's camera makes it: 12 megapixels, lying on its side, with a place written into it."""
    image = Image.linear_gradient("L").resize((4000, 3000)).convert("RGB")
    exif = Image.Exif()
    exif[0x0112] = 6  # Orientation: turn it right
    exif[0x010F] = "A camera"
    path = folder / "seat.jpg"
    image.save(path, "JPEG", quality=80, exif=exif)
    return path


def begin(hands: Hands) -> str:
    """Begin the strip-down; its id."""
    page = hands.page
    page.get_by_role("link", name="Begin a strip-down").tap()
    hands.write("Machine", "Marlwick 410")
    hands.write("Name of the strip-down", "Harbour runabout")
    hands.write("Standard mass", "171,5")
    hands.write("Where that figure is from", "Its papers, ready to ride")
    hands.tap("Begin")
    hands.answer("Your name", "Ilka", "That’s me")
    expect(page.get_by_role("heading", name="Take off")).to_be_visible()
    hands.look()
    hands.tap("Read. Put away for this spell")
    return hands.strip


def log_before_the_spell(hands: Hands) -> None:
    page = hands.page
    # A pair, one piece weighed; picked from the ordinary parts, which bring place, side and pieces.
    page.get_by_label("Name of the part").press_sequentially("passenger footrests")
    hands.name("passenger foot")
    page.get_by_role("button", name="Passenger footrests footrests").tap()
    expect(page.get_by_label("Pieces", exact=True)).to_have_value("2")
    hands.fasteners(4, "M8", "25", "1")
    reading = hands.reading()
    hands.weigh(reading, "318", "g", "1")
    hands.tap("One less: Pieces on the scale", reading)
    hands.outcome("Stays off", done=True)
    hands.saved(NAMES[0])
    # A swap: both on the scale, the new one not on yet.
    page.get_by_label("or an ordinary part").select_option("Rear shock absorber")
    row = hands.fasteners(2, "M10", "50", "2")
    hands.specification(row, "44", "Manual, page 61")
    hands.outcome("Swapped", done=False)
    hands.write("Swapped for what", "A longer one, from the shelf")
    reading = hands.reading()
    hands.choose("What was weighed", "As taken off", reading)
    hands.weigh(reading, "3,42", "kg", "0.02")
    reading = hands.reading(2)
    hands.choose("What was weighed", "Going on", reading)
    hands.weigh(reading, "2.66", "kg", "0,005")
    hands.saved(NAMES[1])
    # A cut: before and after.
    hands.name(NAMES[2])
    hands.fasteners(3, "M6", "16", "3")
    hands.outcome("Cut down", done=True)
    reading = hands.reading()
    hands.choose("What was weighed", "As taken off", reading)
    hands.weigh(reading, "1124", "g", "2")
    reading = hands.reading(2)
    hands.choose("What was weighed", "After the cut", reading)
    hands.weigh(reading, "687", "g", "2")
    hands.saved(NAMES[2])


def log_in_the_spell(hands: Hands, picture: Path) -> None:
    page = hands.page
    # A range, read by eye.
    hands.name(NAMES[3])
    hands.fasteners(4, "M5", "16", "4")
    reading = hands.reading()
    reading.get_by_label("It wandered: from … to …").check()
    hands.write("From", "1.9", reading)
    reading.get_by_label("Unit of: From").select_option("kg")
    hands.write("To", "2.12", reading)
    hands.outcome("Stays off", done=True)
    hands.saved(NAMES[3])
    # A figure from a document, of an accessory that was on it.
    hands.name(NAMES[4])
    hands.fasteners(4, "M8", "30", "5")
    reading = hands.reading()
    hands.choose("Where the figure is from", "From a document", reading)
    hands.write("Figure", "2.85", reading)
    reading.get_by_label("Unit of: Figure").select_option("kg")
    hands.write("Which document, which page", "The rack’s leaflet, page 2", reading)
    hands.outcome("Stays off", done=True)
    page.get_by_label("How the machine came in").select_option(label="Accessory, was on it")
    hands.saved(NAMES[4])
    # An estimate, with a slip.
    hands.name(NAMES[5])
    hands.fasteners(1, "M8", "20", "6")
    estimate(hands, hands.reading(), "2400")
    hands.saved(NAMES[5])
    # Weighed, goes back; with a photo.
    hands.name(NAMES[6])
    page.get_by_label("Take a photo").set_input_files(picture)
    expect(page.get_by_role("img", name="Photo 1")).to_be_visible()
    hands.specification(hands.fasteners(2, "M6", "20", "7"), "9", "Manual, page 12")
    hands.weigh(hands.reading(), "4.36", "kg", "0.02")
    hands.outcome("Goes back", done=False)
    hands.saved(NAMES[6])


def estimate(hands: Hands, reading: Any, grams: str) -> None:
    hands.choose("Where the figure is from", "Estimated", reading)
    hands.write("Figure", grams, reading)
    reading.get_by_label("Unit of: Figure").select_option("g")
    hands.choose("How well known", "From a similar part", reading)


def begin_spell(hands: Hands) -> None:
    hands.to("Off")
    hands.unfold("Begin a spell of work")
    hands.write("Who is there", "Ilka, Bram")
    hands.tap("Begin the spell")
    expect(hands.page.get_by_text("There: Ilka and Bram.")).to_be_visible()


def sums_say(hands: Hands, stage: str) -> None:
    """What is off and the masses both show the sums of the sheet, word for word."""
    spell, came_in, standard, unweighed, _parts, _fasteners = STAGES[stage]
    for screen in ("Masses", "Off"):
        hands.to(screen)
        expect(hands.sum("In this spell")).to_have_text(spell)
        expect(hands.sum("Since it came in")).to_have_text(came_in)
        expect(hands.sum("Against the standard machine")).to_have_text(standard)
        words = hands.page.get_by_text("without a mass: not in these sums.")
        expect(words).to_have_text([] if unweighed == "0" else [f"{unweighed} without a mass: not in these sums."])


def screens_say(hands: Hands, stage: str) -> None:
    """The sums of the sheet, and how many parts and fasteners are out."""
    sums_say(hands, stage)
    *_sums, parts, fasteners = STAGES[stage]
    expect(hands.page.get_by_text(f"{parts} parts off. {fasteners} fasteners out.")).to_be_visible()


def lines_say(hands: Hands, names: Any) -> None:
    """The mass statement has these parts and no others, each with its change."""
    hands.to("Masses")
    rows = hands.page.locator("table.statement tbody tr:not(.beneath)")
    expect(rows).to_have_count(len(names))
    for name in names:
        expect(rows.filter(has_text=name).locator("[data-name=Change]")).to_have_text(LINES[name])


def strike_and_correct(hands: Hands) -> None:
    page = hands.page
    hands.to_part("Horn")
    page.get_by_role("button", name="Strike: Mass 2.4").tap()
    hands.answer("Why was it a mistake?", "A nought too many", "Strike it")
    expect(page.get_by_text("Struck by Ilka: A nought too many")).to_be_visible()
    screens_say(hands, "One struck")
    hands.to_part("Horn")
    hands.tap("Add a reading")
    estimate(hands, page.get_by_role("group", name="Reading 1"), "240")
    hands.tap("Save the reading")
    expect(page.get_by_text("counts", exact=True)).to_be_visible()
    screens_say(hands, "Corrected")


def put_back(hands: Hands) -> None:
    page = hands.page
    hands.to("Put back")
    hands.tap("Read. Put away for this spell")
    expect(page.locator("details.part .name")).to_have_text(["Seat", "Horn", "Rear mudguard", "Rear shock absorber"])
    seat = page.locator("details.part").filter(has_text="Seat")
    hands.unfold("Seat")
    # One bolt is forgotten in its bag first, and the screen says so.
    hands.tap("One less: Out of bag 7 and in", seat)
    hands.tap("Put 1 back", seat)
    hands.tap("The part is back on", seat)
    short = page.get_by_role("region", name="Short or left over")
    expect(short.get_by_text("1 of 2 M6×20 still in bag 7: Seat")).to_be_visible()
    expect(short.get_by_text("4 M8×25 left over in bag 1: Passenger footrests stays off")).to_be_visible()
    hands.tap("Put 1 back", seat)
    expect(short.get_by_text("Seat")).to_have_count(0)
    tighten_and_mark(hands, seat)
    shock = page.locator("details.part").filter(has_text="Rear shock absorber")
    hands.unfold("Rear shock absorber")
    hands.tap("Put 2 back", shock)
    tighten_and_mark(hands, shock)
    hands.tap("The replacement is on", shock)
    # A life hangs on the shock absorber, so somebody else has to look at its bolts.
    expect(shock).to_contain_text("a second check is missing")
    hands.tap("Second check: M10×50", shock)
    look = page.get_by_role("form", name="Second check: M10×50")
    # Of the two who are there, the one who tightened is not asked.
    who = look.get_by_role("group", name="Who is looking").get_by_role("radio")
    expect(who).to_have_count(2)
    expect(look.get_by_role("radio", name="Bram", exact=True)).to_be_checked()
    hands.choose("What was looked at", "Torque and mark", look)
    hands.tap("2 right", look)
    hands.unfold("Done")
    expect(page.locator("details.part .name")).to_have_text(["Horn", "Rear mudguard", "Seat", "Rear shock absorber"])
    expect(seat).to_contain_text("on, counted, tight and marked")
    expect(shock).to_contain_text("on, counted, tight, marked and checked")


def tighten_and_mark(hands: Hands, part: Any) -> None:
    """The wrench is set to the manual's value, which the form brings."""
    expect(part.get_by_label("Tightened", exact=True)).to_have_value("2")
    hands.write("Which wrench", "The small clicking one", part)
    hands.tap("2 tightened", part)
    expect(part).to_contain_text("within the specification")
    hands.tap("Paint mark on 2", part)
    expect(part).to_contain_text("2 of 2 on, 2 tight, 2 marked.")
