"""The test vectors on CPython; tests/web runs the same ones in the page."""

from itertools import count

import pytest

from cotterbook.core import phone
from vectors.cases import all_cases, identifier, run


@pytest.mark.parametrize(("title", "case"), all_cases(), ids=lambda value: value if isinstance(value, str) else "")
def test_vector(title, case):
    numbers = count()
    run(case, phone.start(lambda: identifier(f"new {next(numbers)}")))
