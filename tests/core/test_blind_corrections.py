"""Two people who fill in the same empty field without having seen each other's answer are in dispute over it."""

from typing import Any

import pytest
from machine_shop import Shop


def change(shop: Shop, part: str, value: int, **more: Any) -> None:
    answer = shop.act("change", {"thing": part, "type": "part", "values": {"along_millimetres": value}} | more)
    for entry in answer["result"]["entries"]:
        shop.write(**{name: entry[name] for name in entry if name not in ("id", "at", "strip", "by", "who")})


@pytest.mark.parametrize(
    ("saw", "disputed"),
    [
        ({"saw": {"along_millimetres": []}}, True),  # it was empty when the form was opened
        ({}, False),  # an older form, which did not say what it saw: as if it had seen all
        ({"saw": {"up_millimetres": []}}, False),  # said of another field
    ],
)
def test_what_was_seen_empty_is_not_overwritten_in_silence(saw: Any, disputed: bool) -> None:
    shop = Shop()
    part = shop.part("Mirror", 200.0)
    change(shop, part, 100)
    change(shop, part, 900, **saw)
    (shown,) = [each for each in shop.view("balance")["parts"] if each["part"] == part]
    assert shown["disputed"] is disputed
    assert len(shown["fields"]["along_millimetres"]["heads"]) == (2 if disputed else 1)
