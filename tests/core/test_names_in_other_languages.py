"""Names of parts in German, Spanish and Hindi: read as the English ones are, and English ones as ever.

What the names mean: trade usage, common practice, no source.
"""

import ast
import json
import re
from pathlib import Path
from typing import Any

import pytest

from cotterbook.core.find_words import fold
from cotterbook.core.hangs_on import LIFE_NAMES, LOAD_NAMES, life_hangs_on, load_hangs_on
from cotterbook.core.limits import PLACES_ON_MACHINE
from cotterbook.core.ordinary_masses import ordinary_mass, words_of
from cotterbook.core.ordinary_parts import ORDINARY_PARTS
from cotterbook.core.part_kinds import (
    carries,
    carries_a_lamp,
    holds_a_line,
    is_wanted_on_the_road,
    keeps_stones_off_the_fork,
    may_open_a_system,
    opens_a_system,
    read_name,
    shines,
)
from cotterbook.core.part_names import in_english
from cotterbook.core.part_words_german import GERMAN_DOUBTFUL, GERMAN_FIRST, GERMAN_WORDS, bare, german_word
from cotterbook.core.part_words_hindi import HINDI_WORDS, spelt
from cotterbook.core.part_words_spanish import SPANISH_DOUBTFUL, SPANISH_WORDS, spanish_word

ROOT = Path(__file__).resolve().parents[2]
KINDS = (
    holds_a_line, shines, carries_a_lamp, carries, keeps_stones_off_the_fork, is_wanted_on_the_road, opens_a_system,
    may_open_a_system,
)  # fmt: skip
OFFERED = {
    code: json.loads((ROOT / "webui" / "languages" / f"{code}.json").read_text(encoding="utf-8"))
    for code in ("de", "es", "hi")
}


def facts(name: str, place: str) -> Any:
    """All that the rules find of a name: which ordinary parts it is, its kinds, its mass, what hangs on it."""
    english = in_english(name)
    read, part = read_name(english, place), {"name": name}
    hangs = (life_hangs_on(part, {}), load_hangs_on(part, {}))
    kinds = {kind.__name__ for kind in KINDS if kind(read)}
    return read["like"], read["unknown"], kinds, hangs, ordinary_mass(english, place)


@pytest.mark.parametrize("code", OFFERED)
@pytest.mark.parametrize("name", [name for name, _, _, _ in ORDINARY_PARTS])
def test_what_the_name_field_offers_is_read_as_the_same_part_in_each_language(name: str, code: str) -> None:
    for place in PLACES_ON_MACHINE:
        assert facts(OFFERED[code][name], place) == facts(name, place)
        assert facts(OFFERED[code][name].upper(), place) == facts(name, place)


