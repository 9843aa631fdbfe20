"""Line drawings of the demo's parts, drawn with Pillow: they stand in for photos."""

import io
import math

from PIL import Image, ImageDraw, ImageFont

WIDTH, HEIGHT = 1200, 900
# Drawn at twice the size and brought down, which smooths the lines.
SCALE = 2
PAPER, INK, FAINT, FILL, SHADE = "#f6f5f0", "#20262b", "#98a2a6", "#e3e7e6", "#c9d1d1"
Point = tuple[float, float]


class Sheet:
    """A sheet of paper with a frame, in units of its final pixels."""

    def __init__(self, label: str, note: str) -> None:
        self.image = Image.new("RGB", (WIDTH * SCALE, HEIGHT * SCALE), PAPER)
        self.draw = ImageDraw.Draw(self.image)
        self.box(24, 24, WIDTH - 24, HEIGHT - 24, fill=PAPER, radius=0, width=3)
        self.line([(24, 808), (WIDTH - 24, 808)], width=3)
        self.text((48, 848), label, 40)
        self.text((WIDTH - 48, 848), note, 28, anchor="rm")

    def text(self, at: Point, words: str, size: int, anchor: str = "lm") -> None:
        font = ImageFont.load_default(size * SCALE)
        self.draw.text((at[0] * SCALE, at[1] * SCALE), words, INK, font, anchor)

    def line(self, points: list[Point], width: float = 5, ink: str = INK) -> None:
        self.draw.line([(x * SCALE, y * SCALE) for x, y in points], ink, round(width * SCALE), "curve")

    def shape(self, points: list[Point], fill: str = FILL, width: float = 5) -> None:
        self.draw.polygon([(x * SCALE, y * SCALE) for x, y in points], fill)
        self.line([*points, points[0], points[1]], width)

    def box(self, x0: float, y0: float, x1: float, y1: float, fill: str = FILL, radius: float = 12,
            width: float = 5) -> None:
        corners = [x0 * SCALE, y0 * SCALE, x1 * SCALE, y1 * SCALE]
        self.draw.rounded_rectangle(corners, radius * SCALE, fill, INK, round(width * SCALE))

    def ring(self, x: float, y: float, radius: float, fill: str | None = FILL, width: float = 5) -> None:
        corners = [(x - radius) * SCALE, (y - radius) * SCALE, (x + radius) * SCALE, (y + radius) * SCALE]
        self.draw.ellipse(corners, fill, INK, round(width * SCALE))

    def bolt(self, x: float, y: float, radius: float = 16) -> None:
        """A bolt hole with its centre lines."""
        self.ring(x, y, radius, PAPER, 4)
        for dx, dy in ((radius * 1.9, 0), (0, radius * 1.9)):
            self.line([(x - dx, y - dy), (x + dx, y + dy)], 2, FAINT)

    def chain_line(self, start: Point, stop: Point, width: float = 3) -> None:
        """Long and short dashes: a centre line or a cut."""
        length = math.dist(start, stop)
        ux, uy = (stop[0] - start[0]) / length, (stop[1] - start[1]) / length
        at, dash = 0.0, 44
        while at < length:
            end = min(at + dash, length)
            self.line([(start[0] + ux * at, start[1] + uy * at), (start[0] + ux * end, start[1] + uy * end)], width)
            at, dash = end + 14, 56 - dash

    def tube(self, points: list[Point], diameter: float) -> None:
        for width, ink in ((diameter + 10, INK), (diameter, FILL)):
            self.line(points, width, ink)
            for x, y in points:
                r = width / 2
                self.draw.ellipse([(x - r) * SCALE, (y - r) * SCALE, (x + r) * SCALE, (y + r) * SCALE], ink)

    def jpeg(self) -> bytes:
        smooth = self.image.resize((WIDTH, HEIGHT), Image.Resampling.LANCZOS)
        kept = io.BytesIO()
        smooth.save(kept, "JPEG", quality=72, optimize=True)
        return kept.getvalue()


def curve(a: Point, b: Point, c: Point, d: Point, steps: int = 40) -> list[Point]:
    """A cubic Bezier curve as points."""
    points = []
    for i in range(steps + 1):
        t = i / steps
        weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t ** 3)
        points.append((sum(w * p[0] for w, p in zip(weights, (a, b, c, d), strict=True)),
                       sum(w * p[1] for w, p in zip(weights, (a, b, c, d), strict=True))))
    return points


