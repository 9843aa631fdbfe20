"""Phones with a server of their own, for tests that look at what is stored and sent."""

import pytest

from web.phone import Phone


@pytest.fixture
def phone(chromium, server):
    phone = Phone(chromium, server.url)
    yield phone
    phone.close()


@pytest.fixture
def second_phone(chromium, server):
    phone = Phone(chromium, server.url)
    yield phone
    phone.close()
