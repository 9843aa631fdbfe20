"""A table of torques with heads and cells in any language of the pages: each column is told, each row taken."""

import pytest
from machine_shop import Shop
from test_specification_table import ASKED, checked

from cotterbook.core.specification_table import look_at_table
from cotterbook.core.torque_heads import CONDITIONS, ROLES, SIDES, plain, roles_by_word
from vectors.cases import identifier

# Each: what a manual's table may look like there (common practice, no source).
TABLES = {
    "de": "Bauteil;Seite;Gewinde;Drehmoment (Nm);Bemerkung;Handbuch Kapitel\nHalter;Links;M8;9 bis 12;geölt;7-2\n",
    "de, no side": "Baugruppe;Schraube;Anzugs-Drehmoment [kpm];Seite\nHalter;M8;1,2;7-2\n",
    "es": "Pieza;Lado;Rosca;Par de apriete (N·m);Máx.;Página\nHalter;izquierda;M8;9;12;7-2\n",
    "es, capitals": "PIEZA;LADO;DIÁMETRO;PAR;UNIDAD;ESTADO\nHalter;Izq.;M8;1 a 1,5;kgf·m;en seco\n",
    "hi": "पुर्ज़ा;तरफ़;चूड़ी;टॉर्क (N·m);पेज\nHalter;बायाँ;M8;९ से १२;7-2\n",
    "hi, without dots": "पुर्जा;तरफ;बोल्ट;कसाव;इकाई;स्थिति;मैनुअल\nHalter;बाएं;M8;9;N·m;तेल लगी;7\n",
    "en": "Part;Side;Thread;Torque (lbf ft);Max.;Remarks;Page\nHalter;left;M8;9;12;oiled;7-2\n",
}
LIKELY = {
    "de": ("part", "side", "thread", "torque", "torque_condition", "torque_page"),
    "de, no side": ("part", "thread", "torque", "torque_page"),
    "es": ("part", "side", "thread", "torque", "torque_high", "torque_page"),
    "es, capitals": ("part", "side", "thread", "torque", "unit", "torque_condition"),
    "hi": ("part", "side", "thread", "torque", "torque_page"),
    "hi, without dots": ("part", "side", "thread", "torque", "unit", "torque_condition", "torque_page"),
    "en": ("part", "side", "thread", "torque", "torque_high", "torque_condition", "torque_page"),
}
SAID = {
    "de": "9 – 12 N.m (Own book, 7-2)", "de, no side": "1,2 kgf.m (Own book, 7-2)", "es": "9 – 12 N.m (Own book, 7-2)",
    "es, capitals": "1 – 1,5 kgf.m (Own book)", "hi": "9 – 12 N.m (Own book, 7-2)",
    "hi, without dots": "9 N.m (Own book, 7)", "en": "9 – 12 lbf.ft (Own book, 7-2)",
}  # fmt: skip


@pytest.mark.parametrize("language", TABLES)
def test_the_columns_are_told_and_the_row_is_taken_in_every_language(language):
    shop = Shop()
    shop.put("part", identifier("@halter"), name="Halter", side="left", off=True)
    shop.put("group", identifier("@bolts"), part=identifier("@halter"), count=2, thread="M8")
    seen = look_at_table({"text": TABLES[language]})
    assert seen["heads"] and seen["likely"] == {name: n for n, name in enumerate(LIKELY[language])}
    columns = {name: str(column) for name, column in seen["likely"].items()}
    form = ASKED | {"delimiter": seen["delimiter"], "columns": columns}
    [row] = checked(shop, TABLES[language], **form)["rows"]
    assert (row["state"], row["torque"].translate(str.maketrans("९१२", "912"))) == ("fine", SAID[language])
    [entry] = shop.act("take_specifications", {"csv": TABLES[language]} | form)["result"]["entries"]
    wanted = {"de": "oiled", "es, capitals": "dry", "hi, without dots": "oiled", "en": "oiled"}.get(language)
    assert entry["values"].get("torque_condition") == wanted


def test_the_german_word_for_side_and_page_is_what_its_cells_say():
    def likely(text):
        return look_at_table({"text": text})["likely"]

    assert likely("Teil;Seite;Drehmoment;Seite\nA;links;x;7-2\nB;;x;3\n") == {
        "part": 0, "side": 1, "torque": 2, "torque_page": 3}  # fmt: skip
    assert likely("Teil;Seite;Drehmoment\nA;;x\n") == {"part": 0, "torque_page": 1, "torque": 2}


def test_no_word_says_two_things():
    words = [plain(word) for _, said in ROLES for word in said.split()]
    assert len(words) == len(set(words)) == len(roles_by_word())
    cells = [plain(word) for table in (SIDES, CONDITIONS) for said in table.values() for word in said.split(", ")]
    assert len(set(cells)) >= len(cells) - 3