def arc(x: float, y: float, radius: float, first: float, last: float, steps: int = 40) -> list[Point]:
    """Points on a circle; degrees, clockwise from the right as the screen shows it."""
    turns = [math.radians(first + (last - first) * i / steps) for i in range(steps + 1)]
    return [(x + radius * math.cos(turn), y + radius * math.sin(turn)) for turn in turns]


def seat(s: Sheet) -> None:
    top = curve((140, 430), (330, 330), (420, 480), (640, 430)) + curve((640, 430), (780, 330), (980, 330), (1070, 300))
    s.shape([*top, (1060, 400), (960, 500), (620, 560), (180, 540)])
    s.line(curve((160, 500), (400, 480), (700, 540), (1050, 370)), 3)
    s.box(240, 540, 330, 590, SHADE)
    s.bolt(880, 462)
    s.bolt(970, 420)


def side_panel(s: Sheet) -> None:
    s.shape([(250, 180), (820, 150), (980, 330), (720, 700), (420, 660), (240, 420)])
    s.line(curve((330, 250), (560, 220), (760, 230), (860, 330)), 3)
    s.line(curve((330, 420), (500, 560), (620, 600), (700, 610)), 3)
    for x, y in ((310, 240), (800, 210), (690, 640)):
        s.bolt(x, y)


def grab_rail(s: Sheet) -> None:
    s.tube([(260, 690), (260, 380), *arc(440, 380, 180, 180, 270)[1:], *arc(760, 380, 180, 270, 360), (940, 690)], 44)
    for x in (260, 940):
        s.box(x - 55, 560, x + 55, 740, SHADE)
        s.bolt(x, 605)
        s.bolt(x, 690)
    s.line([(205, 635), (315, 745)], 6)
    s.line([(315, 635), (205, 745)], 6)
    s.text((340, 690), "not found", 30)


def centre_stand(s: Sheet) -> None:
    s.tube([(330, 200), (280, 480), (160, 700)], 46)
    s.tube([(870, 200), (920, 480), (1040, 700)], 46)
    s.tube([(290, 440), (910, 440)], 34)
    for x in (330, 870):
        s.ring(x, 190, 62, SHADE)
        s.bolt(x, 190, 24)
    s.box(90, 700, 230, 735, SHADE)
    s.box(970, 700, 1110, 735, SHADE)
    s.chain_line((250, 190), (950, 190))


def fairing(s: Sheet) -> None:
    s.shape([*curve((380, 420), (430, 160), (770, 160), (820, 420))], PAPER)
    s.shape([(260, 420), (940, 420), (1000, 560), *curve((900, 700), (720, 770), (480, 770), (300, 700)), (200, 560)])
    s.ring(600, 590, 130, PAPER)
    s.line(curve((420, 420), (460, 200), (740, 200), (780, 420)), 2, FAINT)
    for x, y in ((300, 470), (900, 470), (270, 580), (930, 580)):
        s.bolt(x, y)


def headlamp(s: Sheet) -> None:
    s.ring(480, 410, 290, SHADE)
    s.ring(480, 410, 250, PAPER)
    for x in range(300, 680, 60):
        half = math.sqrt(250 ** 2 - (x - 480) ** 2) - 6
        s.line([(x, 410 - half), (x, 410 + half)], 2, FAINT)
    s.ring(480, 410, 60, FILL)
    s.bolt(178, 410)
    s.bolt(782, 410)
    s.line(curve((690, 610), (820, 720), (900, 500), (980, 600)), 10)
    s.box(965, 580, 1065, 650, SHADE)


def handlebar(s: Sheet) -> None:
    s.tube([(120, 330), (330, 300), (470, 480), (730, 480), (870, 300), (1080, 330)], 36)
    s.chain_line((600, 220), (600, 640))
    for x in (540, 660):
        s.box(x - 26, 440, x + 26, 520, SHADE)
    s.line([(120, 640), (1080, 640)], 3)
    s.text((600, 680), "680 mm", 32, "mm")


def handlebar_wide(s: Sheet) -> None:
    s.tube([(80, 260), (300, 250), (450, 500), (750, 500), (900, 250), (1120, 260)], 40)
    s.tube([(392, 402), (808, 402)], 20)
    for x in (530, 670):
        s.box(x - 34, 450, x + 34, 550, SHADE)
        s.ring(x, 475, 12, PAPER)
        s.ring(x, 525, 12, PAPER)
        s.line([(x - 20, 466), (x + 20, 484)], 6, "#b5532a")
        s.line([(x - 20, 516), (x + 20, 534)], 6, "#b5532a")
    s.line([(80, 660), (1120, 660)], 3)
    s.text((600, 700), "820 mm", 32, "mm")