# What is written, and the English name that it is read as.
GERMAN = {
    "Bremssattelhalter": "Brake caliper bracket", "Bremsschlauchhalter": "Brake hose bracket",
    "Bremsleitungshalter": "Brake line bracket", "Bremssättel": "Brake caliper",
    "Bremsscheiben vorn": "Brake disc front", "Bremsattelhalter": "Brake caliper bracket",
    "Brems-Sattel": "Brake caliper", "bremsscheibe hinten": "Brake disc rear", "Kühlerschläuche": "Coolant hose",
    "Kuehlerschlauch": "Coolant hose", "Kuhlerschlauch": "Coolant hose",
    "Halter für die Bremsleitung": "Bracket for brake line", "Halter der Bremsleitung": "Bracket of brake line",
    "Der Halter": "Bracket", "Schraube Bremssattel": "Screw of brake caliper", "Kabelführung": "Cable guide",
    "Kabelfuehrungen": "Cable guide", "Kupplungszughalter": "Clutch cable bracket",
    "Gaszugführung": "Throttle cable guide", "Seitenständerschalter": "Side stand switch",
    "SEITENSTAENDER": "Side stand", "Hauptständerfeder": "Centre stand spring",
    "Kettenschutz-Schraube": "Chain guard screw", "Gabelholme": "Fork leg", "Gabelfaltenbalg": "Fork gaiter",
    "Gabelsimmerringe": "Fork seal", "Ölfilter": "Oil filter", "Oelfilterdeckel": "Oil filter cover",
    "Ölwanne": "Oil pan", "Ölablaßschraube": "Oil drain plug", "Ölablassschraube": "Oil drain plug",
    "Ölablasschraube": "Oil drain plug", "Hinterradschwinge": "Swing arm", "Hinterradachse": "Rear axle",
    "Vorderradkotflügel": "Front wheel mudguard", "Vorderer Kotflügel": "Front mudguard",
    "linker Blinker": "left indicator", "Blinker links": "indicator left", "Rückspiegel": "Mirror",
    "Spiegel mit Halter": "Mirror for bracket", "Tachohalter": "Speedometer bracket", "Nummernschild": "Number plate",
    "Auspuffkrümmer": "Exhaust header", "Auspuffhalterung": "Exhaust bracket", "Rahmenheck": "Subframe",
    "Motorhalterung": "Engine mount", "Motor": "Engine", "Benzinschlauch": "Fuel hose", "Benzinhahn": "Fuel tap",
    "Vergaser": "Carburettor", "Fußrasten": "Footrest", "Fussraste": "Footrest",
    "Sozius-Haltegriff": "Passenger grab rail", "Scheinwerfermaske": "Headlamp mask",
    "Zylinderkopfdichtung": "Cylinder head gasket", "Batterie": "Battery", "Lichtmaschinendeckel": "Alternator cover",
    "Ausgleichsbehälter": "Expansion tank", "Sitzbankhalter": "Seat bracket", "Kabelbinder": "Cable tie",
    "Scheinwerferring": "Headlamp rim", "Motorblock": "Engine block",
    "Kettenspanner": "Chain adjuster", "Seitendeckel re.": "Side panel right", "Rad": "Wheel", "Achsmutter": "Axle nut",
}  # fmt: skip
SPANISH = {
    "guía de latiguillo de freno": "Brake hose guide", "Guia del latiguillo de freno": "Brake hose guide",
    "Latiguillos de freno delanteros": "Front brake hose", "Pinzas de freno delanteras": "Front brake caliper",
    "PINZA DE FRENO TRASERA": "Rear brake caliper", "Soporte de la pinza de freno": "Brake caliper bracket",
    "Pastillas de freno": "Brake pad", "Bomba de freno": "Brake master cylinder",
    "Bomba de embrague": "Clutch master cylinder", "Depósito de líquido de frenos": "Brake fluid reservoir",
    "Soporte para faro": "Headlamp bracket", "Soporte faro": "Headlamp bracket", "Faros delanteros": "Front headlamp",
    "Faros antiniebla": "Foglamp", "Piloto trasero": "Tail lamp", "Luces traseras": "Tail lamp",
    "Intermitente izquierdo": "Left indicator", "Luz de freno": "Brake lamp",
    "Portamatrículas": "Number plate bracket", "Placa de matrícula": "Number plate", "Matrícula": "Number plate",
    "Retrovisor derecho": "Right mirror", "Espejos retrovisores": "Mirror", "Guardabarros": "Mudguard",
    "Salpicadera trasera": "Rear mudguard", "Manguera del radiador": "Radiator hose",
    "Manguito superior del radiador": "Radiator upper hose", "Radiador de aceite": "Oil cooler",
    "Tapón de vaciado de aceite": "Oil drain plug", "Filtro de aceite": "Oil filter",
    "Filtro de gasolina": "Fuel filter", "Grifo de gasolina": "Fuel tap", "Depósito": "Tank",
    "Tapa del depósito": "Tank cap", "Cable del embrague": "Clutch cable", "Cable embrague": "Clutch cable",
    "Puño de gas": "Throttle grip", "Guía del cable del acelerador": "Throttle cable guide",
    "Barras de horquilla": "Fork leg", "Retenes de horquilla": "Fork seal", "Fuelle de la horquilla": "Fork gaiter",
    "Amortiguadores traseros": "Rear shock absorber", "Bieletas": "Linkage", "Pata de cabra": "Side stand",
    "Subchasis": "Subframe", "Motor": "Engine", "Tornillo de la tapa del motor": "Crankcase cover screw",
    "Culata": "Cylinder head", "Carburadores": "Carburettor", "Escape completo": "Assembly exhaust",
    "Escape": "Exhaust",
    "Soporte del escape": "Exhaust bracket", "Estriberas del acompañante": "Passenger footrest",
    "Reposapiés": "Footrest", "Maletas laterales": "Side pannier", "Brida de plástico": "Cable tie",
    "Vaso de expansión": "Expansion tank", "Cúpula": "Windscreen", "Tuerca del eje trasero": "Rear axle nut",
    "Espejo con soporte": "Bracket mirror",
}  # fmt: skip
HINDI = {
    "ब्रेक होज़ का गाइड": "Brake hose guide", "ब्रेक होज गाइड": "Brake hose guide",
    "ब्रेक लाइन के लिए क्लिप": "Brake line clip", "ब्रेक कैलीपर": "Brake caliper",
    "आगे का ब्रेक कैलिपर": "Front brake caliper", "पीछे वाला पहिया": "Rear wheel",
    "आगे का पहिया": "Front wheel", "अगला व्हील": "Front wheel",
    "मास्टर सिलेंडर": "Master cylinder", "ब्रेक पैड": "Brake pad", "डिस्क प्लेट": "Disc",
    "ब्रेक शू": "Brake shoe", "क्लच की केबल": "Clutch cable", "क्लच का तार": "Clutch wire",
    "गियर लीवर": "Gear lever", "इंजन": "Engine", "इन्जन": "Engine", "इंजन गार्ड": "Sump guard",
    "तेल फ़िल्टर": "Oil filter", "ऑयल फिल्टर": "Oil filter", "आयल फिल्टर": "Oil filter",
    "ड्रेन प्लग": "Drain plug", "एयर फिल्टर": "Air filter", "कार्बोरेटर": "Carburettor",
    "पेट्रोल टंकी": "Fuel tank", "पेट्रोल की टंकी": "Fuel tank", "टंकी का ढक्कन": "Tank lid",
    "पेट्रोल पाइप": "Fuel pipe", "साइलेन्सर": "Silencer",
    "साइलेंसर का ब्रैकेट": "Silencer bracket", "रेडिएटर होज़": "Radiator hose",
    "कूलेंट बोतल": "Coolant bottle", "पानी का पंप": "Water pump", "फोर्क सील": "Fork seal",
    "फ़ोर्क लेग": "Fork leg", "फोर्क बूट": "Fork boot", "पिछला शॉकर": "Rear shock absorber",
    "चेन कवर": "Chain cover", "पिछली गरारी": "Rear sprocket", "हैंडल": "Handlebar",
    "बायाँ शीशा": "Left mirror", "दायाँ मिरर": "Right mirror", "हॉर्न": "Horn", "हार्न": "Horn",
    "हेडलैम्प": "Headlamp", "हेड लाइट": "Headlamp", "पीछे की बत्ती": "Rear lamp",
    "इंडिकेटर": "Indicator", "नम्बर प्लेट": "Number plate",
    "नंबर प्लेट होल्डर": "Number plate bracket", "सीट": "Seat", "सीट का ताला": "Seat lock",
    "साइड स्टैण्ड": "Side stand", "मडगार्ड": "Mudguard", "लेग गार्ड": "Crash bar",
    "बोल्ट": "Bolt", "वायर क्लिप": "Wire clip",
}  # fmt: skip


