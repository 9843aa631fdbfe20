"""What people call the columns of a table of torques, and what stands in its cells, in each language of the pages.

Words are compared without case and accents, "Größe" as "grosse" and "pág." as "pag" (common practice, no source). All
languages hold at once: a manual may be in another one than the pages.
"""

from typing import Any

from .find_words import is_mark
from .second_check import same_name

# What a column may be, each with words of its head; an earlier one is looked for first.
ROLES = (
    ("part", "part component item where assembly teil teile bauteil bauteile baugruppe komponente "
             "pieza piezas componente parte conjunto पुर्ज़ा पुर्ज़े भाग पार्ट हिस्सा"),
    ("side", "side fahrzeugseite lado ओर तरफ़ साइड"),
    ("thread", "thread size bolt diameter gewinde größe groesse gewindegröße schraube durchmesser abmessung maß "
               "rosca tamaño medida tornillo perno diámetro चूड़ी थ्रेड बोल्ट साइज़ आकार व्यास"),
    ("sits", "sits position fastener fasteners description name lage sitz befestigung befestigungen beschreibung "
             "bezeichnung verschraubung posición ubicación lugar descripción nombre fijación "
             "स्थान जगह विवरण नाम फ़ास्टनर"),
    ("torque", "torque nm n·m n.m value tightening drehmoment anzugsmoment anzugsdrehmoment anziehmoment "
               "anziehdrehmoment moment par apriete momento टॉर्क कसाव बलाघूर्ण"),
    ("torque_high", "max maximum to up high maximal höchstens bis obergrenze máximo hasta अधिकतम तक"),
    ("torque_tolerance", "tolerance ± plus toleranz tolerancia टॉलरेंस सहनशीलता"),
    ("unit", "unit units einheit einheiten unidad unidades इकाई यूनिट"),
    ("torque_angle", "angle degrees ° winkel drehwinkel grad ángulo grados कोण डिग्री"),
    ("torque_condition", "condition threads lubrication remarks remark zustand gewindezustand schmierung bemerkung "
                         "bemerkungen hinweis anmerkung estado condición roscas lubricación observaciones notas "
                         "चूड़ियाँ स्थिति चिकनाई टिप्पणी"),
    ("torque_page", "page source manual chapter quelle handbuch kapitel página pág fuente capítulo "
                    "पेज पृष्ठ मैनुअल स्रोत अध्याय"),
)  # fmt: skip
NAMES = tuple([name for name, _ in ROLES])
# One word for a side and for a page: which of the two, its cells say.
SIDE_OR_PAGE = ("seite",)
SIDES = {
    "left": "left, l, links, izquierda, izquierdo, izq, बायाँ, बायां, बाएँ, बाएं, बाईं",
    "right": "right, r, rechts, derecha, derecho, der, दायाँ, दायां, दाएँ, दाएं, दाईं",
    "both": "both, both sides, beide, beide seiten, beidseitig, ambos, ambas, ambos lados, दोनों, दोनों तरफ़, दोनों ओर",
    "middle": "middle, mitte, mittig, centro, medio, en medio, बीच, बीच में, मध्य",
}
CONDITIONS = {
    "dry": "dry, trocken, seco, seca, en seco, सूखा, सूखी",
    "oiled": "oiled, oil, geölt, öl, mit öl, aceitado, aceite, con aceite, तेल, तेल लगा, तेल लगी",
    "locking_compound": "locking compound, thread lock, threadlock, schraubensicherung, fijador, fijador de roscas, "
                        "fijarroscas, लॉकिंग कंपाउंड, थ्रेड लॉक",
}  # fmt: skip
# What parts the words of a head.
BETWEEN = "()[]_,;:/-"


def plain(text: Any) -> str:
    """A word by which it is compared."""
    return "".join([letter for letter in same_name(text) if not is_mark(letter)])


# Each word's code, once somebody has asked.
_CODES: dict[str, str] = {}


def side_of(cell: Any) -> Any:
    """The code of the side that a cell says; None for anything else."""
    return _code(SIDES, cell)


def condition_of(cell: Any) -> Any:
    """The code of how a cell says that a thread is; None for anything else."""
    return _code(CONDITIONS, cell)


def _code(words: dict[str, str], cell: Any) -> Any:
    if not _CODES:
        for table in (SIDES, CONDITIONS):
            for code in table:
                _CODES.update({plain(each): code for each in table[code].split(", ")})
    found = _CODES.get(plain(cell).strip("."))
    return found if found in words else None


def words_of_head(head: Any) -> list[str]:
    """The words of a head as they are compared."""
    said = plain("".join([" " if letter in BETWEEN else letter for letter in str(head)]))
    return [each for each in [word.strip(".") for word in said.split()] if each]


def roles_by_word() -> dict[str, str]:
    """What each word says that its column is."""
    return {plain(word): name for name, words in ROLES for word in words.split()}