def rear_mudguard(s: Sheet) -> None:
    outer, inner = arc(600, 760, 520, 195, 335), arc(600, 760, 455, 335, 195)
    s.shape([*outer, *inner])
    s.chain_line((900, 560), (1085, 380), 5)
    s.text((1100, 345), "cut here", 32, "mm")
    for degrees in (212, 232, 252, 272, 294):
        turn = math.radians(degrees)
        s.bolt(600 + 488 * math.cos(turn), 760 + 488 * math.sin(turn))


def silencer(s: Sheet) -> None:
    s.shape([(120, 480), (300, 440), (300, 540), (120, 520)], SHADE)
    s.shape([(300, 400), (960, 330), (1060, 360), (1060, 520), (960, 560), (300, 570)])
    s.line([(960, 330), (960, 560)], 3)
    s.box(240, 420, 290, 620, SHADE)
    s.bolt(265, 585, 13)
    s.shape([(600, 368), (740, 352), (720, 270), (630, 276)], SHADE)
    s.bolt(676, 306)
    s.ring(1060, 440, 34, PAPER)


def rear_unit(s: Sheet) -> None:
    s.box(180, 400, 620, 470, SHADE)
    s.box(600, 415, 960, 455, PAPER)
    for i in range(9):
        x = 300 + i * 66
        s.line([(x, 320), (x + 40, 550)], 22)
        s.line([(x, 320), (x + 40, 550)], 13, FILL)
    for x in (150, 1010):
        s.ring(x, 435, 62)
        s.bolt(x, 435, 26)
    s.box(860, 320, 890, 550, SHADE, 4)
    s.box(270, 320, 300, 550, SHADE, 4)


def mirror(s: Sheet) -> None:
    s.shape([*curve((420, 260), (480, 110), (960, 110), (1020, 300)),
             *curve((1020, 300), (960, 430), (500, 440), (420, 260))])
    s.line(curve((470, 270), (540, 160), (900, 160), (960, 290)), 3)
    s.tube(curve((700, 410), (680, 560), (480, 540), (420, 680)), 22)
    s.box(380, 660, 450, 760, SHADE)
    for y in range(690, 760, 16):
        s.line([(382, y), (448, y - 10)], 2)


def subframe(s: Sheet) -> None:
    s.tube([(180, 250), (1000, 250), (1000, 640), (180, 640), (180, 250)], 40)
    s.tube([(420, 250), (560, 640)], 34)
    s.tube([(1000, 250), (560, 640)], 34)
    for x, y in ((180, 250), (180, 640), (420, 250), (560, 640)):
        s.box(x - 52, y - 52, x + 52, y + 52, SHADE)
        s.bolt(x, y)
    for y in (250, 640):
        s.ring(1000, y, 58, SHADE)
        s.bolt(1000, y, 26)


def hive_plate(s: Sheet) -> None:
    s.box(240, 170, 960, 700, FILL, 30)
    for x in (300, 600, 900):
        for y in (230, 640):
            s.bolt(x, y, 18)
    for y in (370, 470):
        s.box(360, y, 840, y + 34, PAPER, 16)
    s.line([(240, 750), (960, 750)], 3)
    s.text((600, 778), "200 mm", 30, "mm")


DRAWINGS = {
    "seat": (seat, "Seat", "one piece, from the right"),
    "side_panel": (side_panel, "Side panel, left", "three screws"),
    "grab_rail": (grab_rail, "Grab rail", "from above"),
    "centre_stand": (centre_stand, "Centre stand", "from the rear"),
    "fairing": (fairing, "Handlebar fairing", "from the front"),
    "headlamp": (headlamp, "Headlamp", "from the front"),
    "handlebar": (handlebar, "Handlebar", "as it came off"),
    "handlebar_wide": (handlebar_wide, "Wide handlebar", "bolts marked"),
    "rear_mudguard": (rear_mudguard, "Rear mudguard", "from the left"),
    "silencer": (silencer, "Silencer, right", "clamp and hanger"),
    "rear_unit": (rear_unit, "Rear suspension unit", "one of two"),
    "mirror": (mirror, "Mirror", "one of two"),
    "subframe": (subframe, "Sidecar subframe", "from above"),
    "hive_plate": (hive_plate, "Plate for hive straps", "six holes"),
}


def jpeg(name: str) -> bytes:
    """The drawing of that name as JPEG, WIDTH by HEIGHT pixels."""
    draw, label, note = DRAWINGS[name]
    sheet = Sheet(label, note)
    draw(sheet)
    return sheet.jpeg()