@pytest.mark.parametrize(("written", "english"), [pair for table in (GERMAN, SPANISH, HINDI) for pair in table.items()])
def test_names_as_people_write_them(written: str, english: str) -> None:
    assert [words_of(each) for each in in_english(written).split(",")] == [
        words_of(each) for each in english.split(",")
    ]
    for place in PLACES_ON_MACHINE:
        assert facts(written, place)[:3] == facts(english, place)[:3]


def test_there_are_fifty_of_each() -> None:
    assert min(len(GERMAN), len(SPANISH), len(HINDI)) >= 50


@pytest.mark.parametrize(
    ("written", "not_this"),
    [
        ("Sitzbankhalter", "Seat"), ("Bremsscheibenschraube", "Brake disc, front"), ("Tankdeckel", "Fuel tank"),
        ("Lenkerschraube", "Handlebar"), ("Unterlegscheibe", "Brake disc, front"), ("Kettenblattschraube", "Chain"),
        ("Tapa del depósito", "Fuel tank"), ("Tornillo del asiento", "Seat"), ("Radiador de aceite", "Radiator"),
        ("Amortiguador de dirección", "Rear shock absorber"), ("Arandela del disco", "Brake disc, front"),
        ("Brida de plástico", "Handlebar clamp"), ("सीट का बोल्ट", "Seat"), ("टंकी का ढक्कन", "Fuel tank"),
        ("शीशे का नट", "Mirrors"), ("चेन का बोल्ट", "Chain"),
    ],
)  # fmt: skip
def test_what_is_of_a_part_is_not_the_part(written: str, not_this: str) -> None:
    assert not_this not in facts(written, "other")[0]


