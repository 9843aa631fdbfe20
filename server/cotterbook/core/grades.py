"""Property classes of bolts: what steel of a grade bears at least, in MPa."""

from typing import Any

from .figures import plain_digits

# Class: tensile strength, 0.2 % yield, proof stress, all minimum; then the same above 16 mm where they differ.
# ISO 898-1 table 3. Seen: proof of 4.8, 5.8, 10.9 and 12.9, yield of 8.8, 10.9 and 12.9; the rest from memory.
STEEL = {
    "4.6": ((400, 240, 225), None),
    "4.8": ((420, 340, 310), None),
    "5.6": ((500, 300, 280), None),
    "5.8": ((520, 420, 380), None),
    "6.8": ((600, 480, 440), None),
    "8.8": ((800, 640, 580), (830, 660, 600)),
    "9.8": ((900, 720, 650), None),
    "10.9": ((1040, 940, 830), None),
    "12.9": ((1220, 1100, 970), None),
}
THICK = 16.0
# Class of stainless bolts: tensile strength and 0.2 % yield (ISO 3506-1; 50, 70 and 80 seen). It has no proof stress.
STAINLESS = {"50": (500, 210), "70": (700, 450), "80": (800, 600)}
STAINLESS_STEELS = ("A1", "A2", "A3", "A4", "A5")
# SAE J429, 1/4 to 1/2 inch, from memory: 74, 57, 55; 120, 92, 85; 150, 130, 120 ksi at 6.894757 MPa.
SAE = {"2": (510, 393, 379), "5": (827, 634, 586), "8": (1034, 896, 827)}


class Grade:
    """What a grade bears at least, in MPa: `tensile`, `yield_stress` (Rp0.2) and `proof` (None where none is given).

    Up to 16 mm of diameter; `of` gives the grade at another.
    """

    __slots__ = ("name", "tensile", "yield_stress", "proof", "stainless", "source", "_above")

    def __init__(self, name: str, figures: Any, source: str, stainless: bool = False, above: Any = None):
        self.name, self.source, self.stainless = name, source, stainless
        self.tensile: float = float(figures[0])
        self.yield_stress: float = float(figures[1])
        self.proof: Any = float(figures[2]) if len(figures) > 2 else None
        self._above = above

    def of(self, diameter: float) -> "Grade":
        """The grade in a bolt of this nominal diameter in mm."""
        if self._above is None or diameter <= THICK:
            return self
        return Grade(self.name, self._above, self.source)


def read_grade(text: Any) -> Any:
    """The grade that somebody read off a head, or None where it is unknown or says too little.

    "8.8", "10,9", "class 12.9", "A2-70", "a4 80", "SAE grade 5". Not "A2" (50, 70 or 80?),
    nor "8" or "10" (a nut's, or an old marking of a bolt's head).
    """
    if not isinstance(text, str) or len(text) > 20:
        return None
    plain = plain_digits(text.strip().lower()).replace(",", ".")
    for word in ("property", "class", "iso", "stainless", "inox"):
        plain = plain.replace(word, " ")
    plain = plain.strip()
    if plain in STEEL:
        return Grade(plain, STEEL[plain][0], "ISO 898-1", above=STEEL[plain][1])
    bare = "".join([c for c in plain if c not in " -–_"]).upper()
    steel, strength = bare[:2], bare[2:]
    if steel in STAINLESS_STEELS and strength in STAINLESS:
        return Grade(steel + "-" + strength, STAINLESS[strength], "ISO 3506-1", stainless=True)
    for before in ("SAEGRADE", "GRADE", "SAE"):
        if bare.startswith(before) and bare[len(before) :] in SAE:
            return Grade("SAE " + bare[len(before) :], SAE[bare[len(before) :]], "SAE J429, from memory")
    return None