@pytest.mark.parametrize(
    "english",
    [
        # Each has a word that German or Spanish knows as another.
        "Rad guard", "Rad hose", "Superior brake parts", "Lateral brace",
        "Starter motor", "Wiper motor", "Gas tank", "Gas line", "Chain links", "Sidecar links", "Base gasket", "Tape",
        "Radio", "Radio bracket", "Die cast bracket", "Front hand guard", "Rubber band", "Band", "Case", "Main stand",
        "Set",
               "Alt plate", "Media panel", "Aluminium bracket", "Café racer seat", "Rider’s footrests", "Seat – rear",
        "Clutch cover, 8 × M6", "Bracket (left)", "", "   ", "#7",
    ],
)  # fmt: skip
def test_an_english_name_is_read_as_ever(english: str) -> None:
    assert [each.split() for each in _words(in_english(english))] == [each.split() for each in _words(english)]


def _words(name: str) -> list[str]:
    # A letter with its mark is one without for the phone's Python, which has no other way to see it.
    return [" ".join(words_of(part.replace("é", "e"))) for part in name.split(",")]


# Names in the tests that are no English ones, or are read by nobody as a part.
FOREIGN = (
    "ausgleichsbehaelter", "batterie", "bremssattel", "bremsträger", "escape", "faltenbalg", "fuelle", "fussraste",
    "halterung", "kabelhalter", "kennzeichenhalter", "lampenhalter", "motor", "quertraeger", "schlauch", "sitz",
    "sitzbank", "soporte", "soporte de faro", "vorderrad", "zwischenhalter", "ölfilter",
)  # fmt: skip


def test_all_english_names_that_there_are_stay_as_they_are() -> None:
    entries = (ROOT / "demo_data" / "entries.jsonl").read_text(encoding="utf-8").splitlines()
    values = [json.loads(line).get("values") or {} for line in entries]
    names = {each["name"] for each in values if isinstance(each.get("name"), str)}
    names |= {name for name, _, _, _ in ORDINARY_PARTS}
    for vectors in ("apart", "mass", "open_items", "slips", "tally", "way_back"):
        text = (ROOT / "tests" / "vectors" / f"{vectors}.json").read_text(encoding="utf-8")
        names |= set(re.findall(r'"name": "([ -~]+?)"', text))
    for test in ("test_follows_by_name.py", "test_ordinary_masses.py", "test_hangs_on.py", "test_replaced_laws.py"):
        for node in ast.walk(ast.parse((ROOT / "tests" / "core" / test).read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value.isascii():
                names |= {each.strip() for each in node.value.split(",") if len(each) < 40}
    assert len(names) > 600
    assert [name for name in sorted(names) if name.casefold() not in FOREIGN and in_english(name) != name] == []


def test_no_name_is_anything_but_a_name() -> None:
    assert in_english(None) is None
    assert in_english(7) == 7
    for name in ("\ud83d", "half \ud83d", "🔧", "x" * 5_000, "de " * 200, "rad" * 200, "\x00", "руль"):
        assert isinstance(in_english(name), str)
    assert words_of(in_english("Seat руль")) == ["seat", "unread"]


@pytest.mark.parametrize(
    ("table", "parted_by"), [(GERMAN_WORDS, None), (SPANISH_WORDS, ","), (HINDI_WORDS, ",")], ids=("de", "es", "hi")
)
def test_tables_hold_each_word_once_and_as_it_is_looked_for(table: dict[str, str], parted_by: Any) -> None:
    words = [(each.strip(), english) for english, others in table.items() for each in others.split(parted_by)]
    seen: dict[str, str] = {}
    for word, english in words:
        looked_for = spelt(fold(word)) if table is HINDI_WORDS else word
        assert word and seen.setdefault(looked_for, english) == english, word
        if table is not HINDI_WORDS:
            assert fold(word) == word
            assert table is not GERMAN_WORDS or bare(word) == word
            assert word not in LIFE_NAMES + LOAD_NAMES or english == word
    assert [english for english in table if not english.isascii() or english != english.lower()] == []


def test_each_word_said_of_a_language_is_one_of_its_table() -> None:
    assert [word for word in GERMAN_FIRST + GERMAN_DOUBTFUL if german_word(word) is None] == []
    assert [word for word in SPANISH_DOUBTFUL if spanish_word(word) is None] == []
